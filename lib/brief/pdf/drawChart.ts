import type { Drawing, Mark } from '../../chart/drawing.ts';
import { INK, type Look, TEXT_SIZE, TRIANGLE } from '../../chart/look.ts';
import type { Column, Pen } from './pen.ts';

/** Draws a picture over the width of a column and goes on below it. */
export function drawChart<Style extends string>(
  pen: Pen,
  { width, height, marks }: Drawing<Style>,
  looks: Readonly<Record<Style, Look>>,
  column: Column,
): void {
  // As high as the rest is scaled; no wider than the column.
  const scale = Math.min(column.width / width, (column.width / width) * pen.scale);
  const { doc } = pen;
  if (doc) {
    const origin = { x: column.x + (column.width - width * scale) / 2, y: pen.y };
    for (const mark of marks) draw(pen, doc, mark, looks, scale, origin);
  }
  pen.y += height * scale;
}

function draw<Style extends string>(
  pen: Pen,
  doc: PDFKit.PDFDocument,
  mark: Mark<Style>,
  looks: Readonly<Record<Style, Look>>,
  scale: number,
  origin: { x: number; y: number },
): void {
  const x = (value: number) => origin.x + value * scale;
  const y = (value: number) => origin.y + value * scale;
  switch (mark.kind) {
    case 'rect':
      doc.rect(x(mark.x), y(mark.y), mark.width * scale, mark.height * scale);
      paint(doc, looks[mark.style], scale);
      break;
    case 'path':
      mark.points.forEach(([px, py], index) => {
        if (index === 0) doc.moveTo(x(px), y(py));
        else doc.lineTo(x(px), y(py));
      });
      // A day alone between days that are missing is a dot.
      if (mark.points.length === 1)
        doc.lineTo(x((mark.points[0]?.[0] ?? 0) + 1), y(mark.points[0]?.[1] ?? 0));
      paint(doc, looks[mark.style], scale);
      break;
    case 'triangle': {
      const base = y(mark.y + TRIANGLE.height);
      doc.polygon(
        [x(mark.x), y(mark.y)],
        [x(mark.x + TRIANGLE.half), base],
        [x(mark.x - TRIANGLE.half), base],
      );
      paint(doc, looks[mark.style], scale);
      break;
    }
    case 'text':
      pen.label(
        mark.text,
        { x: x(mark.x), baseline: y(mark.y), anchor: mark.anchor },
        { size: TEXT_SIZE * scale, bold: mark.bold, color: INK },
      );
  }
}

function paint(doc: PDFKit.PDFDocument, { fill, stroke, width = 1, dash }: Look, scale: number): void {
  doc.lineWidth(width * scale);
  if (dash) doc.dash((dash[0] ?? 1) * scale, { space: (dash[1] ?? 1) * scale });
  else doc.undash();
  if (fill && stroke) doc.fillAndStroke(fill, stroke);
  else if (fill) doc.fill(fill);
  else if (stroke) doc.stroke(stroke);
}
