/** A probability to six decimals: what is kept with every unit is kept short, and more would be noise. */
export function keptShort(probability: number): number {
  return Math.round(probability * 1e6) / 1e6;
}
