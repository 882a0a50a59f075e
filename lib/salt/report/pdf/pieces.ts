import { drawChart } from '../../../brief/pdf/drawChart.ts';
import type { Column, Pen, TextStyle } from '../../../brief/pdf/pen.ts';
import type { MethodStep } from '../../account/method.ts';
import type { Block, Figure, RegionReport, Section, Table } from '../content.ts';
import { LOOKS } from '../drawings/look.ts';
import { drawable } from './drawable.ts';
import type { Piece } from './flow.ts';

/** Sizes in points. */
const SIZE = { region: 20, title: 11, heading: 12.5, step: 10, text: 9.2, small: 8.2, value: 14 };
const COLOR = { quiet: '#46535c', accent: '#0b4a6f', line: '#d5dbe0', strong: '#5b6770', caution: '#a4460d' };
const GAP = 8;

const plain: TextStyle = { size: SIZE.text };
const bold: TextStyle = { size: SIZE.text, bold: true };
const small: TextStyle = { size: SIZE.small, color: COLOR.quiet };

/** All of a report, in pieces that each stand on one page. */
export function piecesOf(report: RegionReport, page: Column): Piece[] {
  return [head(report, page), ...report.sections.flatMap((section) => sectionPieces(section, page))];
}

function head({ title, region, facts }: RegionReport, page: Column): Piece {
  return {
    write: (pen) => {
      pen.text(title, page, { size: SIZE.title, bold: true, color: COLOR.accent });
      pen.text(region, page, { size: SIZE.region, bold: true });
      pen.skip(2);
      for (const fact of facts) pen.text(fact, page, small);
    },
  };
}

function sectionPieces({ title, blocks }: Section, page: Column): Piece[] {
  const heading: Piece = {
    leads: true,
    write: (pen) => {
      pen.skip(14);
      pen.text(title, page, { size: SIZE.heading, bold: true });
      pen.skip(1);
      pen.doc?.undash();
      pen.rule(page, COLOR.accent, 1);
      pen.skip(5);
    },
  };
  return [heading, ...blocks.flatMap((block) => blockPieces(block, page))];
}

function blockPieces(block: Block, page: Column): Piece[] {
  switch (block.kind) {
    case 'text':
      return [{ write: (pen) => paragraph(pen, block, page) }];
    case 'figures':
      return [{ write: (pen) => figures(pen, block.figures, page) }];
    case 'drawing':
      return [
        {
          write: (pen) => {
            pen.skip(3);
            drawChart(pen, block.drawing, LOOKS, page);
            pen.skip(4);
          },
        },
      ];
    case 'table':
      return tablePieces(block, page);
    case 'steps':
      return block.steps.map((step) => ({ write: (pen) => methodStep(pen, step, page) }));
  }
}

function paragraph(pen: Pen, { text, tone }: Extract<Block, { kind: 'text' }>, page: Column): void {
  if (tone !== 'caution') {
    pen.text(text, page, tone === 'quiet' ? small : plain);
    pen.skip(5);
    return;
  }
  const top = pen.y;
  pen.text(text, { x: page.x + 9, width: page.width - 9 }, bold);
  pen.doc?.rect(page.x, top, 3, pen.y - top).fill(COLOR.caution);
  pen.skip(6);
}

/** Side by side, each in a box of its own. */
function figures(pen: Pen, some: readonly Figure[], page: Column): void {
  const width = (page.width - GAP * (some.length - 1)) / Math.max(1, some.length);
  const top = pen.y + 2;
  let bottom = top;
  some.forEach(({ label, value, range, note }, index) => {
    const inner = { x: page.x + index * (width + GAP) + 6, width: width - 12 };
    pen.y = top + 6;
    pen.text(label, inner, small);
    pen.text(value, inner, { size: SIZE.value, bold: true });
    pen.text(range ?? 'no interval worked out', inner, { size: SIZE.small });
    pen.text(note, inner, { size: SIZE.small - 0.6, color: COLOR.quiet });
    bottom = Math.max(bottom, pen.y + 6);
  });
  const { doc } = pen;
  if (doc) {
    for (const index of some.keys()) {
      const x = page.x + index * (width + GAP);
      doc
        .undash()
        .lineWidth(0.7)
        .rect(x, top, width, bottom - top)
        .stroke(COLOR.line);
      doc.rect(x, top, width, 2.2).fill(COLOR.accent);
    }
  }
  pen.y = bottom + 8;
}

function methodStep(pen: Pen, { title, formula, text, source }: MethodStep, page: Column): void {
  pen.skip(3);
  pen.text(title, page, { size: SIZE.step, bold: true });
  if (formula !== undefined) pen.text(drawable(formula), page, { size: SIZE.text, color: COLOR.accent });
  pen.text(drawable(text), page, plain);
  if (source !== undefined) pen.text(drawable(`Source: ${source}`), page, small);
  pen.skip(4);
}

function tablePieces({ caption, columns, rows, hasTotal }: Table, page: Column): Piece[] {
  let x = page.x;
  const places = columns.map(({ share }) => {
    const width = share * page.width;
    const column = { x, width: width - GAP };
    x += width;
    return column;
  });
  // The last column ends where the page does.
  const last = places.at(-1);
  const cells = last ? [...places.slice(0, -1), { x: last.x, width: last.width + GAP }] : places;
  const row = (pen: Pen, texts: readonly string[], style: TextStyle) => {
    const top = pen.y;
    let bottom = top;
    texts.forEach((each, index) => {
      const column = cells[index];
      if (!column || each === '') return;
      pen.y = top;
      if (columns[index]?.isNumber) pen.textToTheRight(each, column, style);
      else pen.text(each, column, style);
      bottom = Math.max(bottom, pen.y);
    });
    pen.y = bottom;
  };
  const heads = (pen: Pen) => {
    row(
      pen,
      columns.map(({ head: each }) => each),
      small,
    );
    pen.skip(1.5);
    pen.doc?.undash();
    pen.rule(page, COLOR.strong, 0.7);
    pen.skip(2.5);
  };
  return [
    {
      leads: true,
      write: (pen) => {
        pen.skip(5);
        pen.text(caption, page, bold);
        pen.skip(2);
        heads(pen);
      },
    },
    ...rows.map((texts, index): Piece => {
      const isLast = index === rows.length - 1;
      return {
        // Neither the first nor the last row of a table is left alone.
        leads: index === 0 ? rows.length > 1 : index === rows.length - 2,
        again: heads,
        write: (pen) => {
          row(pen, texts, hasTotal && isLast ? bold : plain);
          pen.skip(1.5);
          pen.doc?.undash();
          pen.rule(page, COLOR.line, 0.5);
          pen.skip(isLast ? 7 : 2);
        },
      };
    }),
  ];
}
