import type { Outcome } from '../../lib/advice/settings/outcome.ts';
import type { SettingsAdvice } from '../../lib/advice/settings/settingsAdvice.ts';
import { scaleOf } from '../../lib/chart/scale.ts';
import { escaped } from '../../lib/chart/svg.ts';
import { figure, settingsText, whole } from './amounts.ts';

const WIDTH = 760;
const HEIGHT = 480;
const PLOT = { left: 70, right: WIDTH - 24, top: 28, bottom: HEIGHT - 58 } as const;
/** Room that a label takes beside its mark. */
const LABEL_WIDTH = 130;

/** Salt a year against hard-water days as SVG: all settings tried, today's and the advised ones marked. */
export function chartOf(advice: SettingsAdvice): string {
  const { tried, today, advised, mostHardDays, unitId } = advice;
  const all: Outcome[] = [...tried, today];
  const x = scaleOf(all.map(daysOf).concat(1.3 * mostHardDays, 1), 0, PLOT.left, PLOT.right);
  const salts = all.map(saltOf);
  const y = scaleOf(salts, Math.min(...salts), PLOT.bottom, PLOT.top);
  const at = (outcome: Outcome) => ({ cx: x.at(daysOf(outcome)), cy: y.at(saltOf(outcome)) });
  const dots = [
    ...new Set(
      tried.map((outcome) => `${x.at(daysOf(outcome)).toFixed(1)},${y.at(saltOf(outcome)).toFixed(1)}`),
    ),
  ];
  const limit = x.at(mostHardDays);
  const label = ({ cx, cy }: { cx: number; cy: number }, text: string, up: boolean) => {
    const isLeft = cx + LABEL_WIDTH > PLOT.right;
    const dy = up ? -12 : 22;
    return `<text x="${(cx + (isLeft ? -12 : 12)).toFixed(1)}" y="${(cy + dy).toFixed(1)}" text-anchor="${isLeft ? 'end' : 'start'}" class="name">${text}</text>`;
  };
  const todayAt = at(today);
  const advisedAt = at(advised);
  const isAbove = todayAt.cy <= advisedAt.cy;
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${WIDTH} ${HEIGHT}" role="img" aria-labelledby="chart-title chart-desc">
<title id="chart-title">Salt against hard-water days a year, unit ${escaped(unitId)}</title>
<desc id="chart-desc">${escaped(description(advice))}</desc>
<style>
text { font: 13px system-ui, sans-serif; fill: #333 } .name { font-weight: 600; fill: #111; stroke: #fff; stroke-width: 4px; paint-order: stroke }
.grid { stroke: #ddd } .axis { stroke: #666 } .tried { fill: #7a8794; fill-opacity: .45 } .limit { stroke: #666; stroke-dasharray: 5 4 }
.today { fill: #b8500a } .advised { fill: #0b6e4f; stroke: #fff; stroke-width: 1.5 }
</style>
<rect width="${WIDTH}" height="${HEIGHT}" fill="#fff"/>
${y.ticks.map((tick) => `<line class="grid" x1="${PLOT.left}" x2="${PLOT.right}" y1="${y.at(tick).toFixed(1)}" y2="${y.at(tick).toFixed(1)}"/><text x="${PLOT.left - 8}" y="${(y.at(tick) + 4).toFixed(1)}" text-anchor="end">${whole(tick)}</text>`).join('\n')}
${x.ticks.map((tick) => `<line class="axis" x1="${x.at(tick).toFixed(1)}" x2="${x.at(tick).toFixed(1)}" y1="${PLOT.bottom}" y2="${PLOT.bottom + 5}"/><text x="${x.at(tick).toFixed(1)}" y="${PLOT.bottom + 20}" text-anchor="middle">${figure(tick)}</text>`).join('\n')}
<line class="axis" x1="${PLOT.left}" x2="${PLOT.right}" y1="${PLOT.bottom}" y2="${PLOT.bottom}"/>
<line class="limit" x1="${limit.toFixed(1)}" x2="${limit.toFixed(1)}" y1="${PLOT.top}" y2="${PLOT.bottom}"/>
<text x="${(limit + 6).toFixed(1)}" y="${PLOT.top + 4}">limit ${figure(mostHardDays)}</text>
${dots.map((dot) => `<circle class="tried" r="3.5" cx="${dot.split(',')[0]}" cy="${dot.split(',')[1]}"/>`).join('\n')}
<rect class="today" x="${(todayAt.cx - 6).toFixed(1)}" y="${(todayAt.cy - 6).toFixed(1)}" width="12" height="12"/>
<circle class="advised" r="7.5" cx="${advisedAt.cx.toFixed(1)}" cy="${advisedAt.cy.toFixed(1)}"/>
${label(todayAt, `today: ${whole(today.saltLbAYear)} lb`, isAbove)}
${label(advisedAt, `advised: ${whole(advised.saltLbAYear)} lb`, !isAbove)}
<text x="${(PLOT.left + PLOT.right) / 2}" y="${HEIGHT - 14}" text-anchor="middle">hard-water days a year</text>
<text x="${PLOT.left - 56}" y="${PLOT.top - 12}">salt, lb a year</text>
</svg>
`;
}

/** The chart in a page of its own, with what it shows in words. */
export function pageOf(advice: SettingsAdvice, text: string): string {
  const title = `Settings advice, unit ${escaped(advice.unitId)}`;
  return `<!doctype html>
<html lang="en">
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${title}</title>
<style>body { font: 16px/1.45 system-ui, sans-serif; margin: 2rem auto; max-width: 54rem; padding: 0 1rem; color: #111 }
svg { width: 100%; height: auto } pre { font: 13px/1.4 ui-monospace, monospace; overflow-x: auto }</style>
<h1>${title}</h1>
<p>Each dot is a year under other settings. Low is little salt, left is few hard-water days; the square is today, the disc what is advised.</p>
${chartOf(advice)}<pre tabindex="0">${escaped(text)}</pre>
</html>
`;
}

function description({ tried, today, advised }: SettingsAdvice): string {
  const of = (outcome: Outcome) =>
    `${settingsText(outcome.settings)}: ${whole(outcome.saltLbAYear)} lb of salt and ${whole(outcome.hardDaysAYear)} hard-water days a year`;
  return `${tried.length} settings tried. Today ${of(today)}. Advised ${of(advised)}.`;
}

function daysOf({ hardDaysAYear }: Outcome): number {
  return hardDaysAYear;
}

function saltOf({ saltLbAYear }: Outcome): number {
  return saltLbAYear;
}
