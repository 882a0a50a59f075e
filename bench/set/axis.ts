import { type Scale, scaleOf } from '../../lib/chart/scale.ts';

/** Within a decade; few decades have room for all of them. */
const STEPS = [1, 2, 5] as const;
const MOST_TICKS = 8;

/** An axis from 0 that holds all the values, however small they are. Where all are whole, so are its ticks: there are no half threads. */
export function linearAxis(values: readonly number[], from: number, to: number): Scale {
  const most = Math.max(...values);
  const power = most > 0 ? 10 ** Math.floor(Math.log10(most)) : 1;
  const { at, ticks } = scaleOf(
    values.map((value) => value / power),
    0,
    from,
    to,
  );
  const all = ticks.map((tick) => clean(tick * power));
  return {
    at: (value) => at(value / power),
    ticks: values.every(Number.isInteger) ? all.filter(Number.isInteger) : all,
  };
}

/**
 * An axis on which each tenfold is as long. It begins and ends at a tick.
 *
 * @param values all above 0
 */
export function logarithmicAxis(values: readonly number[], from: number, to: number): Scale {
  // One beyond each end: just beside a power of ten the logarithm may round to it.
  const first = Math.floor(Math.log10(Math.min(...values))) - 1;
  const last = Math.ceil(Math.log10(Math.max(...values))) + 1;
  const decades = Array.from({ length: last - first + 1 }, (_, index) => first + index);
  const all = decades.flatMap((decade) => STEPS.map((step) => clean(step * 10 ** decade)));
  const low = all.findLastIndex((tick) => tick <= Math.min(...values));
  const high = all.findIndex((tick) => tick >= Math.max(...values));
  // One value alone has an axis, too.
  const near = all.slice(low, Math.max(high, low + 1) + 1);
  const ticks =
    near.length <= MOST_TICKS
      ? near
      : near.filter((tick, index) => index === 0 || Number.isInteger(clean(Math.log10(tick))));
  const [least = 1] = near;
  const most = near.at(-1) ?? least;
  return {
    at: (value) => from + (Math.log(value / least) / Math.log(most / least)) * (to - from),
    ticks,
  };
}

/** Without what binary fractions leave behind the twelfth digit. */
function clean(value: number): number {
  return Number(value.toPrecision(12));
}
