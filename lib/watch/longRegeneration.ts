import { formatInstant } from '../../shared/time/instant.ts';
import type { Duration, TimedRegeneration } from '../unit/memory/duration.ts';
import { only, severityOf, type WatchedKind } from './kind.ts';
import type { LongRegenerationRules } from './rules/longRegeneration.ts';

/**
 * Regenerations run far beyond the unit's usual time: a failing drive. The likelihood is in
 * lib/unit/memory/duration.ts. A unit whose telemetry carries no duration says nothing.
 */
export const longRegeneration: WatchedKind<LongRegenerationRules> = {
  kind: 'long-regeneration',
  consequenceOf: [],
  heeds: ['regeneration', 'settings', 'service-visit', 'power'],
  look(_unit, state, rules) {
    const { duration } = state.memories;
    const { failing, lastLong } = duration;
    if (failing < rules.clear || !lastLong) return null;
    return {
      probability: failing,
      causes: only('drive-failed'),
      severity: severityOf(failing, rules),
      lasts: true,
      summary: () => summary(duration, lastLong),
      evidence: () => evidence(duration, lastLong),
    };
  },
};

function summary({ usualMinutes, longCount }: Duration, { minutes }: TimedRegeneration): string {
  const times = (minutes / usualMinutes).toFixed(1);
  const took = `${Math.round(minutes)} minutes, ${times} times the usual`;
  const what =
    longCount > 1
      ? `${longCount} regenerations were too long, the last of them with ${took}`
      : `A regeneration took ${took}`;
  return `${what}: the drive is probably failing.`;
}

function evidence(duration: Duration, lastLong: TimedRegeneration) {
  const { usual, usualMinutes, longCount, last } = duration;
  return {
    longRegeneration: formatInstant(lastLong.at),
    longMinutes: lastLong.minutes,
    usualMinutes,
    timesUsual: lastLong.minutes / usualMinutes,
    longRegenerations: longCount,
    usualKnownFrom: usual.length,
    lastMinutes: last?.minutes ?? null,
  };
}
