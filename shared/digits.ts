/** The code of the digit 0; those of the others follow it. */
export const ZERO = 0x30;

/** Whether a UTF-16 code is that of a decimal digit; of a place beyond a text's end it is not. */
export function isDigit(code: number): boolean {
  return code >= ZERO && code <= ZERO + 9;
}

/** Two decimal digits at a place of a text, NaN if they are none. */
export function twoDigits(text: string, at: number): number {
  const tens = text.charCodeAt(at);
  const ones = text.charCodeAt(at + 1);
  return isDigit(tens) && isDigit(ones) ? (tens - ZERO) * 10 + ones - ZERO : Number.NaN;
}
