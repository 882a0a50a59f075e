import { escaped, px } from '../../lib/chart/svg.ts';

const SIZE = 4.5;

/** The mark of a family by its place in their order: colour and shape both tell which. */
function mark(family: number, x: number, y: number): string {
  const name = `class="mark f${family}"`;
  const path = (d: string) => `<path ${name} d="${d}"/>`;
  const [left, right, top, bottom] = [px(x - SIZE), px(x + SIZE), px(y - SIZE), px(y + SIZE)];
  if (family === 0) return `<circle ${name} cx="${px(x)}" cy="${px(y)}" r="5"/>`;
  if (family === 1) return path(`M${left} ${top}H${right}V${bottom}H${left}Z`);
  if (family === 2) return path(`M${px(x)} ${px(y - 5.5)}L${px(x + 5.5)} ${bottom}H${px(x - 5.5)}Z`);
  return path(`M${px(x)} ${px(y - 6)}L${px(x + 6)} ${px(y)}L${px(x)} ${px(y + 6)}L${px(x - 6)} ${px(y)}Z`);
}

/** The marks with their names, in a row that ends at `right`. */
export function legendRow(families: readonly string[], right: number, y: number): string {
  const widths = families.map((family) => 34 + 7.4 * family.length);
  let x = right - widths.reduce((sum, width) => sum + width, 0);
  return families
    .map((family, index) => {
      const at = x;
      x += widths[index] ?? 0;
      return `${mark(index, at + 8, y - 4)}<text x="${px(at + 18)}" y="${y}">${escaped(family)}</text>`;
    })
    .join('\n');
}

/** A line through points, with a family's mark on each. */
export function lineOf(family: number, points: readonly { x: number; y: number }[]): string {
  const path = points.map(({ x, y }) => `${px(x)},${px(y)}`).join(' ');
  return `<polyline class="line f${family}" points="${path}"/>${points.map(({ x, y }) => mark(family, x, y)).join('')}`;
}
