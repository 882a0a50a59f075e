import * as z from 'zod';
import { ALERT_KINDS, SEVERITIES } from '../../shared/alerts.ts';
import { idSchema } from '../../shared/ids.ts';
import { recordOf } from '../../shared/records.ts';
import { formatLocalDate, weekdayOf } from '../../shared/time/localDate.ts';
import { CHANGES, MOVES } from './compare.ts';
import { type TrialRow, type TrialSide, trialRowSchema } from './row.ts';
import type { UnitTrial } from './tryRules.ts';

/** Units that a page shows one by one: those whose alerts change most. */
const MOST_SHOWN = 40;
const DAY_MS = 86_400_000;

const count = z.int().min(0);
const bothSchema = z.object({ before: count, after: count });

export const kindTallySchema = z.object({
  before: count,
  after: count,
  ...recordOf(CHANGES, () => count),
  /** Of those moved, by what differs; an alert may differ in more than one thing. */
  moves: z.object(recordOf(MOVES, () => count)),
  /** Of those raised at another time, by how many days later, as text. */
  raisedDays: z.record(z.string(), count),
  unitsTouched: count,
});

export type KindTally = z.infer<typeof kindTallySchema>;

const unitChangesSchema = z.object({
  unitId: idSchema,
  gone: count,
  new: count,
  moved: count,
  rows: z.array(trialRowSchema),
});

/** A unit whose alerts change, with all of them. */
export type UnitChanges = z.infer<typeof unitChangesSchema>;

/**
 * What a trial found at some units, in numbers that add up: tallies of parts of a fleet make that of the fleet in
 * whatever order they are put together.
 */
export const tallySchema = z.object({
  units: count,
  unitDays: count,
  unitsReporting: count,
  unitsTouched: count,
  rows: count,
  kinds: z.object(recordOf(ALERT_KINDS, () => kindTallySchema)),
  /** By the severity in the end. */
  severities: z.object(recordOf(SEVERITIES, () => bothSchema)),
  /** Alerts raised in each week, by its Monday (UTC). */
  weeks: z.record(z.iso.date(), bothSchema),
  mostChanged: z.array(unitChangesSchema),
});

export type TrialTally = z.infer<typeof tallySchema>;

/** The tally of no unit. */
export function emptyTally(): TrialTally {
  return {
    ...{ units: 0, unitDays: 0, unitsReporting: 0, unitsTouched: 0, rows: 0 },
    kinds: recordOf(ALERT_KINDS, emptyKind),
    severities: recordOf(SEVERITIES, () => ({ before: 0, after: 0 })),
    ...{ weeks: {}, mostChanged: [] },
  };
}

/** Counts a unit in. */
export function addUnit(tally: TrialTally, { unitId, days, rows, accepted }: UnitTrial): void {
  tally.units += 1;
  tally.unitDays += days;
  tally.unitsReporting += accepted > 0 ? 1 : 0;
  tally.rows += rows.length;
  for (const row of rows) addRow(tally, row);
  const changed = rows.filter(({ change }) => change !== 'same');
  if (changed.length === 0) return;
  tally.unitsTouched += 1;
  for (const kind of new Set(changed.map((row) => row.kind))) tally.kinds[kind].unitsTouched += 1;
  const of = (wanted: TrialRow['change']) => changed.filter(({ change }) => change === wanted).length;
  const unit = { unitId, gone: of('gone'), new: of('new'), moved: of('moved'), rows: [...rows] };
  tally.mostChanged = mostOf([...tally.mostChanged, unit]);
}

/** Counts what another tally has counted. */
export function addTally(tally: TrialTally, other: TrialTally): void {
  for (const name of ['units', 'unitDays', 'unitsReporting', 'unitsTouched', 'rows'] as const)
    tally[name] += other[name];
  for (const kind of ALERT_KINDS) addKind(tally.kinds[kind], other.kinds[kind]);
  for (const severity of SEVERITIES) addBoth(tally.severities[severity], other.severities[severity]);
  for (const [week, both] of Object.entries(other.weeks)) addBoth(weekOf(tally, week), both);
  tally.mostChanged = mostOf([...tally.mostChanged, ...other.mostChanged]);
}

function addRow(tally: TrialTally, { kind, change, moves, raisedDays, before, after }: TrialRow): void {
  const own = tally.kinds[kind];
  own[change] += 1;
  for (const move of moves) own.moves[move] += 1;
  if (moves.includes('raised')) {
    const days = String(raisedDays);
    own.raisedDays[days] = (own.raisedDays[days] ?? 0) + 1;
  }
  const add = (side: TrialSide | null, name: 'before' | 'after') => {
    if (!side) return;
    own[name] += 1;
    tally.severities[side.severity][name] += 1;
    weekOf(tally, mondayOf(side.raisedAt))[name] += 1;
  };
  add(before, 'before');
  add(after, 'after');
}

/** Adds what another has counted of a kind. */
export function addKind(own: KindTally, other: KindTally): void {
  for (const name of ['before', 'after', ...CHANGES, 'unitsTouched'] as const) own[name] += other[name];
  for (const move of MOVES) own.moves[move] += other.moves[move];
  for (const [days, alerts] of Object.entries(other.raisedDays))
    own.raisedDays[days] = (own.raisedDays[days] ?? 0) + alerts;
}

function addBoth(own: { before: number; after: number }, other: { before: number; after: number }): void {
  own.before += other.before;
  own.after += other.after;
}

function weekOf(tally: TrialTally, monday: string): { before: number; after: number } {
  const week = tally.weeks[monday] ?? { before: 0, after: 0 };
  tally.weeks[monday] = week;
  return week;
}

function mondayOf(instant: string): string {
  const date = Math.floor(Date.parse(instant) / DAY_MS);
  return formatLocalDate(date - ((weekdayOf(date) + 6) % 7));
}

/** Those that change most: by alerts that are there on one side alone, then by those that move, then by their ids. */
function mostOf(units: readonly UnitChanges[]): UnitChanges[] {
  return [...units].sort(moreChanged).slice(0, MOST_SHOWN);
}

function moreChanged(a: UnitChanges, b: UnitChanges): number {
  return b.gone + b.new - (a.gone + a.new) || b.moved - a.moved || (a.unitId < b.unitId ? -1 : 1);
}

function emptyKind(): KindTally {
  return {
    ...{ before: 0, after: 0 },
    ...recordOf(CHANGES, () => 0),
    moves: recordOf(MOVES, () => 0),
    raisedDays: {},
    unitsTouched: 0,
  };
}
