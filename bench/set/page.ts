import { drawingSvg } from '../../lib/chart/drawingSvg.ts';
import { escaped } from '../../lib/chart/svg.ts';
import type { Bound, Measured, Plot } from '../comparisons/comparison.ts';
import { pageStyle } from './pageStyle.ts';
import { plotDrawing } from './plotDrawing.ts';
import type { Result } from './result.ts';
import { spreadOf } from './spread.ts';
import type { Style } from './style.ts';
import { figure } from './words.ts';

/** Everything that the results say as one page, which loads nothing and runs nothing. */
export function pageOf(results: readonly Result[]): string {
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Brinebell: how fast it is</title>
<style>${pageStyle}</style>
</head>
<body>
<main>
<h1>How fast it is</h1>
<p>Each comparison ran in one go on one machine, its sides by turns. What one run tells may be compared; what two runs tell may not.</p>
<h2 id="bounds">All bounds</h2>
${boundsTable(results)}
${results.map(sectionOf).join('\n')}
<footer>Made by <code>npm run bench</code> from the JSON beside this page.</footer>
</main>
</body>
</html>
`;
}

function boundsTable(results: readonly Result[]): string {
  const rows = results.flatMap(({ name, found }) => found.bounds.map((bound) => boundRow(name, bound)));
  return `<table><thead><tr><th scope="col">Of</th><th scope="col">Bound</th><th scope="col">Asked</th><th scope="col">Measured</th><th scope="col">Holds</th></tr></thead>
<tbody>
${rows.join('\n')}
</tbody></table>`;
}

function boundRow(name: string, { what, asked, measured, holds, because }: Bound): string {
  const why = because === undefined ? '' : `<p class="because">Why: ${escaped(because)}</p>`;
  return `<tr${holds ? '' : ' class="broken"'}><th scope="row"><a href="#${escaped(name)}">${escaped(name)}</a></th><td>${escaped(what)}${why}</td><td data-head="Asked">${escaped(asked)}</td><td data-head="Measured">${escaped(measured)}</td><td class="holds" data-head="Holds">${holds ? 'yes' : 'no'}</td></tr>`;
}

function sectionOf({ name, question, date, node, cpu, cores, size, found }: Result): string {
  const small = size === 'small' ? ' A small run, which only shows that it works.' : '';
  return `<section aria-labelledby="${escaped(name)}">
<h2 id="${escaped(name)}">${escaped(question)}</h2>
<p class="quiet">${escaped(`${name}, ${date}, Node ${node}, ${cpu}, ${cores} cores.${small}`)}</p>
${found.plots.map((plot, index) => figureOf(plot, `${name}-${index}`)).join('\n')}
${measuredTable(found.measured)}
${found.notes.length === 0 ? '' : `<ul>${found.notes.map((note) => `<li>${escaped(note)}</li>`).join('')}</ul>`}
</section>`;
}

function figureOf(plot: Plot, id: string): string {
  const svg = drawingSvg<Style>(plotDrawing(plot), {
    id,
    root: '',
    paint: (style) => ` class="${style}"`,
  });
  return `<figure><figcaption>${escaped(plot.title)}</figcaption><div class="scroll" tabindex="0" role="group" aria-label="${escaped(plot.title)}">${svg}</div></figure>`;
}

function measuredTable(measured: readonly Measured[]): string {
  if (measured.length === 0) return '';
  const rows = measured.map(({ what, unit, rounds }) => {
    const { median, least, most } = spreadOf(rounds);
    return `<tr><th scope="row">${escaped(what)}</th><td class="number" data-head="Median">${figure(median)}</td><td class="number" data-head="Least to most">${figure(least)} to ${figure(most)}</td><td data-head="Unit">${escaped(unit)}</td><td class="number" data-head="Rounds">${rounds.length}</td></tr>`;
  });
  return `<table><thead><tr><th scope="col">Measured</th><th scope="col" class="number">Median</th><th scope="col" class="number">Least to most</th><th scope="col">Unit</th><th scope="col" class="number">Rounds</th></tr></thead>
<tbody>
${rows.join('\n')}
</tbody></table>`;
}
