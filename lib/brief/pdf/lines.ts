const clusters = new Intl.Segmenter('und', { granularity: 'grapheme' });

/**
 * Breaks a paragraph into lines of at most some width, between words, and within a word that is too long by itself. A
 * line is taken for as wide as its words and the spaces between them: measuring each line that comes into question
 * would take most of the time of a page.
 *
 * @param widthOf how wide a word or a space would be drawn
 */
export function linesOf(paragraph: string, width: number, widthOf: (text: string) => number): string[] {
  const space = widthOf(' ');
  const lines: string[] = [];
  let line = '';
  let used = 0;
  for (const word of paragraph.split(' ').flatMap((each) => piecesOf(each, width, widthOf))) {
    const more = widthOf(word);
    if (line !== '' && used + space + more > width) {
      lines.push(line);
      line = word;
      used = more;
    } else {
      used += line === '' ? more : space + more;
      line = line === '' ? word : `${line} ${word}`;
    }
  }
  return [...lines, line];
}

function piecesOf(word: string, width: number, widthOf: (text: string) => number): string[] {
  if (widthOf(word) <= width) return [word];
  const pieces: string[] = [];
  let piece = '';
  for (const { segment } of clusters.segment(word)) {
    if (piece !== '' && widthOf(piece + segment) > width) {
      pieces.push(piece);
      piece = segment;
    } else {
      piece += segment;
    }
  }
  return [...pieces, piece];
}
