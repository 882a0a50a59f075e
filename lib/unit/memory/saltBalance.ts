import type { Fact, Regeneration, ServiceVisit } from '../../../shared/facts.ts';
import type { Memory, Seen } from './memory.ts';

/**
 * Between which bounds the salt in a tank without a level sensor must lie, by what technicians brought and by the doses
 * since. What a household puts in without a word is not in it.
 */
export interface SaltBalance {
  readonly lowLb: number;
  /** Below 0 by up to a few doses: the tank must have run out, or somebody has refilled it unseen. */
  readonly highLb: number;
  /** Salt drawn since the bounds last met, lb: the dose on record is off by some of it. */
  readonly drawnLb: number;
}

/** A tank that should have run out so many doses ago has been refilled unseen, or stands empty: nothing is known of it. */
const DOSES_BEYOND = 2;

/** The salt balance of a tank that nobody measures; null before anybody brought salt, and where the tank's size is not on record. */
export const saltBalance: Memory<SaltBalance | null> = {
  start: () => null,
  observe(kept, fact: Fact, seen) {
    switch (fact.kind) {
      case 'service-visit':
        return isMeasured(seen) ? kept : salted(kept, fact, seen);
      case 'regeneration':
        return isMeasured(seen) ? kept : regenerated(kept, fact, seen);
      default:
        return kept;
    }
  },
};

function isMeasured({ unit }: Seen): boolean {
  return unit.senses.includes('salt-level');
}

function salted(
  kept: SaltBalance | null,
  { saltAddedLb = 0 }: ServiceVisit,
  { unit: { saltTankLb } }: Seen,
): SaltBalance | null {
  if (saltTankLb === undefined || saltAddedLb <= 0) return kept;
  const within = (lb: number) => hundredths(Math.min(saltTankLb, Math.max(0, lb) + saltAddedLb));
  const lowLb = within(kept?.lowLb ?? 0);
  const highLb = within(kept?.highLb ?? saltTankLb);
  return { lowLb, highLb, drawnLb: lowLb === highLb ? 0 : (kept?.drawnLb ?? 0) };
}

function regenerated(kept: SaltBalance | null, _: Regeneration, { state }: Seen): SaltBalance | null {
  const { usualSaltLb, belief } = state.draw;
  if (kept === null || belief.drawn < 0.5) return kept;
  const highLb = hundredths(kept.highLb - usualSaltLb);
  if (highLb < -DOSES_BEYOND * usualSaltLb) return null;
  return {
    lowLb: hundredths(Math.max(0, kept.lowLb - usualSaltLb)),
    highLb,
    drawnLb: hundredths(kept.drawnLb + usualSaltLb),
  };
}

function hundredths(value: number): number {
  return Math.round(value * 100) / 100;
}
