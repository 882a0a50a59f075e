/** Signs of formulas that the fonts on paper have no glyph for, in words. */
const WORDS: Readonly<Record<string, string>> = { '√': 'root of ' };

/** A formula in signs that can be drawn. */
export function drawable(formula: string): string {
  return formula.replace(/[√]/g, (sign) => WORDS[sign] ?? sign);
}
