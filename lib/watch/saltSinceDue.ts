import type { Unit } from '../../shared/registry.ts';
import { withoutSaltProbability } from '../unit/brineDraw.ts';
import type { UnitState } from '../unit/state.ts';
import { noiseLb, type Reading, sensorWorks } from '../unit/tankLevel.ts';
import type { DueRules } from './rules/due.ts';

/** A bag of salt that was put in hides what went before. */
const REFILL_LB = 12;
/** No sensor is beyond doubt. */
const FLOOR = 1e-3;
/** A running mean of more readings than this no longer gives the last ones. */
const MOST_READINGS = 29;
const LEAST_READINGS = 2;

/** How much likelier the salt level since it was due is of a regeneration that nobody reported than of none. */
export function saltRatio(unit: Unit, { count, tank, draw }: UnitState, rules: DueRules): number {
  if (!unit.senses.includes('salt-level')) return 1;
  const before = count.levelBeforeDue;
  const after = readingsAfter(before, tank.since);
  if (!before || !after) return 1;
  const drop = before.lb - after.lb;
  if (drop < -REFILL_LB) return 1;
  const noise = noiseLb(tank) * Math.sqrt(1 / before.count + 1 / after.count);
  const none = density(drop, 0, noise) + FLOOR;
  const usual = draw.usualSaltLb;
  const drawn = density(drop, usual, Math.hypot(noise, rules.doseSpread * usual)) + FLOOR;
  const without = withoutSaltProbability(draw);
  const works = sensorWorks(tank);
  return (works * ((1 - without) * drawn + without * none)) / none + (1 - works);
}

/** The mean of the readings that came into a mean after it was `before`. */
function readingsAfter(before: Reading | null, now: Reading | null): Reading | null {
  if (!before || !now || before.count < LEAST_READINGS) return null;
  const count = now.count - before.count;
  if (count < 1 || now.count > MOST_READINGS) return null;
  return { lb: (now.lb * now.count - before.lb * before.count) / count, count };
}

function density(value: number, mean: number, spread: number): number {
  const z = (value - mean) / spread;
  return Math.exp(-0.5 * z * z) / (spread * Math.sqrt(2 * Math.PI));
}
