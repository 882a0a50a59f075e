/** A number of a household to five decimals: it is kept with every unit, and more would be noise. */
export function short(value: number): number {
  return Math.round(value * 1e5) / 1e5;
}
