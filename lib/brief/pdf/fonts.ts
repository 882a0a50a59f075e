import cyrillic from '@fontsource/noto-sans/files/noto-sans-cyrillic-400-normal.woff?inline';
import greek from '@fontsource/noto-sans/files/noto-sans-greek-400-normal.woff?inline';
import latin from '@fontsource/noto-sans/files/noto-sans-latin-400-normal.woff?inline';
import latinBold from '@fontsource/noto-sans/files/noto-sans-latin-700-normal.woff?inline';
import latinExtended from '@fontsource/noto-sans/files/noto-sans-latin-ext-400-normal.woff?inline';
import arabic from '@fontsource/noto-sans-arabic/files/noto-sans-arabic-arabic-400-normal.woff?inline';
import hebrew from '@fontsource/noto-sans-hebrew/files/noto-sans-hebrew-hebrew-400-normal.woff?inline';
import { create, type Font } from 'fontkit';
import { toTtf } from './toTtf.ts';

/** A font that lays out in the direction that it is told: left to itself fontkit goes by the script, digits and brackets too. */
export interface Face {
  readonly name: string;
  readonly font: Font;
  direction: 'ltr' | 'rtl';
}

export interface Faces {
  /** In the order in which they are asked for a glyph. */
  readonly regular: readonly Face[];
  readonly bold: readonly Face[];
}

let loaded: Promise<Faces> | undefined;

/** The fonts, read once. Other scripts than Latin, Greek, Cyrillic, Arabic and Hebrew have no glyphs here. */
export function faces(): Promise<Faces> {
  loaded ??= load();
  return loaded;
}

async function load(): Promise<Faces> {
  const [plain, ...others] = await Promise.all(
    Object.entries({ latin, latinExtended, cyrillic, greek, hebrew, arabic }).map(([name, url]) =>
      open(name, url),
    ),
  );
  if (!plain) throw new Error('no font is built in: build the program anew');
  const regular = [plain, ...others];
  return { regular, bold: [await open('latinBold', latinBold), ...regular] };
}

async function open(name: string, dataUrl: string): Promise<Face> {
  const woff = Buffer.from(dataUrl.slice(dataUrl.indexOf(',') + 1), 'base64');
  const font = create(Buffer.from(await toTtf(woff)));
  if (!('layout' in font)) throw new Error(`the font ${name} is a collection: build in a single one`);
  // fontkit keeps each glyph as it was first asked for: as a part of another, such as the alpha of one with an accent, it
  // would for good be of no character, and be missing wherever words are copied from the page.
  for (const point of font.characterSet) font.glyphForCodePoint(point);
  const face: Face = { name, font, direction: 'ltr' };
  const layout = font.layout.bind(font);
  font.layout = (text, features) => layout(text, features, undefined, undefined, face.direction);
  return face;
}
