import { drawingSvg } from '../../chart/drawingSvg.ts';
import { escaped } from '../../chart/svg.ts';
import type { Block, Column, Figure, RegionReport, Section, Style, Table } from './content.ts';
import { pageStyle } from './pageStyle.ts';

/**
 * A report as a page of its own: it loads nothing and runs nothing, and prints. Whatever people gave stands escaped, and
 * apart in its own direction of writing.
 */
export function reportHtml(report: RegionReport): string {
  const { title, region, facts, sections, foot } = report;
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="robots" content="noindex">
<title>${escaped(`${title}: ${region}`)}</title>
<style>${pageStyle}</style>
</head>
<body>
<main>
<header>
<p class="title">${escaped(title)}</p>
<h1 dir="auto">${escaped(region)}</h1>
<ul class="facts">${facts.map((fact) => `<li>${apart(fact)}</li>`).join('')}</ul>
</header>
<nav aria-label="Contents">
<ul>${sections.map(({ id, title: name }) => `<li><a href="#${id}">${escaped(name)}</a></li>`).join('')}</ul>
</nav>
${sections.map(sectionOf).join('\n')}
<footer>${apart(foot)}</footer>
</main>
</body>
</html>
`;
}

function sectionOf({ id, title, blocks }: Section): string {
  return `<section aria-labelledby="${id}">
<h2 id="${id}">${escaped(title)}</h2>
${blocks.map(blockOf).join('\n')}
</section>`;
}

function blockOf(block: Block): string {
  switch (block.kind) {
    case 'text':
      return `<p${block.tone ? ` class="${block.tone}"` : ''}>${escaped(block.text)}</p>`;
    case 'figures':
      return `<dl class="figures">${block.figures.map(figureOf).join('')}</dl>`;
    case 'drawing':
      return `<figure>${scrolled(
        block.drawing.title,
        drawingSvg<Style>(block.drawing, { id: block.id, root: '', paint: (style) => ` class="${style}"` }),
      )}</figure>`;
    case 'table':
      return scrolled(block.caption, tableOf(block));
    case 'steps':
      return block.steps
        .map(
          ({ id, title, formula, text, source }) => `<div class="step">
<h3 id="method-${escaped(id)}">${escaped(title)}</h3>
${formula === undefined ? '' : `<p class="formula">${escaped(formula)}</p>`}
<p>${escaped(text)}</p>
${source === undefined ? '' : `<p class="quiet">Source: ${escaped(source)}</p>`}
</div>`,
        )
        .join('\n');
  }
}

function figureOf({ label, value, range, note }: Figure): string {
  return `<div><dt>${escaped(label)}</dt><dd class="value">${escaped(value)}</dd><dd>${escaped(range ?? 'no interval worked out')}</dd><dd class="note">${escaped(note)}</dd></div>`;
}

function tableOf({ caption, columns, rows, hasTotal }: Table): string {
  const heads = columns.map((column) => `<th scope="col"${classOf(column)}>${escaped(column.head)}</th>`);
  const body = rows.map((row, index) => {
    const [name = '', ...cells] = row;
    const isTotal = hasTotal && index === rows.length - 1;
    return `<tr${isTotal ? ' class="total"' : ''}><th scope="row">${apart(name)}</th>${cells.map((cell, at) => cellOf(columns[at + 1], cell)).join('')}</tr>`;
  });
  return `<table><caption>${escaped(caption)}</caption><thead><tr>${heads.join('')}</tr></thead><tbody>${body.join('')}</tbody></table>`;
}

/** With the column's head beside it: on a narrow page it is written before each cell. */
function cellOf(column: Column | undefined, cell: string): string {
  return `<td${classOf(column)} data-head="${escaped(column?.head ?? '')}">${apart(cell)}</td>`;
}

function classOf(column: Column | undefined): string {
  return column?.isNumber ? ' class="number"' : '';
}

/** What may be wider than a telephone, so that it can be moved by keyboard too. */
function scrolled(label: string, content: string): string {
  return `<div class="scroll" tabindex="0" role="group" aria-label="${escaped(label)}">${content}</div>`;
}

function apart(text: string): string {
  return text === '' ? '' : `<bdi>${escaped(text)}</bdi>`;
}
