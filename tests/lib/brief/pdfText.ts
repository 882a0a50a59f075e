/**
 * The text of a PDF that was written without compression, in the order in which it was drawn: glyphs are turned into
 * characters by the ToUnicode map of their font (ISO 32000-1, 9.10.3), as whoever copies from the page would get them.
 */
export function pdfText(pdf: Uint8Array): string {
  const source = Buffer.from(pdf).toString('latin1');
  const objects = new Map(
    [...source.matchAll(/(\d+) 0 obj\n([\s\S]*?)\nendobj/g)].map(([, id = '', body = '']) => [id, body]),
  );
  const fonts = new Map(
    [...source.matchAll(/\/(F\d+) (\d+) 0 R/g)].map(([, name = '', id = '']) => [
      name,
      mapOf(objects.get(/\/ToUnicode (\d+) 0 R/.exec(objects.get(id) ?? '')?.[1] ?? '') ?? ''),
    ]),
  );
  let font = new Map<string, string>();
  let text = '';
  for (const [, name, shown] of source.matchAll(/\/(F\d+) [\d.]+ Tf|\[([^\]]*)\] TJ/g)) {
    if (name !== undefined) font = fonts.get(name) ?? new Map();
    for (const [, hex = ''] of (shown ?? '').matchAll(/<([0-9a-f]+)>/gi)) {
      for (const [glyph] of hex.matchAll(/.{4}/g)) text += font.get(glyph.toLowerCase()) ?? '\ufffd';
    }
  }
  return text;
}

/** Where texts begin, points from the lower left corner of the page. */
export function placesOf(pdf: Uint8Array): { x: number; y: number }[] {
  const source = Buffer.from(pdf).toString('latin1');
  return [...source.matchAll(/\n1 0 0 1 (-?[\d.]+) (-?[\d.]+) Tm\n/g)].map(([, x, y]) => ({
    x: Number(x),
    y: Number(y),
  }));
}

/** How many pages there are, and their sizes in points. */
export function pagesOf(pdf: Uint8Array): string[] {
  const source = Buffer.from(pdf).toString('latin1');
  return [...source.matchAll(/\/Type \/Page\n[\s\S]*?\/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]/g)].map(
    ([, width, height]) => `${width} x ${height}`,
  );
}

function mapOf(cmap: string): Map<string, string> {
  const map = new Map<string, string>();
  for (const [, first = '', list = ''] of cmap.matchAll(/<([0-9a-f]{4})> <[0-9a-f]{4}> \[([^\]]*)\]/gi)) {
    [...list.matchAll(/<([0-9a-f ]*)>/gi)].forEach(([, units = ''], index) => {
      const glyph = (Number.parseInt(first, 16) + index).toString(16).padStart(4, '0');
      const codes = [...units.replaceAll(' ', '').matchAll(/.{4}/g)].map(([unit]) =>
        Number.parseInt(unit, 16),
      );
      map.set(glyph, String.fromCharCode(...codes));
    });
  }
  return map;
}
