import { normalProbability } from '../../demand/gamma.ts';

/** Whole bags that fit into so much room, lb: at least one, since whoever runs out is given salt. */
export function bagsFor(roomLb: number, bagLb: number): number {
  return Math.max(1, Math.floor(roomLb / bagLb));
}

/**
 * How likely each number of bags fits, from one on, where the room is only known with a standard deviation.
 *
 * @param tankLb what the tank holds when it is full, lb: no more fits
 */
export function bagChances(
  { roomLb, deviationLb, tankLb }: { roomLb: number; deviationLb: number; tankLb: number },
  bagLb: number,
): number[] {
  const most = bagsFor(tankLb, bagLb);
  /** The probability that so many bags fit, or more. */
  const holds = (bags: number) =>
    bags <= 1
      ? 1
      : bags > most
        ? 0
        : normalProbability((roomLb - bags * bagLb) / Math.max(deviationLb, 1e-6));
  return Array.from({ length: most }, (_, index) => holds(index + 1) - holds(index + 2));
}
