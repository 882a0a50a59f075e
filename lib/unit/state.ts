import type { Programmed, Unit } from '../../shared/registry.ts';
import type { Instant } from '../../shared/time/instant.ts';
import type { LocalDate } from '../../shared/time/localDate.ts';
import { type AbsenceRecord, copyAbsenceRecord, newAbsenceRecord } from '../demand/absence.ts';
import { holidaysOf } from '../demand/holidays.ts';
import { type Household, newHousehold } from '../demand/household.ts';
import { copyMonth, type MonthAccount, newMonth } from '../salt/monthAccount.ts';
import { type Bed, copyBed, freshBed } from './bed.ts';
import { type BrineDraw, copyBrineDraw, newBrineDraw } from './brineDraw.ts';
import { type ControlCount, copyCount, newCount } from './controlCount.ts';
import type { FoldRules } from './foldRules.ts';
import { hardnessOfWater } from './hardnessOfWater.ts';
import { copyMemories, type Memories, newMemories } from './memory/memories.ts';
import { copyRegistration, newRegistration, type Registration } from './registration.ts';
import { copyTankLevel, newTankLevel, type TankLevel } from './tankLevel.ts';

/** All that is kept of one unit: plain data, of a size that does not grow with its history. */
export interface UnitState {
  /** The last local day in the ledger, reported or imputed. */
  lastDate: LocalDate | null;
  /** The last local day that was reported. */
  lastReported: LocalDate | null;
  programmed: Programmed;
  /** Set-up mode: the control does not regenerate by itself. */
  inService: boolean;
  rawHardnessGpg: number;
  /** What each gallon takes from the bed. */
  compensatedHardnessGpg: number;
  bed: Bed;
  count: ControlCount;
  tank: TankLevel;
  draw: BrineDraw;
  household: Household;
  absence: AbsenceRecord;
  registration: Registration;
  /** The household's latest word on when it is away and when it was there. */
  away: Period | null;
  atHome: Period | null;
  /** When the household was last asked whether it is away, and has not answered since. */
  askedAt: Instant | null;
  lastVisit: Instant | null;
  lastRegeneration: Instant | null;
  /** The local date of that. */
  regeneratedOn: LocalDate | null;
  month: MonthAccount;
  memories: Memories;
}

/** A stretch of local days, both ends in it. */
export interface Period {
  from: LocalDate;
  to: LocalDate;
}

/** A unit as the registry describes it, before its first event: the bed is taken for freshly regenerated. */
export function newUnitState(unit: Unit, rules: FoldRules): UnitState {
  return {
    lastDate: null,
    lastReported: null,
    programmed: unit.programmed,
    inService: true,
    rawHardnessGpg: unit.hardnessGpg,
    compensatedHardnessGpg: hardnessOfWater(unit.hardnessGpg, unit.ironMgPerL, rules),
    bed: freshBed(unit.resinCubicFeet, unit.saltDoseLb, unit.alternating),
    count: newCount(),
    tank: newTankLevel(),
    draw: newBrineDraw(unit.saltDoseLb, rules.draw),
    household: newHousehold(rules.demand.prior, holidaysOf(rules.demand, unit.region)),
    absence: newAbsenceRecord(),
    registration: newRegistration(),
    away: null,
    atHome: null,
    askedAt: null,
    lastVisit: null,
    lastRegeneration: null,
    regeneratedOn: null,
    month: newMonth(unit.installedOn, unit, unit.saltDoseLb),
    memories: newMemories(unit),
  };
}

/** A copy that shares nothing that a fold writes to. */
export function copyState(state: UnitState): UnitState {
  return {
    lastDate: state.lastDate,
    lastReported: state.lastReported,
    programmed: state.programmed,
    inService: state.inService,
    rawHardnessGpg: state.rawHardnessGpg,
    compensatedHardnessGpg: state.compensatedHardnessGpg,
    bed: copyBed(state.bed),
    count: copyCount(state.count),
    tank: copyTankLevel(state.tank),
    draw: copyBrineDraw(state.draw),
    household: state.household,
    absence: copyAbsenceRecord(state.absence),
    registration: copyRegistration(state.registration),
    away: state.away,
    atHome: state.atHome,
    askedAt: state.askedAt,
    lastVisit: state.lastVisit,
    lastRegeneration: state.lastRegeneration,
    regeneratedOn: state.regeneratedOn,
    month: copyMonth(state.month),
    memories: copyMemories(state.memories),
  };
}
