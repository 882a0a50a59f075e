import { pinball } from '../../lib/demand/scores.ts';
import { type Point, pointKey } from './points.ts';
import { PROBABILITIES, type Told } from './roll.ts';

/** How good a family's forecasts of one span are. */
export interface Scored {
  /** Mean pinball loss over the home's mean use, homes weighing the same. */
  readonly loss: number;
  /** Share of all points within their 80 % interval. */
  readonly coverage: number;
  /** Share of homes whose own coverage is 70 to 90 %. */
  readonly homesCovered: number;
}

/**
 * Scores what a family told of the given points, all of one span.
 *
 * @returns null where it told nothing of one of them
 */
export function scored(told: Told, points: readonly Point[]): Scored | null {
  const homes = new Map<number, { loss: number; use: number; inside: number; points: number }>();
  for (const point of points) {
    const quantiles = told.get(pointKey(point));
    if (!quantiles) return null;
    const [p10 = 0, , p90 = 0] = quantiles;
    const { gallons } = point;
    const home = homes.get(point.home) ?? { loss: 0, use: 0, inside: 0, points: 0 };
    homes.set(point.home, home);
    PROBABILITIES.forEach((p, index) => {
      home.loss += pinball(p, quantiles[index] ?? 0, gallons) / PROBABILITIES.length;
    });
    home.use += gallons;
    home.inside += gallons >= p10 && gallons <= p90 ? 1 : 0;
    home.points += 1;
  }
  const each = [...homes.values()];
  const covered = each.filter(({ inside, points }) => inside >= 0.7 * points && inside <= 0.9 * points);
  return {
    loss: each.reduce((sum, { loss, use }) => sum + loss / use, 0) / each.length,
    coverage: each.reduce((sum, { inside }) => sum + inside, 0) / points.length,
    homesCovered: covered.length / each.length,
  };
}
