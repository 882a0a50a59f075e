import PDFDocument from 'pdfkit';
import type { Paper } from '../paper.ts';
import type { Faces } from './fonts.ts';

/** Width and height in points: ISO 216 A4 and US Letter. */
export const SIZES: Readonly<Record<Paper, readonly [number, number]>> = {
  a4: [595.28, 841.89],
  letter: [612, 792],
};

/** A document with nothing on its first page yet; `title` is its own. */
export function openDocument(
  fonts: Faces,
  size: readonly [number, number],
  title: string,
  compress: boolean,
): PDFKit.PDFDocument {
  const doc = new PDFDocument({
    size: [...size],
    // Everything is put in its place; a margin would have pdfkit begin another page.
    margin: 0,
    // None yet: else one of its own is looked for in a file.
    font: '',
    lang: 'en',
    displayTitle: true,
    info: { Title: title, Creator: 'Brinebell', Producer: 'Brinebell' },
    compress,
  });
  for (const { name, font } of fonts.bold) doc.registerFont(name, font);
  return doc;
}

/** All of a document, once it is ended. */
export function bytesOf(doc: PDFKit.PDFDocument): Promise<Uint8Array> {
  return new Promise((resolve, reject) => {
    const chunks: Uint8Array[] = [];
    doc.on('data', (chunk: Uint8Array) => chunks.push(chunk));
    doc.on('error', reject);
    doc.on('end', () => {
      const bytes = new Uint8Array(chunks.reduce((sum, { length }) => sum + length, 0));
      let at = 0;
      for (const chunk of chunks) {
        bytes.set(chunk, at);
        at += chunk.length;
      }
      resolve(bytes);
    });
  });
}
