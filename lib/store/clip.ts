/** The beginning of a text, at most so many UTF-16 units, with no character cut in two. */
export function clip(text: string, units: number): string {
  if (text.length <= units) return text;
  const last = text.charCodeAt(units - 1);
  return text.slice(0, last >= 0xd800 && last <= 0xdbff ? units - 1 : units);
}
