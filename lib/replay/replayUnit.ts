import type { Alert } from '../../shared/alerts.ts';
import type { Fact } from '../../shared/facts.ts';
import type { Forecast } from '../../shared/forecasts.ts';
import type { Unit } from '../../shared/registry.ts';
import type { Instant } from '../../shared/time/instant.ts';
import type { LocalDate } from '../../shared/time/localDate.ts';
import { byKnown, follow } from '../live/follow.ts';
import { type Head, newHead } from '../live/head.ts';
import type { MonthAccount } from '../salt/monthAccount.ts';
import { accountsUntil } from '../unit/accountsUntil.ts';
import { inOrder } from '../unit/history.ts';
import { outlook } from '../unit/outlook.ts';
import { toAlert } from '../watch/episode.ts';
import type { Rules } from '../watch/rules.ts';
import type { Received } from './received.ts';
import { settle } from './standing.ts';

/** What became of a unit's events. */
export interface UnitReplay {
  /** Lines that stand: neither a copy nor in conflict. */
  accepted: number;
  duplicates: number;
  conflicts: Received[];
  alerts: Alert[];
  /** Month accounts, with an estimate of days without a report until the end. */
  months: MonthAccount[];
  /** All that is known of it at the end. */
  head: Head;
  /** The first local day from which flow days are expected of this unit; undefined if it never reported. */
  firstDate?: LocalDate | undefined;
}

/**
 * Replays one unit: its events in any order, with copies and corrections, in the order in which the service knew of
 * them. Events known after `until` are not counted; a forecast goes out when a local day is first counted, if anybody
 * is to have it.
 */
export function replayUnit(
  unit: Unit,
  received: readonly Received[],
  options: { rules: Rules; until: Instant; onForecast?: ((forecast: Forecast) => void) | undefined },
): UnitReplay {
  const { standing, duplicates, conflicts } = settle(received);
  const facts: Fact[] = [];
  for (const { fact } of standing) if (fact.known <= options.until) facts.push(fact);
  const { onForecast } = options;
  const { head, ended, months } = follow(unit, newHead(unit, options.rules.fold), asKnown(facts), {
    rules: options.rules,
    until: options.until,
    ...(onForecast && { onDay: (state, date) => onForecast(outlook(unit, state, date)) }),
  });
  return {
    accepted: standing.length,
    duplicates,
    conflicts,
    alerts: [...ended, ...head.open].map((episode) => toAlert(unit.unitId, episode)),
    months: [
      ...months.filter(({ from }) => from !== head.state.month.from),
      ...accountsUntil(unit, head.state, Math.min(options.until, head.outOfService?.at ?? options.until)),
    ],
    head,
    firstDate: head.firstDate ?? undefined,
  };
}

/** In the order in which they became known, as lines mostly come: to see that costs far less than to sort them. */
function asKnown(facts: Fact[]): Fact[] {
  let before = Number.NEGATIVE_INFINITY;
  for (let index = 0; index < facts.length; index++) {
    const fact = facts[index] as Fact;
    const { known } = fact;
    if (known < before || (known === before && inOrder(facts[index - 1] as Fact, fact) > 0))
      return facts.sort(byKnown);
    before = known;
  }
  return facts;
}
