import gammaCdf from '@stdlib/stats-base-dists-gamma-cdf';
import type { Instant } from '../../shared/time/instant.ts';
import { formatInstant } from '../../shared/time/instant.ts';

/** One silent-unit alert of a region. */
export interface SilentAlert {
  readonly unitId: string;
  readonly raisedAt: Instant;
  /** When the unit was heard again; null while it is silent. */
  readonly clearedAt: Instant | null;
}

/** A region of a company, and how many of its units report in ordinary times. */
export interface ReportingRegion {
  readonly region: string;
  readonly units: number;
}

/** Many units of a region that fell silent together: one thing behind all of them. */
export interface FleetEvent {
  /** Names it for as long as it is told of: its region and the UTC date of its first alert. */
  readonly key: string;
  readonly region: string;
  /** When the first of its alerts was raised. */
  readonly since: Instant;
  /** Ids of its units, in alphabetical order; those heard again stay in it. */
  readonly units: readonly string[];
  /** One plain sentence for a dispatcher. */
  readonly sentence: string;
}

/** Where a silent-unit alert belongs. */
export type SilentPlace =
  | { readonly part: 'event'; readonly event: FleetEvent }
  | { readonly part: 'single' };

/** When silent units are one event; each number may be overridden. */
export interface FleetEventRules {
  /** Silent-unit alerts a unit-year in ordinary times, units that broke and homes that pulled a plug together. A guess, no source. */
  readonly alertsPerUnitYear: number;
  /** An event needs so many units within a day that chance alone would do it no oftener than this, a region and day. */
  readonly chancePerDay: number;
  /** And never fewer than this: two neighbours may share one router. A judgement, no source. */
  readonly leastUnits: number;
}

const FLEET_EVENT_RULES: FleetEventRules = {
  alertsPerUnitYear: 0.2,
  chancePerDay: 1e-4,
  leastUnits: 4,
};

const DAY_MS = 86_400_000;
const DAYS_A_YEAR = 365.25;

/**
 * Whether a newly raised silent-unit alert is part of an event of its region. Pure; the order of `others` is of no
 * account, so whoever of some alerts raised together is asked about first, all get the same answer once all are given.
 *
 * @param others the region's other silent-unit alerts: the open ones, and such as have cleared in the last days, which
 * keep an event's key the same while its units come back one by one
 */
export function placeOfSilent(
  alert: SilentAlert,
  others: readonly SilentAlert[],
  region: ReportingRegion,
  rules: FleetEventRules = FLEET_EVENT_RULES,
): SilentPlace {
  const all = [alert, ...others.filter((each) => !isSame(each, alert))];
  const event = groups(all, region, rules).find(({ members }) => members.includes(alert));
  return event ? { part: 'event', event: toEvent(event, region, rules) } : { part: 'single' };
}

/** The events among the silent-unit alerts of a region, oldest first. Pure; the order of `alerts` is of no account. */
export function fleetEvents(
  alerts: readonly SilentAlert[],
  region: ReportingRegion,
  rules: FleetEventRules = FLEET_EVENT_RULES,
): FleetEvent[] {
  return groups(alerts, region, rules).map((group) => toEvent(group, region, rules));
}

/** The fewest units that fall silent within a day and are one event: chance alone hardly ever brings so many. */
export function unitsForEvent(units: number, rules: FleetEventRules = FLEET_EVENT_RULES): number {
  const expected = expectedPerDay(units, rules);
  let least = rules.leastUnits;
  while (atLeast(least, expected) > rules.chancePerDay) least += 1;
  return least;
}

interface Group {
  readonly key: string;
  readonly since: Instant;
  readonly members: SilentAlert[];
}

/**
 * Goes through the alerts in time. Enough units within a day begin an event; while at least half as many are silent
 * it goes on, and whoever falls silent meanwhile joins it. As a flood it ends lower than it begins, so that it does not
 * chatter.
 */
function groups(alerts: readonly SilentAlert[], region: ReportingRegion, rules: FleetEventRules): Group[] {
  const inTime = [...alerts].sort((a, b) => a.raisedAt - b.raisedAt || (a.unitId < b.unitId ? -1 : 1));
  const needed = unitsForEvent(region.units, rules);
  const found: Group[] = [];
  let unplaced: SilentAlert[] = [];
  for (const alert of inTime) {
    const at = alert.raisedAt;
    const last = found.at(-1);
    if (last && unitsOf(last.members.filter((each) => isOpen(each, at))).length >= needed / 2) {
      last.members.push(alert);
      continue;
    }
    unplaced = [...unplaced.filter(({ raisedAt }) => at - raisedAt < DAY_MS), alert];
    if (unitsOf(unplaced).length < needed) continue;
    const since = unplaced[0]?.raisedAt ?? at;
    const key = keyOf(region.region, since);
    // A second wave on the day of the first is the same event.
    if (last?.key === key) last.members.push(...unplaced);
    else found.push({ key, since, members: unplaced });
    unplaced = [];
  }
  return found;
}

function toEvent(
  { key, since, members }: Group,
  { region, units }: ReportingRegion,
  rules: FleetEventRules,
): FleetEvent {
  const ids = unitsOf(members);
  const usual = expectedPerDay(units, rules);
  const sentence =
    `${ids.length} of ${units} units in ${region} have fallen silent since ${formatInstant(since).slice(0, 16)} UTC, ` +
    `where ${usual < 0.1 ? 'hardly one' : `about ${usual.toFixed(1)}`} a day is usual: ` +
    'look for one cause, such as a carrier or gateway that is down, before anybody is sent to a unit.';
  return { key, region, since, units: ids, sentence };
}

function keyOf(region: string, since: Instant): string {
  return `silent-${region}-${formatInstant(since).slice(0, 10)}`;
}

function isOpen({ clearedAt }: SilentAlert, at: Instant): boolean {
  return clearedAt === null || clearedAt > at;
}

function isSame(a: SilentAlert, b: SilentAlert): boolean {
  return a.unitId === b.unitId && a.raisedAt === b.raisedAt;
}

function unitsOf(alerts: readonly SilentAlert[]): string[] {
  return [...new Set(alerts.map(({ unitId }) => unitId))].sort();
}

function expectedPerDay(units: number, { alertsPerUnitYear }: FleetEventRules): number {
  return (units * alertsPerUnitYear) / DAYS_A_YEAR;
}

/** P(X >= count) of a Poisson variable, which is a gamma's P(T <= expected) of that shape. */
function atLeast(count: number, expected: number): number {
  return expected > 0 ? gammaCdf(expected, count, 1) : 0;
}
