import { type Markish, rect, ruleY, text } from '@observablehq/plot';
import { runsOf, type Timeline } from '../unit/timeline.ts';
import type { Frame } from './drawing.ts';
import type { SiteTime } from './siteTime.ts';

interface Band {
  readonly from: SiteTime;
  readonly to: SiteTime;
}

/** So wide a band must be to be written into, pixels. */
const WORDS_PX = 62;

/** What lies behind: hard-water days tinted with a bar on top, days without a report hatched. Both are told in words too. */
export function bands({ days, from, to }: Timeline, frame: Frame): Markish[] {
  const hard = runsOf(days, ({ report }) => report?.isHard === true);
  const missing = runsOf(days, ({ isMissing }) => isMissing);
  const isWide = (band: Band) => ((band.to - band.from) / (to - from)) * frame.width > WORDS_PX;
  const place = { x1: ({ from }: Band) => from, x2: ({ to }: Band) => to };
  const words = {
    x: ({ from, to }: Band) => (from + to) / 2,
    frameAnchor: 'top' as const,
    dy: 8,
    fontWeight: 600,
    stroke: 'var(--panel)',
    strokeWidth: 4,
  };
  return [
    rect(hard, { ...place, fill: 'var(--urgent-soft)' }),
    rect(missing, { ...place, fill: 'url(#figure-hatch)' }),
    text(hard.filter(isWide), { ...words, text: () => 'hard water', fill: 'var(--urgent)' }),
    text(missing.filter(isWide), { ...words, text: () => 'no report', fill: 'var(--ink-soft)' }),
  ];
}

/** Marks hard-water days on the zero line: seen where the tint is not. */
export function hardBar({ days }: Timeline): Markish {
  return ruleY(
    runsOf(days, ({ report }) => report?.isHard === true),
    { y: 0, x1: ({ from }: Band) => from, x2: ({ to }: Band) => to, stroke: 'var(--urgent)', strokeWidth: 4 },
  );
}
