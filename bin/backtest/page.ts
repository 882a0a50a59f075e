import { escaped } from '../../lib/chart/svg.ts';
import { coverageChart, lossChart } from './byHorizon.ts';
import { histogram, reliability } from './calibration.ts';
import { COLUMNS, LEGEND } from './columns.ts';
import { fanChart } from './fan.ts';
import { homesChart, MOST_DOTS } from './homesChart.ts';
import { nextText, percent, type Report, scoreOf } from './report.ts';
import { STYLE } from './style.ts';

/** The report as one page that needs nothing beside it: no script, no other file. */
export function pageOf(report: Report): string {
  const { families, horizons, example } = report;
  const [ours] = families;
  const [nearest = 1] = horizons;
  const furthest = horizons.at(-1) ?? nearest;
  const told = [...new Set([nearest, furthest])].flatMap((days) => scoreOf(report, ours, days) ?? []);
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Backtest of the demand forecasts</title>
<style>${STYLE}</style>
</head>
<body>
<main>
<h1>Backtest of the demand forecasts</h1>
${opening(report)}
${section('Loss by horizon', 'Mean pinball loss of the 10, 50 and 90 % quantiles of the use of so many days together: the less the better.', lossChart(report))}
${section('What the 80 % intervals held, by horizon', 'It should be 80 %; the band is 77 to 83 %.', coverageChart(report))}
${section('What they held home by home', `${report.homes > MOST_DOTS ? 'Bars count homes' : 'A dot is a home'}, under the ${escaped(ours)}. The band is 70 to 90 %.`, homesChart(report))}
${section(
  'Where what came lay in the forecast',
  `Bins between the quantiles of the ${escaped(ours)}, 5 to 95 %. Bars that are level, at the broken line, are calibrated; high in the middle says that the intervals are too wide, high at the ends too narrow.`,
  ...told.map((score) => `<figcaption class="quiet">${nextText(score.days)}</figcaption>${histogram(score)}`),
)}
${section('How often it stayed below each quantile', `Share of forecasts less that, in points, over ${nextText(nearest)}. At 0 it came as often as forecast.`, reliability(report, nearest))}
${section(`One home: ${escaped(example.home)}`, 'Its last 60 days, each forecast on its eve. It is the home whose loss is in the middle of all.', fanChart(report))}
<section>
<h2>All figures</h2>
${tableOf(report)}
<dl>${LEGEND.map(([term, meaning]) => `<dt>${escaped(term)}</dt><dd>${escaped(meaning)}</dd>`).join('\n')}</dl>
</section>
</main>
</body>
</html>
`;
}

function opening(report: Report): string {
  const { families, horizons, homes, warmUpDays, leftOut, plain } = report;
  const [ours] = families;
  const [nearest = 1] = horizons;
  const score = scoreOf(report, ours, nearest);
  const found = score
    ? `<p>Over ${nextText(nearest)} the ${escaped(ours)} loses ${percent(score.below)} less than the ${escaped(plain)}, and less in ${percent(score.homesBelow, 0)} of homes; its 80 % intervals held ${percent(score.coverage[80])} of what came.</p>`
    : '';
  const left =
    leftOut.length > 0 ? ` ${leftOut.length} more were left out, their records being too short.` : '';
  return `<p>${homes} homes, each forecast from its reported day ${warmUpDays + 1} on, from the days before alone. A day that was not reported is missing, not zero.${left}</p>
${found}`;
}

function section(title: string, text: string, ...figures: readonly string[]): string {
  return `<section>
<h2>${title}</h2>
<p class="quiet">${text}</p>
${figures.map((figure) => `<figure>${figure}</figure>`).join('\n')}
</section>`;
}

function tableOf(report: Report): string {
  const { families, horizons } = report;
  const [ours] = families;
  const bodies = horizons.map((days) => {
    const rows = families.flatMap((family) => {
      const score = scoreOf(report, family, days);
      if (!score) return [];
      const cells = COLUMNS.map(({ cell }) => `<td>${cell(score)}</td>`).join('');
      return `<tr${family === ours ? ' class="ours"' : ''}><th scope="row">${escaped(family)}</th>${cells}</tr>`;
    });
    return `<tbody>
<tr class="span"><th scope="rowgroup" colspan="${COLUMNS.length + 1}">${nextText(days)}</th></tr>
${rows.join('\n')}
</tbody>`;
  });
  const heads = COLUMNS.map(({ head }) => `<th scope="col">${head}</th>`).join('');
  return `<div class="scroll" tabindex="0" role="region" aria-label="All figures">
<table><thead><tr><td></td>${heads}</tr></thead>
${bodies.join('\n')}
</table></div>`;
}
