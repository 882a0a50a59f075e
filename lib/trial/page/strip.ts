import { ALERT_KINDS, type AlertKind } from '../../../shared/alerts.ts';
import { escaped } from '../../chart/svg.ts';
import type { TrialRow, TrialSide } from '../row.ts';
import type { UnitChanges } from '../tally.ts';
import { changeInWords } from './changeInWords.ts';
import { percent, type Timeline } from './timeline.ts';

/** Two lanes, before above after. */
const LANE = { before: 2, after: 12 } as const;
const LANE_HEIGHT = 7;
const HEIGHT = 21;
/** Changes that are told in words; trial.ndjson has them all. */
const MOST_TOLD = 20;

/** A unit's alerts in time, a strip for each kind: by the rules as they are above, by those proposed below. */
export function unitStrips({ unitId, gone, new: fresh, moved, rows }: UnitChanges, time: Timeline): string {
  const kinds = ALERT_KINDS.filter((kind) => rows.some((row) => row.kind === kind));
  const changed = rows.filter(({ change }) => change !== 'same');
  const counts = [
    [gone, 'gone'],
    [fresh, 'new'],
    [moved, 'moved'],
  ].flatMap(([count, word]) => (count === 0 ? [] : [`${count} ${word}`]));
  const told = changed.slice(0, MOST_TOLD).map((row) => `<li>${escaped(changeInWords(row))}</li>`);
  const more = changed.length - told.length;
  return `<article>
<h3>${escaped(unitId)} <small>${counts.join(', ')}</small></h3>
<div class="strips">
${kinds.map((kind) => stripOf(kind, rows, time)).join('\n')}
<span></span>${axisOf(time)}
</div>
<details><summary>What differs</summary><ul>${told.join('')}${more > 0 ? `<li>and ${more} more in trial.ndjson</li>` : ''}</ul></details>
</article>`;
}

function stripOf(kind: AlertKind, all: readonly TrialRow[], time: Timeline): string {
  const rows = all.filter((row) => row.kind === kind);
  const bars = rows.flatMap((row) => [
    row.before ? barOf(row.before, row, 'before', time) : '',
    row.after ? barOf(row.after, row, 'after', time) : '',
  ]);
  const of = (side: 'before' | 'after') => rows.filter((row) => row[side] !== null).length;
  const grid = time.ticks.map(
    ({ percent: x }) => `<line class="grid" x1="${percent(x)}" x2="${percent(x)}" y1="0" y2="${HEIGHT}"/>`,
  );
  return `<span class="kind">${kind}</span><svg width="100%" height="${HEIGHT}" role="img" aria-label="${kind}: ${of('before')} before, ${of('after')} after">${grid.join('')}${bars.join('')}</svg>`;
}

function barOf(side: TrialSide, row: TrialRow, lane: 'before' | 'after', time: Timeline): string {
  const from = time.at(Date.parse(side.raisedAt));
  const to = side.clearedAt === null ? 100 : time.at(Date.parse(side.clearedAt));
  const title = `${lane}: ${side.severity}${side.cause ? `, ${side.cause}` : ''}, ${dayOf(side.raisedAt)} to ${side.clearedAt === null ? 'the end' : dayOf(side.clearedAt)}`;
  return `<rect class="${row.change}" x="${percent(from)}" width="${percent(to - from)}" y="${LANE[lane]}" height="${LANE_HEIGHT}"><title>${escaped(title)}</title></rect>`;
}

function axisOf(time: Timeline): string {
  const labels = time.ticks.map(
    ({ percent: x, label }) => `<text class="label" x="${percent(x)}" y="12">${label}</text>`,
  );
  return `<svg width="100%" height="15" aria-hidden="true">${labels.join('')}</svg>`;
}

function dayOf(instant: string): string {
  return instant.slice(0, 10);
}
