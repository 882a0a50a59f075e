import { formatInstant } from '../../shared/time/instant.ts';
import { type Belief, withoutSaltProbability } from '../unit/brineDraw.ts';
import type { UnitState } from '../unit/state.ts';
import { noiseLb } from '../unit/tankLevel.ts';
import { type RankedCause, ranked, severityOf, type WatchedKind } from './kind.ts';
import type { NoSaltDrawRules } from './rules/noSaltDraw.ts';

/**
 * A regeneration without the salt it needs. The likelihood is that of the unit's brine draw (lib/unit/brineDraw.ts),
 * since the bed's ledger needs it too. A unit that senses neither brine nor level stays at the prior and raises
 * nothing.
 */
export const noSaltDraw: WatchedKind<NoSaltDrawRules> = {
  kind: 'no-salt-draw',
  consequenceOf: [],
  heeds: ['regeneration', 'salt-level'],
  look(_unit, state, rules) {
    const { draw } = state;
    const probability = withoutSaltProbability(draw);
    if (probability < rules.clear) return null;
    const again = draw.withoutSalt > 0;
    const causes = causesOf(draw.belief);
    return {
      probability,
      causes,
      severity: severityOf(probability, again ? rules : { soon: rules.soon }),
      lasts: true,
      summary: () => summary(state, causes),
      evidence: () => evidence(state),
    };
  },
};

const CAUSE_WORDS: Readonly<Record<string, string>> = {
  'tank-empty': 'the salt tank looks empty',
  'salt-bridged': 'the salt has probably bridged: brine is drawn but the salt does not go down',
  'brine-not-drawn': 'brine does not leave the tank',
};

function causesOf({ empty, bridged, notDrawn }: Belief): RankedCause[] {
  return ranked({ 'tank-empty': empty, 'salt-bridged': bridged, 'brine-not-drawn': notDrawn });
}

function summary(state: UnitState, causes: readonly RankedCause[]): string {
  const count = state.draw.withoutSalt + 1;
  const times = count === 1 ? 'The last regeneration' : `The last ${count} regenerations`;
  return `${times} drew no salt: ${CAUSE_WORDS[causes[0]?.cause ?? ''] ?? 'why is not known'}.`;
}

function evidence({ draw, bed, tank, lastRegeneration }: UnitState) {
  return {
    lastRegeneration: lastRegeneration === null ? null : formatInstant(lastRegeneration),
    regenerationsWithoutSalt: draw.withoutSalt + 1,
    saltDoseLb: bed.saltDoseLb,
    usualSaltDrawnLb: draw.usualSaltLb,
    tankBeforeLb: draw.levelBefore?.lb ?? null,
    tankBeforeReadings: draw.levelBefore?.count ?? 0,
    tankAfterLb: draw.levelAfter?.lb ?? null,
    tankAfterReadings: draw.levelAfter?.count ?? 0,
    levelNoiseLb: noiseLb(tank),
    brineOverUsual: draw.brineShare,
    usualBrineGallons: draw.usualBrineGallons,
    probabilityTankEmpty: draw.belief.empty,
    probabilitySaltBridged: draw.belief.bridged,
    probabilityBrineNotDrawn: draw.belief.notDrawn,
  };
}
