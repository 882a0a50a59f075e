import { dot, ruleX, ruleY, text } from '@observablehq/plot';
import { convert, unitOf } from '../show/amounts.ts';
import type { Timeline } from '../unit/timeline.ts';
import type { StoryRegeneration } from '../unit/types.ts';
import { amountAxis, margins, timeAxis } from './axes.ts';
import type { Draw } from './drawing.ts';
import { siteTime } from './siteTime.ts';

/** The salt that each regeneration drew, measured or inferred, against the dose. */
export function saltDrawn({ from, to, today, story }: Timeline): Draw {
  const { regenerations, unit } = story;
  return (frame) => {
    const shown = (lb: number) => convert(lb, 'lb', frame.likings);
    const x = ({ at }: StoryRegeneration) => siteTime(at, unit.timeZone);
    const y = ({ measuredLb, expectedLb }: StoryRegeneration) => shown(measuredLb ?? expectedLb);
    const isMeasured = ({ measuredLb }: StoryRegeneration) => measuredLb !== null;
    const measured = regenerations.filter(isMeasured);
    const inferred = regenerations.filter((each) => !isMeasured(each));
    return {
      ...margins(frame),
      height: frame.isNarrow ? 170 : 180,
      x: { type: 'utc', domain: [from, to] },
      y: { domain: [0, 1.15 * Math.max(shown(unit.saltDoseLb), ...regenerations.map(y))] },
      marks: [
        ...amountAxis(`${unitOf('lb', frame.likings)} of salt`, frame),
        ruleY([shown(unit.saltDoseLb)], {
          stroke: 'var(--ink-soft)',
          strokeWidth: 1.5,
          strokeDasharray: '6,3',
        }),
        ruleX(measured, { x, y1: 0, y2: y, stroke: 'var(--accent)', strokeWidth: 2 }),
        dot(measured, { x, y, r: 4, fill: 'var(--accent)' }),
        ruleX(inferred, {
          x,
          y1: 0,
          y2: y,
          stroke: 'var(--accent)',
          strokeWidth: 1.5,
          strokeDasharray: '2,2',
        }),
        dot(inferred, { x, y, r: 3.5, fill: 'var(--panel)', stroke: 'var(--accent)', strokeWidth: 1.75 }),
        ...(regenerations.length === 0
          ? [
              text(['no regeneration in this range'], {
                text: (words: string) => words,
                frameAnchor: 'middle',
                fill: 'var(--ink-soft)',
                fontSize: 13,
              }),
            ]
          : []),
        ...timeAxis(from, to, today, frame),
      ],
    };
  };
}
