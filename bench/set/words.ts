/** A number for the eye: three digits that count, thousands set apart. */
export function figure(value: number): string {
  return value.toLocaleString('en-US', {
    maximumSignificantDigits: Math.max(3, Math.ceil(Math.log10(Math.abs(value) + 1))),
  });
}
