import type { Alert } from '../../shared/alerts.ts';
import type { Forecast } from '../../shared/forecasts.ts';
import type { Unit } from '../../shared/registry.ts';
import type { Instant } from '../../shared/time/instant.ts';
import type { LocalDate } from '../../shared/time/localDate.ts';
import type { MonthAccount } from '../salt/monthAccount.ts';
import { inOrder, UnitHistory } from '../unit/history.ts';
import { outlook } from '../unit/outlook.ts';
import { type Episode, toAlert } from '../watch/episode.ts';
import type { Rules } from '../watch/rules.ts';
import { watchUnit } from '../watch/watchUnit.ts';
import type { Received } from './received.ts';
import { settle } from './standing.ts';

/** What became of a unit's events. */
export interface UnitReplay {
  /** Lines that stand: neither a copy nor in conflict. */
  accepted: number;
  duplicates: number;
  conflicts: Received[];
  alerts: Alert[];
  months: MonthAccount[];
  /** The first local day from which flow days are expected of this unit; undefined if it never reported. */
  firstDate?: LocalDate | undefined;
}

/**
 * Replays one unit: its events in any order, with copies and corrections, in the order in which the service knew of
 * them. Events known after `until` are not counted; a forecast goes out when a local day is first counted.
 */
export function replayUnit(
  unit: Unit,
  received: readonly Received[],
  options: { rules: Rules; until: Instant; onForecast: (forecast: Forecast) => void },
): UnitReplay {
  const { standing, duplicates, conflicts } = settle(received);
  const facts = standing.map(({ fact }) => fact).filter(({ known }) => known <= options.until);
  facts.sort((a, b) => a.known - b.known || inOrder(a, b));

  const history = new UnitHistory(unit, options.rules.fold);
  let open: readonly Episode[] = [];
  const ended: Episode[] = [];
  const counted = new Set<LocalDate>();
  let firstDate: LocalDate | undefined;
  facts.forEach((fact, index) => {
    history.learn(fact);
    if (fact.kind === 'flow-day' && !counted.has(fact.date)) {
      counted.add(fact.date);
      firstDate = Math.min(firstDate ?? fact.date, fact.date);
      options.onForecast(outlook(unit, history.state, history.state.lastReported ?? fact.date));
    }
    // What becomes known at one instant is judged together, however it was batched.
    if (facts[index + 1]?.known === fact.known) return;
    const watched = watchUnit(unit, history.state, open, fact.known, options.rules);
    open = watched.open;
    ended.push(...watched.ended);
  });
  return {
    accepted: standing.length,
    duplicates,
    conflicts,
    alerts: [...ended, ...open].map((episode) => toAlert(unit.unitId, episode)),
    months: history.accounts,
    firstDate,
  };
}
