import { escaped } from '../../chart/svg.ts';
import type { NotTried, TrialSummary } from '../summary.ts';
import type { UnitChanges } from '../tally.ts';
import { unitStrips } from './strip.ts';
import { STYLE } from './style.ts';
import { kindsTable, rulesTable, severitiesTable } from './tables.ts';
import { instantOf, timelineOf } from './timeline.ts';
import { weeksABar, weeksChart } from './weeks.ts';

/** Ranges of units not tried that are named. */
const MOST_NAMED = 20;

/**
 * What a trial of rules found, as a page of its own for whoever decides: it loads nothing and runs nothing.
 *
 * @param mostChanged units to show one by one, in that order
 */
export function pageOf(summary: TrialSummary, mostChanged: readonly UnitChanges[]): string {
  const each = weeksABar(summary);
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="robots" content="noindex">
<title>Rule trial</title>
<style>${STYLE}</style>
</head>
<body>
<main>
<h1>Rule trial</h1>
${opening(summary)}
${warnings(summary)}
<section>
<h2>What is proposed</h2>
${rulesTable(summary.rules)}
</section>
<section>
<h2>Alerts by kind</h2>
<p class="quiet">Before: by the rules as they are. After: by those proposed. Gone are raised before alone, new after alone; moved are raised by both, but at another time, for longer or shorter, or with another severity, cause or probability. Two alerts are taken for one if they are of one kind and overlap or begin within a week of each other.</p>
${kindsTable(summary)}
</section>
<section>
<h2>By severity in the end</h2>
${severitiesTable(summary)}
</section>
<section>
<h2>Over time</h2>
<p class="quiet">Alerts raised in each ${each === 1 ? 'week' : `${each} weeks`}: the wide pale bars before, the narrow ones after.</p>
<figure>${weeksChart(summary)}</figure>
</section>
${unitsOf(summary, mostChanged)}
</main>
</body>
</html>
`;
}

function opening({ units, unitYears, unitsTouched, alerts, until }: TrialSummary): string {
  const { before, after, gone, new: fresh, moved, same } = alerts;
  const end = until === null ? '' : `, up to ${until.slice(0, 10)}`;
  return `<p class="lead">${number(before)} alerts would have been ${number(after)}: ${number(gone)} gone, ${number(fresh)} new, ${number(moved)} moved, ${number(same)} the same.</p>
<p class="quiet">${number(units)} units were replayed by both sets of rules, ${unitYears.toFixed(1)} unit-years${end}; ${unitsTouched === 0 ? 'none' : number(unitsTouched)} of them would see a difference.</p>`;
}

function warnings({ notTried, complete }: TrialSummary): string {
  if (notTried.length === 0)
    return complete
      ? ''
      : '<p class="warning">Events or registry could not be read whole: this is what could be.</p>';
  const units = notTried.reduce((sum, range) => sum + range.units, 0);
  const named = notTried.slice(0, MOST_NAMED).map(rangeOf);
  const more = notTried.length - named.length;
  return `<div class="warning"><p>${number(units)} units were not tried, and are in no figure here.</p>
<ul>${named.join('')}${more > 0 ? `<li>and ${more} more ranges in summary.json</li>` : ''}</ul></div>`;
}

function rangeOf({ first, last, units, reason, detail }: NotTried): string {
  return `<li>${escaped(first)} to ${escaped(last)} (${number(units)}): ${escaped(reason)}, ${escaped(detail)}</li>`;
}

function unitsOf({ until, unitsTouched }: TrialSummary, mostChanged: readonly UnitChanges[]): string {
  if (mostChanged.length === 0) return '';
  const raised = mostChanged.flatMap(({ rows }) =>
    rows.flatMap(({ before, after }) => [before, after].flatMap((side) => (side ? [side.raisedAt] : []))),
  );
  const from = instantOf((raised.sort()[0] ?? '').slice(0, 10));
  const time = timelineOf(from, until === null ? from : Date.parse(until));
  const which =
    mostChanged.length < unitsTouched
      ? `The ${mostChanged.length} of ${number(unitsTouched)} units that change most; trial.ndjson has them all.`
      : 'All units that change, those that change most first.';
  return `<section>
<h2>Unit by unit</h2>
<p class="quiet">${which} Of each kind the upper lane is before, the lower after.</p>
<ul class="key">${KEY.map(([name, words]) => `<li><svg width="26" height="13" aria-hidden="true"><rect class="${name}" x="2" y="3" width="22" height="7"/></svg>${words}</li>`).join('')}</ul>
${mostChanged.map((unit) => unitStrips(unit, time)).join('\n')}
</section>`;
}

const KEY = [
  ['gone', 'gone: before alone'],
  ['new', 'new: after alone'],
  ['moved', 'moved'],
  ['same', 'the same'],
] as const;

function number(value: number): string {
  return value.toLocaleString('en-US');
}
