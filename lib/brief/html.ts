import { escaped } from '../chart/svg.ts';
import type { Brief } from './briefSchema.ts';
import { drawingOf } from './chart/drawing.ts';
import { svgOf } from './chart/svg.ts';
import { inUnits, type UnitSystem } from './inUnits.ts';
import { pageStyle } from './pageStyle.ts';
import { type Sheet, sheetOf } from './sheet.ts';

/**
 * A brief as a page of its own: it loads nothing and runs nothing, reads on a telephone and fits one printed sheet.
 * Whatever people gave stands escaped, and apart in its own direction of writing.
 */
export function htmlOf(brief: Brief, system: UnitSystem): string {
  const sheet = sheetOf(brief, system);
  const left = [whyOf(sheet), chartOf(brief, system), causesOf(sheet)];
  const right = [checksOf(sheet), partsOf(sheet), settingsOf(sheet), recordOf(sheet)];
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="robots" content="noindex">
<title>${escaped(`${sheet.title}: ${sheet.place}`)}</title>
<style>${pageStyle}</style>
</head>
<body>
<main class="${printOf(sheet)}">
${headOf(sheet)}
<div class="columns">
<div>
${left.join('\n')}
</div>
<div>
${right.join('\n')}
</div>
</div>
${cautionsOf(sheet)}
<footer>${apart(sheet.foot)}</footer>
</main>
</body>
</html>
`;
}

/** The print by which a sheet fits one page: by how many characters it has, as tried out. */
function printOf(sheet: Sheet): string {
  const { length } = JSON.stringify(sheet);
  return length > 6_000 ? 'small' : length > 4_400 ? 'less' : 'usual';
}

function headOf({ title, place, address, facts, reason }: Sheet): string {
  return `<header>
<p class="title">${escaped(title)}</p>
<h1 dir="auto">${escaped(place)}</h1>
${address === null ? '' : `<p dir="auto">${escaped(address)}</p>`}
<dl>${facts.map(({ label, value }) => `<div><dt>${escaped(label)}</dt><dd>${apart(value)}</dd></div>`).join('')}</dl>
${reason === null ? '' : `<p class="reason"><b>Reason:</b> ${apart(reason)}</p>`}
</header>`;
}

function whyOf({ why, harm }: Sheet): string {
  const items = why.map(
    ({ severity, sentence, detail }) =>
      `<li class="${escaped(severity)}">${escaped(sentence)}${detail === '' ? '' : ` <small>${escaped(detail)}</small>`}</li>`,
  );
  return section(
    'Why',
    `<ul class="why">${items.join('')}</ul>${harm === null ? '' : `<p><b>${escaped(harm)}</b></p>`}`,
  );
}

function chartOf(brief: Brief, system: UnitSystem): string {
  return section('What the meter says', `<figure>${svgOf(drawingOf(brief.chart, inUnits(system)))}</figure>`);
}

function causesOf({ causes }: Sheet): string {
  if (causes.length === 0) return '';
  const rows = causes.map(
    ({ words, percent, howSure, remedy }) =>
      `<tr><td class="number">${escaped(percent)}</td><td><b>${escaped(words)}</b> <small>${escaped(howSure)}</small><br>${escaped(remedy)}</td></tr>`,
  );
  return section('Causes, the likeliest first', `<table>${rows.join('')}</table>`);
}

function checksOf({ checks, checksNote }: Sheet): string {
  if (checks.length === 0) return '';
  const items = checks.map(
    ({ task, telling }) => `<li>${escaped(task)} <small>${escaped(telling)}</small></li>`,
  );
  return section('Checks', `<p><small>${escaped(checksNote)}</small></p><ol>${items.join('')}</ol>`);
}

function partsOf({ parts }: Sheet): string {
  const rows = parts.map(
    ({ because, parts: some }) =>
      `<tr><td><small>${escaped(because)}</small></td><td>${escaped(some)}</td></tr>`,
  );
  return section('Parts to carry', `<table>${rows.join('')}</table>`);
}

function settingsOf({ settings, settingsNote }: Sheet): string {
  const isToSet = settings.some(({ set }) => set !== null);
  const rows = settings.map(
    ({ name, now, set }) =>
      `<tr><th scope="row">${escaped(name)}</th><td>${escaped(now)}</td>${isToSet ? `<td><b>${escaped(set ?? 'leave')}</b></td>` : ''}</tr>`,
  );
  return section(
    'Settings',
    `<p><small>${escaped(settingsNote)}</small></p><table><tr><th scope="col">Setting</th><th scope="col">Known</th>${isToSet ? '<th scope="col">Set</th>' : ''}</tr>${rows.join('')}</table>`,
  );
}

function recordOf({ record, beforeLeaving }: Sheet): string {
  return section(
    'Before you leave, and record',
    `<ul class="boxes">${[...beforeLeaving, ...record].map((line) => `<li>${escaped(line)}</li>`).join('')}</ul>`,
  );
}

function cautionsOf({ cautions }: Sheet): string {
  const items = cautions.map(({ label, value }) => `<li><b>${escaped(label)}.</b> ${escaped(value)}</li>`);
  return section('Cautions', `<ul class="cautions">${items.join('')}</ul>`, 'caution');
}

function section(heading: string, content: string, className = ''): string {
  return `<section${className === '' ? '' : ` class="${className}"`}><h2>${escaped(heading)}</h2>${content}</section>`;
}

function apart(text: string): string {
  return `<bdi>${escaped(text)}</bdi>`;
}
