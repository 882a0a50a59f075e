/** A figure as it stands in a table; a dash where there was nothing to take it of. */
export function number(value: number | null, digits = 3): string {
  return value === null ? '-' : value.toFixed(digits);
}
