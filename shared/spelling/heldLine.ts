/** The longest line that can be held, in bytes. */
export const LONGEST_HELD = 2_000;

/**
 * The line that is being read, as bytes, which are several times quicker to look at than the characters of a text. Behind
 * its last stands a 0, which no JSON has. There is one such place, since to make it anew takes longer than to read a line.
 */
export const held = new Uint8Array(2 * LONGEST_HELD);

const encoder = new TextEncoder();

/** Holds a line, unless it is too long or not all ASCII: each character is then one byte. */
export function hold(line: string): boolean {
  if (line.length > LONGEST_HELD || encoder.encodeInto(line, held).written !== line.length) return false;
  held[line.length] = 0;
  return true;
}

/** Whether some words stand at a place of the held line. */
export function stands(words: Uint8Array, from: number): boolean {
  for (let at = 0; at < words.length; at++) if (words[at] !== held[from + at]) return false;
  return true;
}

/** Words as {@link stands} wants them. */
export function wordsOf(text: string): Uint8Array {
  return encoder.encode(text);
}
