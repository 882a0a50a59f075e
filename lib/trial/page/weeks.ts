import { scaleOf } from '../../chart/scale.ts';
import { px } from '../../chart/svg.ts';
import type { TrialSummary } from '../summary.ts';
import { instantOf, percent, timelineOf } from './timeline.ts';

const HEIGHT = 210;
const PLOT = { top: 14, bottom: HEIGHT - 24 } as const;
/** More bars than this are too thin to be seen. */
const MOST_BARS = 70;
const WEEK_MS = 7 * 86_400_000;
/** What the numbers of the axis have to the left of the bars, percent: two digits on a telephone. */
const AXIS = 6;
/** How much of its place a bar takes: what is raised after stands narrow and dark in what was raised before. */
const SHARE = { before: 0.84, after: 0.4 } as const;

/** How many weeks each bar of the drawing stands for. */
export function weeksABar({ weeks }: Pick<TrialSummary, 'weeks'>): number {
  return Math.max(1, Math.ceil(weeks.length / MOST_BARS));
}

/** Alerts raised over time, before beside after, as SVG as wide as its page. */
export function weeksChart({ weeks }: Pick<TrialSummary, 'weeks'>): string {
  const each = weeksABar({ weeks });
  const bars = Array.from({ length: Math.ceil(weeks.length / each) }, (_, index) => {
    const some = weeks.slice(index * each, (index + 1) * each);
    return {
      from: instantOf(some[0]?.week ?? ''),
      before: some.reduce((sum, week) => sum + week.before, 0),
      after: some.reduce((sum, week) => sum + week.after, 0),
    };
  });
  const [first] = bars;
  if (!first) return '<p class="quiet">No alert was raised by either set of rules.</p>';
  const end = first.from + bars.length * each * WEEK_MS;
  const time = timelineOf(first.from, end);
  const most = Math.max(...bars.flatMap(({ before, after }) => [before, after]));
  const y = scaleOf([most], 0, PLOT.bottom, PLOT.top);
  const across = (share: number) => AXIS + (share * (100 - AXIS)) / 100;
  const place = (100 - AXIS) / bars.length;
  const bar = (from: number, alerts: number, name: 'before' | 'after') =>
    alerts === 0
      ? ''
      : `<rect class="${name}" x="${percent(across(time.at(from)) + (place * (1 - SHARE[name])) / 2)}" width="${percent(place * SHARE[name])}" y="${px(y.at(alerts))}" height="${px(PLOT.bottom - y.at(alerts))}"/>`;
  const grid = y.ticks.filter(Number.isInteger).map((tick) => {
    const line = `<line class="grid" x1="0" x2="100%" y1="${px(y.at(tick))}" y2="${px(y.at(tick))}"/>`;
    return `${line}<text class="label" x="0" y="${px(y.at(tick) - 3)}">${tick}</text>`;
  });
  const total = (name: 'before' | 'after') => bars.reduce((sum, each_) => sum + each_[name], 0);
  return `<svg width="100%" height="${HEIGHT}" role="img" aria-labelledby="weeks-title weeks-desc">
<title id="weeks-title">Alerts raised over time</title>
<desc id="weeks-desc">${total('before')} before and ${total('after')} after, in bars of ${each === 1 ? 'a week' : `${each} weeks`}; at most ${most} in one.</desc>
${bars.map(({ from, before, after }) => `${bar(from, before, 'before')}${bar(from, after, 'after')}`).join('\n')}
${grid.join('\n')}
${time.ticks.map(({ percent: x, label }) => `<text class="label" x="${percent(across(x))}" y="${HEIGHT - 6}">${label}</text>`).join('\n')}
</svg>`;
}
