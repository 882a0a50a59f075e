import type { ScoredUnit } from '../../../lib/score/scoredUnit.ts';
import { SeenLog } from '../../../lib/score/seen.ts';
import type { Truth } from '../../../lib/simulation/truth.ts';
import type { Alert } from '../../../shared/alerts.ts';
import { formatLocalDate, type LocalDate, parseLocalDate } from '../../../shared/time/localDate.ts';
import { zoneOf } from '../../support/events.ts';

/** Seven hours behind UTC all year: noon is 19:00 UTC. */
export const zone = zoneOf('America/Phoenix');
/** 2025-01-01, and a little less than a unit-year of 365.25 days. */
export const FROM = dateOf('2025-01-01');
export const DAYS = 365;

export function dateOf(text: string): LocalDate {
  const date = parseLocalDate(text);
  if (date === undefined) throw new Error(`${text} is no date`);
  return date;
}

/** Noon of a local date. */
export function noon(date: string | LocalDate): string {
  return `${typeof date === 'string' ? date : formatLocalDate(date)}T19:00:00.000Z`;
}

export function alert(over: Partial<Alert> & Pick<Alert, 'kind' | 'raisedAt'>): Alert {
  const { raisedAt, severity = 'soon', probability = 0.9 } = over;
  return {
    ...{ unitId: 'u', cause: null, severity, clearedAt: null, probability },
    history: [{ at: raisedAt, severity, probability }],
    summary: 'Something is wrong.',
    evidence: {},
    ...over,
  };
}

export function fault(over: Partial<Truth> & Pick<Truth, 'kind' | 'from'>): Truth {
  const { from, detail = {} } = over;
  return {
    ...{ unitId: 'u', what: 'fault', cause: null, to: null },
    ...over,
    detail: { fault: 'some', shownOn: from, also: [], ...detail },
  };
}

export function truth(what: Truth['what'], from: string, to: string | null, detail = {}): Truth {
  return { unitId: 'u', what, kind: null, cause: null, from, to, detail };
}

export function unit(entries: readonly Truth[], alerts: readonly Alert[], over = {}): ScoredUnit {
  return {
    unit: { unitId: 'u', zone, senses: ['salt-level', 'peak-flow'], alternating: false, saltDoseLb: 8 },
    truth: entries,
    alerts,
    from: FROM,
    to: FROM + DAYS - 1,
    ...over,
  };
}

/** What is seen of a unit that reports gallons day by day, and whatever else is given. */
export function seenOf(gallons: readonly number[], others: readonly Record<string, unknown>[] = []) {
  const log = new SeenLog(['u']);
  for (const line of linesOf(gallons, others)) log.add(line);
  return log.of('u');
}

/** Its events as lines: a flow day is received when the day is over. */
export function linesOf(
  gallons: readonly number[],
  others: readonly Record<string, unknown>[] = [],
): string[] {
  const flows = gallons.map((value, day) => ({
    id: `f${day}`,
    type: 'brinebell.flow-day.v1',
    time: new Date(zone.startOf(FROM + day + 1)).toISOString(),
    data: { date: formatLocalDate(FROM + day), volume: { value, unit: '[gal_us]' } },
  }));
  return [...flows, ...others].map((event) =>
    JSON.stringify({ specversion: '1.0', source: '/companies/c/units/u', ...event }),
  );
}
