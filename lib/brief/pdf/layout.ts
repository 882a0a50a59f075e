import type { Drawing } from '../chart/drawing.ts';
import { LOOKS } from '../chart/look.ts';
import type { Sheet } from '../sheet.ts';
import { drawChart } from './drawChart.ts';
import type { Column, Pen } from './pen.ts';

/** Sizes in points, before the scale. */
const SIZE = { place: 15, heading: 10, text: 8.6, small: 7.6, foot: 6.8 };
const COLOR = { quiet: '#46535c', accent: '#0b4a6f', line: '#d5dbe0', urgent: '#a4460d' };
const GUTTER = 18;
const BOX = 6.2;

const text = { size: SIZE.text };
const strong = { size: SIZE.text, bold: true };
const small = { size: SIZE.small, color: COLOR.quiet };

/** Writes a whole sheet into a column as wide as the page: a head, two columns side by side, the cautions, a foot. */
export function layOut(pen: Pen, sheet: Sheet, drawing: Drawing, page: Column): void {
  head(pen, sheet, page);
  sideBySide(
    pen,
    page,
    (column) => {
      why(pen, sheet, column);
      section(pen, 'What the meter says', column);
      drawChart(pen, drawing, LOOKS, column);
      causes(pen, sheet, column);
    },
    (column) => {
      checks(pen, sheet, column);
      parts(pen, sheet, column);
      settings(pen, sheet, column);
      record(pen, sheet, column);
    },
  );
  section(pen, 'Cautions', page);
  const half = Math.ceil(sheet.cautions.length / 2);
  const some = (cautions: Sheet['cautions']) => (column: Column) => {
    for (const { label, value } of cautions) {
      pen.text(label, column, strong);
      pen.text(value, column, text);
      pen.skip(2);
    }
  };
  sideBySide(pen, page, some(sheet.cautions.slice(0, half)), some(sheet.cautions.slice(half)));
  pen.skip(4);
  pen.text(sheet.foot, page, { size: SIZE.foot, color: COLOR.quiet });
}

function head(pen: Pen, { title, place, address, facts, reason }: Sheet, page: Column): void {
  pen.text(title, page, { size: SIZE.heading, bold: true, color: COLOR.accent });
  pen.text(place, page, { size: SIZE.place, bold: true });
  if (address !== null) pen.text(address, page, text);
  pen.skip(3);
  for (const { label, value } of facts) pair(pen, label, value, page);
  if (reason !== null) pair(pen, 'Reason', reason, page);
}

function why(pen: Pen, { why: reasons, harm }: Sheet, column: Column): void {
  section(pen, 'Why', column);
  for (const { sentence, detail, severity } of reasons) {
    pen.text(sentence, column, text);
    const color = severity === 'urgent' ? COLOR.urgent : COLOR.quiet;
    if (detail !== '') pen.text(detail, column, { size: SIZE.small, color });
    pen.skip(2);
  }
  if (harm !== null) pen.text(harm, column, strong);
}

function causes(pen: Pen, sheet: Sheet, column: Column): void {
  if (sheet.causes.length === 0) return;
  section(pen, 'Causes, the likeliest first', column);
  const [number, rest] = split(column, 30 * pen.scale);
  for (const { words, percent, howSure, remedy } of sheet.causes) {
    const top = pen.y;
    pen.text(percent, number, strong);
    pen.y = top;
    pen.text(words, rest, strong);
    pen.text(`${remedy} (${howSure})`, rest, small);
    pen.skip(1.5);
  }
}

function checks(pen: Pen, sheet: Sheet, column: Column): void {
  if (sheet.checks.length === 0) return;
  section(pen, 'Checks', column);
  pen.text(sheet.checksNote, column, small);
  const [number, rest] = split(column, 14 * pen.scale);
  sheet.checks.forEach(({ task, telling }, index) => {
    const top = pen.y;
    pen.text(`${index + 1}.`, number, strong);
    pen.y = top;
    pen.text(task, rest, text);
    pen.text(telling, rest, small);
    pen.skip(1.5);
  });
}

function parts(pen: Pen, sheet: Sheet, column: Column): void {
  section(pen, 'Parts to carry', column);
  const [left, right] = split(column, column.width * 0.38);
  for (const { because, parts: some } of sheet.parts) {
    pen.row([
      { text: because, column: left, style: small },
      { text: some, column: right, style: text },
    ]);
    pen.skip(1);
  }
}

function settings(pen: Pen, sheet: Sheet, column: Column): void {
  section(pen, 'Settings', column);
  pen.text(sheet.settingsNote, column, small);
  const isToSet = sheet.settings.some(({ set }) => set !== null);
  const [name, values] = split(column, column.width * 0.34);
  const [now, set] = split(values, values.width / 2);
  const known = isToSet ? now : values;
  const third = (words: string, style = strong) => (isToSet ? [{ text: words, column: set, style }] : []);
  pen.row([
    { text: 'Setting', column: name, style: small },
    { text: 'Known', column: known, style: small },
    ...third('Set', { ...small, bold: false }),
  ]);
  for (const each of sheet.settings) {
    pen.row([
      { text: each.name, column: name, style: text },
      { text: each.now, column: known, style: text },
      ...third(each.set ?? 'leave'),
    ]);
  }
}

function record(pen: Pen, sheet: Sheet, column: Column): void {
  section(pen, 'Before you leave, and record', column);
  const [box, rest] = split(column, 12 * pen.scale);
  for (const line of [...sheet.beforeLeaving, ...sheet.record]) {
    const side = BOX * pen.scale;
    pen.doc
      ?.rect(box.x, pen.y + 2.2 * pen.scale, side, side)
      .undash()
      .lineWidth(0.8)
      .stroke(COLOR.quiet);
    pen.text(line, rest, text);
    pen.skip(1);
  }
}

/** Two things beside each other; the place is then below the longer one. */
function sideBySide(
  pen: Pen,
  { x, width }: Column,
  left: (column: Column) => void,
  right: (column: Column) => void,
): void {
  const half = (width - GUTTER) / 2;
  const top = pen.y;
  left({ x, width: half });
  const bottom = pen.y;
  pen.y = top;
  right({ x: x + half + GUTTER, width: half });
  pen.y = Math.max(pen.y, bottom);
}

function section(pen: Pen, heading: string, column: Column): void {
  pen.skip(7);
  pen.text(heading, column, { size: SIZE.heading, bold: true });
  pen.skip(1);
  pen.doc?.undash();
  pen.rule(column, COLOR.accent, 0.9);
  pen.skip(3);
}

function pair(pen: Pen, label: string, value: string, page: Column): void {
  const [name, rest] = split(page, 52 * pen.scale);
  pen.row([
    { text: label, column: name, style: { size: SIZE.text, color: COLOR.quiet } },
    { text: value, column: rest, style: text },
  ]);
}

/** A column in two: the first of some width with its gap. */
function split({ x, width }: Column, first: number): [Column, Column] {
  const gap = 4;
  return [
    { x, width: first - gap },
    { x: x + first, width: width - first },
  ];
}
