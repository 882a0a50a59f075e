/** A linear axis with round ticks. */
export interface Scale {
  at(value: number): number;
  readonly ticks: readonly number[];
}

const TICKS = 6;
const ROUND = [1, 2, 2.5, 5, 10] as const;

/** An axis that holds `least` and all the values, from one place of the drawing to another. */
export function scaleOf(values: readonly number[], least: number, from: number, to: number): Scale {
  const most = Math.max(...values, least);
  const step = roundStep(Math.max(most - least, 1) / TICKS);
  const low = Math.floor(least / step) * step;
  const steps = Math.max(1, Math.ceil((most - low) / step));
  const high = low + steps * step;
  return {
    at: (value) => from + ((value - low) / (high - low)) * (to - from),
    ticks: Array.from({ length: steps + 1 }, (_, index) => low + index * step),
  };
}

function roundStep(rough: number): number {
  const power = 10 ** Math.floor(Math.log10(rough));
  return power * (ROUND.find((each) => each * power >= rough) ?? 10);
}
