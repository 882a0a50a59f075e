import type { AlertCause } from '../../shared/alerts.ts';
import { probabilityOf } from '../advice/harm.ts';
import { adviceOf } from '../channels/text/advice.ts';
import { type Episode, toAlert } from '../watch/episode.ts';
import type { Brief } from './briefSchema.ts';
import { CAUSE_WORDS } from './causeWords.ts';
import { howSure } from './howSure.ts';

/** Less probable than this is not worth a line. A judgement, no source. */
const WORTH = 0.03;

/**
 * The causes of open alerts, the likeliest first: each by how probable its alert is and the cause in it. Where several
 * alerts name one cause the surest counts. That nothing is wrong stands among them, by the surest alert.
 *
 * @param open episodes, the one that weighs most first
 */
export function causesOf(unitId: string, open: readonly Episode[]): Brief['causes'] {
  const best = new Map<AlertCause, { episode: Episode; probability: number }>();
  for (const episode of open) {
    for (const each of episode.causes) {
      const probability = each.probability * probabilityOf(episode);
      if (probability > (best.get(each.cause)?.probability ?? WORTH))
        best.set(each.cause, { episode, probability });
    }
  }
  const named: Brief['causes'] = [...best].map(([cause, { episode, probability }]) => ({
    cause,
    words: CAUSE_WORDS[cause],
    probability: hundredths(probability),
    howSure: howSure(probability),
    remedy: remedyOf(unitId, episode, cause),
  }));
  const nothing = named.length === 0 ? 0 : 1 - Math.max(...open.map(probabilityOf));
  if (nothing > WORTH) {
    named.push({
      cause: null,
      words:
        open[0]?.kind === 'no-flow' ? 'None of this: the household is away' : 'None of this: a false alarm',
      probability: hundredths(nothing),
      howSure: howSure(nothing),
      remedy: 'Record nothing-found.',
    });
  }
  return named.sort((a, b) => b.probability - a.probability);
}

function remedyOf(unitId: string, episode: Episode, cause: AlertCause): string {
  // Whoever reads it is on the way: what is done first about a routine alert, asking by telephone, is behind them.
  const alert = { ...toAlert(unitId, episode), cause, severity: 'urgent' as const };
  return adviceOf({ change: 'raised', alert }).brief;
}

function hundredths(value: number): number {
  return Math.round(value * 100) / 100;
}
