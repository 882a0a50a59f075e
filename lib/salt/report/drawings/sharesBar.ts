import type { Drawing, Mark } from '../../../chart/drawing.ts';
import { shareTold } from '../../rounding.ts';
import type { Style } from '../content.ts';
import { KNOWN, KNOWN_WORDS, label, WIDTH } from './parts.ts';

/** By which way salt is known, lb. */
export type KnownSalt = Readonly<Record<(typeof KNOWN)[number], number>>;

const BAR = { top: 4, height: 26 };
const KEY_Y = 52;
const NOTHING = label(1, BAR.top + 17, 'No salt was used.');

/** Which share of the salt is known how, as one bar. */
export function sharesBar(salt: KnownSalt): Drawing<Style> {
  const sum = KNOWN.reduce((total, known) => total + Math.max(0, salt[known]), 0);
  const share = (known: keyof KnownSalt) => shareTold(sum > 0 ? Math.max(0, salt[known]) / sum : 0);
  let x = 1;
  const bar = KNOWN.flatMap((known): Mark<Style>[] => {
    const width = sum > 0 ? (Math.max(0, salt[known]) / sum) * (WIDTH - 2) : 0;
    const mark: Mark<Style> = { kind: 'rect', style: known, x, y: BAR.top, width, height: BAR.height };
    x += width;
    return width > 0 ? [mark] : [];
  });
  const key = KNOWN.flatMap((known, index): Mark<Style>[] => {
    const at = 1 + (index * WIDTH) / 3;
    return [
      { kind: 'rect', style: known, x: at, y: KEY_Y - 9, width: 14, height: 10 },
      label(at + 21, KEY_Y, `${KNOWN_WORDS[known]}: ${share(known)}`),
    ];
  });
  return {
    ...{ width: WIDTH, height: KEY_Y + 8 },
    title: 'How the salt is known',
    description:
      sum > 0
        ? `${KNOWN.map((known) => `${KNOWN_WORDS[known]} ${share(known)}`).join(', ')}.`
        : 'No salt was used.',
    marks: [...(sum > 0 ? bar : [NOTHING]), ...key],
  };
}
