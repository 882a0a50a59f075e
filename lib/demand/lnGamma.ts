/** From here on three terms of the series are good to 1e-9. */
const SERIES_FROM = 8;

/**
 * Natural logarithm of the gamma function of x > 0, by its recurrence and Stirling's series: Abramowitz & Stegun 1964,
 * 6.1.15 and 6.1.41, from memory; the tests hold it to factorials.
 */
export function lnGamma(x: number): number {
  let shift = 0;
  let at = x;
  for (; at < SERIES_FROM; at++) shift += Math.log(at);
  const square = at * at;
  const series = (1 / 12 - (1 / 360 - 1 / 1260 / square) / square) / at;
  return (at - 0.5) * Math.log(at) - at + 0.5 * Math.log(2 * Math.PI) + series - shift;
}
