/** Whether a text has `least` to `most` characters as JSON Schema counts them: one for each code point, which has one or two units here. */
export function hasCharacters(text: string, least: number, most: number): boolean {
  if (text.length > 2 * most) return false;
  const characters = text.length > most || text.length < 2 * least ? [...text].length : text.length;
  return characters >= least && characters <= most;
}
