/** A text as it may stand in HTML and SVG, also within quotes. */
export function escaped(text: string): string {
  return text
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;');
}

/** A place in a drawing, or a size, to a tenth of a pixel. */
export function px(value: number): string {
  return value.toFixed(1);
}
