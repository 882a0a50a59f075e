import type { Severity } from '../../shared/alerts.ts';
import type { Instant } from '../../shared/time/instant.ts';
import { type Alarm, bySource, type HandledAlert, toAlarm } from './alarm.ts';
import { densityOf } from './flood.ts';
import { nuisanceOf } from './nuisance.ts';
import { type Standing, standingOf } from './standing.ts';
import { type MeasureName, SHORTEST_WINDOW_DAYS, TARGETS, type Target } from './targets.ts';

/** A figure beside its target. `met` is null where it cannot be judged: too short a window, too few alarms. */
export interface Measure {
  readonly value: number;
  readonly target: Target;
  readonly met: boolean | null;
}

/** The health of an alarm system over a window of time, after ISA-18.2. */
export interface AlarmHealth {
  /** Alarms raised in the window. */
  readonly alarms: number;
  readonly windowDays: number;
  readonly measures: Readonly<Record<MeasureName, Measure>>;
  /** Alarms of each severity: urgent is the standard's high priority, soon its medium, routine its low. */
  readonly priorities: Readonly<Record<Severity, number>>;
  readonly standing: Standing;
}

/** The window to look at, and the people who share its alarms. */
export interface HealthWindow {
  readonly from: Instant;
  /** Not in it. */
  readonly until: Instant;
  /** How many people share the alarms; 1 by default. Rates and floods are each one's. */
  readonly operators?: number | undefined;
}

const HOUR_MS = 3_600_000;
const DAY_MS = 86_400_000;
const TOP = 10;

/**
 * How well an alarm system does by the published targets. Alarms are counted when they are raised; the most severe
 * that one became says its priority. Floods are those of all alarms together, as if they went to one operator.
 *
 * @param alerts those that were open at any time in the window; others make no difference
 * @throws RangeError where the window ends before it begins
 */
export function alarmHealth(alerts: readonly HandledAlert[], window: HealthWindow): AlarmHealth {
  const { from, until, operators = 1 } = window;
  if (!(until > from)) throw new RangeError('The window must end after it begins.');
  const all = alerts.map(toAlarm);
  const raised = all.filter(({ raisedAt }) => raisedAt >= from && raisedAt < until);
  const density = densityOf(raised, from, until);
  const nuisance = nuisanceOf(all, from, until);
  const standing = standingOf(all, from, until);
  const priorities = prioritiesOf(raised);
  const windowDays = (until - from) / DAY_MS;
  const perHour = raised.length / operators / ((until - from) / HOUR_MS);
  const share = (count: number) => (raised.length === 0 ? 0 : count / raised.length);
  const isLong = windowDays >= SHORTEST_WINDOW_DAYS;
  const measure = (name: MeasureName, value: number, enough = true): Measure => {
    const target = TARGETS[name];
    return { value, target, met: isLong && enough ? value <= target.most : null };
  };
  // Ten alarms of fewer than 200 are over 5 % of them by counting alone.
  const enoughForTop = raised.length * TARGETS['share-of-ten-most-frequent'].most >= TOP;
  const enoughForPriorities = raised.length * TARGETS['share-high-priority'].most >= 1;
  return {
    alarms: raised.length,
    windowDays,
    priorities,
    standing,
    measures: {
      'alarms-per-hour': measure('alarms-per-hour', perHour),
      'alarms-per-day': measure('alarms-per-day', perHour * 24),
      'peak-alarms-in-10-minutes': measure('peak-alarms-in-10-minutes', density.peak),
      'share-of-10-minutes-over-10': measure('share-of-10-minutes-over-10', density.busySlots),
      'share-of-time-in-flood': measure('share-of-time-in-flood', density.timeInFlood),
      'share-of-ten-most-frequent': measure(
        'share-of-ten-most-frequent',
        share(topCount(raised)),
        enoughForTop,
      ),
      'chattering-alarms': measure('chattering-alarms', nuisance.chattering),
      'fleeting-alarms': measure('fleeting-alarms', nuisance.fleeting),
      'most-stale-on-a-day': measure('most-stale-on-a-day', standing.mostStaleOnADay),
      'share-high-priority': measure('share-high-priority', share(priorities.urgent), enoughForPriorities),
      'share-medium-and-high-priority': measure(
        'share-medium-and-high-priority',
        share(priorities.urgent + priorities.soon),
        enoughForPriorities,
      ),
    },
  };
}

function prioritiesOf(alarms: readonly Alarm[]): Record<Severity, number> {
  const counts: Record<Severity, number> = { routine: 0, soon: 0, urgent: 0 };
  for (const { severity } of alarms) counts[severity] += 1;
  return counts;
}

/** Alarms of the ten units and kinds that raised the most. */
function topCount(alarms: readonly Alarm[]): number {
  const counts = bySource(alarms).map(({ length }) => length);
  return counts
    .sort((a, b) => b - a)
    .slice(0, TOP)
    .reduce((sum, count) => sum + count, 0);
}
