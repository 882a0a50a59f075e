import type { LocalDate } from '../../shared/time/localDate.ts';
import { believedGallons } from '../unit/control.ts';
import { Chance, STREAM } from './chance.ts';
import { type Confounders, drawConfounders } from './confounders.ts';
import { SimulationError } from './errors.ts';
import { assignFaults, type FaultMix } from './faultMix.ts';
import { type FaultName, type FaultPlan, faultNamed } from './faults.ts';
import { inventHousehold } from './household.ts';
import { drawProfile, REGION_NAMES, type UnitProfile } from './profile.ts';
import { STALLS } from './stalls.ts';
import { type DoseDeviation, drawTrueDose, type TrueDose } from './trueDose.ts';
import { liveAgain, SHORTEST_SERIES_DAYS, type UsageSeries } from './usageSeries.ts';
import { emptied, movedTo, type Span, typicalGallons, type WaterUse } from './waterUse.ts';

/** Everything that is settled about one unit before its days are lived through. */
export interface UnitPlan {
  readonly profile: UnitProfile;
  readonly use: WaterUse;
  readonly fault: FaultPlan | undefined;
  readonly confounders: Confounders;
  /** Days on which nothing of the unit arrives, since the carrier of its region is down; it comes after them. */
  readonly outage: Span | undefined;
  /** How what it truly draws differs from the dose on record; without it, not at all. */
  readonly trueDose?: TrueDose | undefined;
  readonly start: LocalDate;
  readonly days: number;
  /** What the chance of its days hangs on. */
  readonly seed: readonly [fleet: number, unit: number];
}

/** A fleet to simulate. */
export interface FleetOptions {
  readonly units: number;
  readonly days: number;
  readonly start: LocalDate;
  /** From 0 to 2^32 - 1. */
  readonly seed: number;
  readonly faults: FaultMix;
  /** Real homes to live again, in turn; without any the households are invented. */
  readonly usage?: readonly UsageSeries[] | undefined;
  /** A region whose carrier is down for 2 to 5 days in the middle third of the simulation. */
  readonly outage?: string | undefined;
  /** Share of the units, 0 to 1, whose tank has a level sensor; by default as the fleet has them. */
  readonly levelSensors?: number | undefined;
  /** How true doses differ from those on record; by default not at all. */
  readonly doses?: DoseDeviation | undefined;
}

/**
 * Plans a fleet, the same for the same options. A unit's household, softener and fault each have a stream of chance of
 * their own, so the same unit of a fleet with other faults is the same household with the same softener.
 *
 * @throws SimulationError `usage-too-short` where real homes are asked for and none has days enough; `region-unknown`
 *   where the carrier of a region is to be down that is none
 */
export function planFleet(options: FleetOptions): UnitPlan[] {
  if (options.usage?.length === 0) {
    throw new SimulationError(
      'usage-too-short',
      `none of the meters has ${SHORTEST_SERIES_DAYS} days of use`,
      'Give longer series, or none for invented homes.',
    );
  }
  const down = drawOutage(options);
  const chance = new Chance(options.seed, STREAM.fleet);
  const faults = chance.shuffled(assignFaults(options.faults, options.units));
  return faults.map((fault, index) => planUnit(options, index, fault, down));
}

function planUnit(
  { seed, start, days, usage, outage, levelSensors, doses }: FleetOptions,
  index: number,
  name: FaultName | undefined,
  down: Span,
): UnitPlan {
  const stream = (of: number) => new Chance(seed, of, index);
  const household = (home: number, chance: Chance) => {
    const series = usage?.[home % usage.length];
    return series ? liveAgain(series, start, days, chance) : inventHousehold(start, days, chance);
  };
  const confounders = drawConfounders(days, stream(STREAM.confounders));
  const first = household(index, stream(STREAM.household));
  const { moved } = confounders;
  const use = moved ? movedTo(first, household(index + 1, stream(STREAM.newHome)), moved) : first;
  const typical = Math.max(20, typicalGallons(use));
  const drawn = drawProfile(
    index + 1,
    { typicalGallons: typical, occupants: use.occupants },
    start,
    stream(STREAM.unit),
  );
  const profile = levelSensors === undefined ? drawn : sensed(drawn, stream(STREAM.senses), levelSensors);
  const plan = {
    ...{ profile, use, fault: undefined, confounders, start, days, seed: [seed, index] as const },
    outage: outage === profile.region ? down : undefined,
    ...(doses && { trueDose: drawTrueDose(doses, seed, stream(STREAM.trueDose)) }),
  };
  return name ? withFault(plan, name, stream(STREAM.fault)) : plan;
}

/** The same unit, with a level sensor or without as chance has it. */
function sensed(profile: UnitProfile, chance: Chance, share: number): UnitProfile {
  const others = profile.senses.filter((sense) => sense !== 'salt-level');
  return { ...profile, senses: chance.happens(share) ? ['salt-level', ...others] : others };
}

/** When the carrier of a region is down, if that of one is to be. */
function drawOutage({ seed, days, outage }: FleetOptions): Span {
  if (outage !== undefined && !REGION_NAMES.includes(outage)) {
    throw new SimulationError(
      'region-unknown',
      `"${outage}" is no region`,
      `Give one of ${REGION_NAMES.join(', ')}.`,
    );
  }
  const chance = new Chance(seed, STREAM.outage);
  const first = chance.whole(Math.floor(days / 3), Math.floor((2 * days) / 3));
  return { first, last: Math.min(days - 1, first + chance.whole(1, 4)) };
}

/** Plans a fault into a sound unit, on a chance day. */
function withFault(plan: UnitPlan, name: FaultName, chance: Chance): UnitPlan {
  const { days, profile, use } = plan;
  const earliest = Math.min(STALLS.soundDays, Math.floor(days / 3));
  const day = chance.whole(earliest, Math.max(earliest, days - STALLS.daysToShow));
  const within = ({ least, most }: { least: number; most: number }) => chance.whole(least, most);
  const fault: FaultPlan = {
    name,
    strength: chance.uniform(),
    begins: { day, hour: faultNamed(name).by === 'hand' ? chance.whole(8, 19) : 0 },
    mendedAfterDays: chance.happens(STALLS.mended) ? within(STALLS.mendedAfter) : undefined,
    dwindlingDays:
      name === 'meter-stalled' && chance.happens(STALLS.dwindles) ? within(STALLS.dwindlingDays) : 0,
  };
  switch (name) {
    case 'meter-stalled': {
      // A stall behind an absence is the hard one: the household is away already when the meter stops.
      const away = { first: day - within(STALLS.awayBefore), last: day + within(STALLS.awayAfter) };
      return { ...plan, fault, use: chance.happens(STALLS.behindAbsence) ? emptied(use, away) : use };
    }
    case 'tank-empty': {
      const lbADay = (profile.saltDoseLb * profile.typicalGallons) / believedGallons(profile.programmed);
      const tankLb = profile.saltTankLb ?? profile.saltAtStartLb;
      // Where even a full tank lasts for a few weeks only, the household gives up refilling on the day.
      if (tankLb < STALLS.soundDays * lbADay) return { ...plan, fault };
      // Elsewhere it never refills, and what is in the tank at the start is measured out to last until about the day.
      const saltAtStartLb = Math.min(tankLb, day * lbADay + chance.uniform() * profile.saltDoseLb);
      return {
        ...plan,
        fault: { ...fault, begins: { day: 0, hour: 0 } },
        profile: { ...profile, saltAtStartLb },
      };
    }
    default:
      return { ...plan, fault };
  }
}
