import type { Unit } from '../../../shared/registry.ts';
import type { Instant } from '../../../shared/time/instant.ts';
import { byKnown, follow } from '../../live/follow.ts';
import { newHead } from '../../live/head.ts';
import type { Received } from '../../replay/received.ts';
import { settle } from '../../replay/standing.ts';
import type { Rules } from '../../watch/rules.ts';
import { type SettingsAdvice, settingsAdvice } from './settingsAdvice.ts';

/**
 * Advises on a unit from its stored events, in any order, with copies and corrections: they are settled and followed as
 * a replay does.
 *
 * @param options.until how far the clock has run; what became known later is not counted
 * @throws AdviceRefused as {@link settingsAdvice} does
 */
export function adviseUnit(
  unit: Unit,
  received: readonly Received[],
  options: { rules: Rules; until: Instant; mostHardDays: number },
): SettingsAdvice {
  const { rules, until, mostHardDays } = options;
  const facts = settle(received)
    .standing.map(({ fact }) => fact)
    .filter(({ known }) => known <= until)
    .sort(byKnown);
  const { head } = follow(unit, newHead(unit, rules.fold), facts, { rules, until });
  const { state, open } = head;
  return settingsAdvice(unit, { state, open, facts }, { mostHardDays, rules: rules['setting-mismatch'] });
}
