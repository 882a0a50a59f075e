import { oneLine } from '../channels/text/oneLine.ts';

const CUT = '…';
const clusters = new Intl.Segmenter('und', { granularity: 'grapheme' });

/**
 * A text that people gave as one line of at most so many characters as they see them, cut between words where there are
 * some. What turns the direction of writing is gone: a name must not reorder the page around it.
 */
export function shortened(text: string, most: number): string {
  const line = oneLine(text);
  const seen = [...clusters.segment(line)];
  const end = seen[most]?.index;
  if (end === undefined) return line;
  const space = line.lastIndexOf(' ', end);
  // Not where the only space stands near the beginning: that would say nothing.
  return `${line.slice(0, space > end / 2 ? space : end).trimEnd()}${CUT}`;
}
