import {
  backtestHome,
  FAMILIES,
  type HomeRecord,
  isLongEnough,
  LEAST_SCORED_DAYS,
  nextDays,
  PLAIN,
} from '../../lib/demand/backtest/backtest.ts';
import { grown } from '../../lib/demand/backtest/grown.ts';
import { ours } from '../../lib/demand/backtest/ours.ts';
import type { RollOptions } from '../../lib/demand/backtest/roll.ts';
import type { HomeScore } from '../../lib/demand/backtest/scoreHome.ts';
import { summarise } from '../../lib/demand/backtest/summary.ts';
import { pooledPrior } from '../../lib/demand/pooledPrior.ts';
import { CommandError } from '../errors.ts';
import { Progress } from '../replay/progress.ts';
import type { Report } from './report.ts';

/**
 * Rolls all families through all homes.
 *
 * @throws CommandError `history-short` where no home has a record to score
 */
export function runBacktest(homes: readonly HomeRecord[], options: RollOptions): Report {
  const { warmUpDays } = options;
  const long = homes.filter((home) => isLongEnough(home, options));
  const longest = Math.max(0, ...homes.map(({ record }) => record.length));
  if (long.length === 0) throw tooShort(homes.length, longest, warmUpDays);
  const progress = new Progress();
  progress.begin('Forecasting', long.length);
  const byHome = long.flatMap((home, index) => {
    const scores = backtestHome(home, options);
    progress.reach(index + 1);
    return scores;
  });
  progress.end();
  const told = new Set(byHome.map(({ days }) => days));
  const middle = middleHome(byHome, long);
  const scores = summarise(byHome, PLAIN);
  return {
    warmUpDays,
    horizons: options.horizons.filter((days) => told.has(days)),
    families: [ours.name, ...FAMILIES.map(({ name }) => name).filter((name) => name !== ours.name)],
    plain: PLAIN,
    homes: long.length,
    leftOut: homes.filter((home) => !long.includes(home)).map(({ home }) => home),
    prior: pooledPrior(long.map(({ record }) => grown(record))),
    scores: scores.sort((a, b) => a.days - b.days),
    byHome,
    example: { home: middle.home, forecasts: nextDays(middle, warmUpDays) },
  };
}

/** The home whose loss, as far ahead as comes first, is the median: neither a good example nor a bad one. */
function middleHome(scores: readonly HomeScore[], homes: readonly HomeRecord[]): HomeRecord {
  const own = scores.filter(
    ({ family, days, loss }) => family === ours.name && days === scores[0]?.days && loss !== null,
  );
  const sorted = own.sort((a, b) => (a.loss ?? 0) - (b.loss ?? 0));
  const name = sorted[sorted.length >> 1]?.home;
  return homes.find(({ home }) => home === name) ?? homes[0] ?? { home: '', record: [] };
}

function tooShort(homes: number, longest: number, warmUpDays: number): CommandError {
  const needed = warmUpDays + LEAST_SCORED_DAYS;
  if (homes === 0)
    return new CommandError('history-short', 'there are no homes to forecast', 'Is it the right file?');
  return new CommandError(
    'history-short',
    `the longest record has ${longest} reported days; ${needed} are needed, ${LEAST_SCORED_DAYS} after a warm-up of ${warmUpDays}`,
    'Give a longer history, or a shorter --warm-up.',
  );
}
