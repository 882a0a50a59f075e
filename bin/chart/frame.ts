import { escaped, px } from '../../lib/chart/svg.ts';

/** An axis of a chart: what it is about, the values at its two ends, and those that are written on it. */
export interface Axis {
  readonly label: string;
  readonly from: number;
  readonly to: number;
  readonly ticks: readonly { readonly value: number; readonly text: string }[];
}

/** Where values lie in a chart. */
export interface Places {
  x(value: number): number;
  y(value: number): number;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** What a chart is called and says, for whoever cannot see it. `id` is its own within the page. */
export interface Named {
  readonly id: string;
  readonly title: string;
  readonly description: string;
}

const WIDTH = 760;
const HEIGHT = 330;
const MARGIN = { left: 58, right: 18, top: 36, bottom: 50 } as const;

/** A chart with both axes as SVG; `marks` draws what is in it. */
export function chart(
  named: Named,
  { x, y, height = HEIGHT }: { x: Axis; y: Axis; height?: number },
  marks: (places: Places) => string,
): string {
  const places = placesOf(x, y, height);
  const { left, right, top, bottom } = places;
  const rows = y.ticks.map(({ value, text }) => {
    const at = places.y(value);
    return `<line class="grid" x1="${left}" x2="${right}" y1="${px(at)}" y2="${px(at)}"/><text x="${left - 8}" y="${px(at + 4)}" text-anchor="end">${escaped(text)}</text>`;
  });
  const columns = x.ticks.map(({ value, text }) => {
    const at = px(places.x(value));
    return `<line class="axis" x1="${at}" x2="${at}" y1="${bottom}" y2="${bottom + 5}"/><text x="${at}" y="${bottom + 20}" text-anchor="middle">${escaped(text)}</text>`;
  });
  return `<svg viewBox="0 0 ${WIDTH} ${height}" role="img" aria-labelledby="${named.id}-title ${named.id}-desc">
<title id="${named.id}-title">${escaped(named.title)}</title>
<desc id="${named.id}-desc">${escaped(named.description)}</desc>
${rows.join('\n')}
${columns.join('\n')}
${marks(places)}
<line class="axis" x1="${left}" x2="${right}" y1="${bottom}" y2="${bottom}"/>
<text class="label" x="${(left + right) / 2}" y="${height - 8}" text-anchor="middle">${escaped(x.label)}</text>
<text class="label" x="4" y="${top - 18}">${escaped(y.label)}</text>
</svg>`;
}

/** A band across the chart between two values of the upright axis. */
export function bandAcross({ left, right, y }: Places, least: number, most: number): string {
  return `<rect class="band" x="${left}" width="${right - left}" y="${px(y(most))}" height="${px(y(least) - y(most))}"/>`;
}

function placesOf(x: Axis, y: Axis, height: number): Places {
  const [left, right, top, bottom] = [MARGIN.left, WIDTH - MARGIN.right, MARGIN.top, height - MARGIN.bottom];
  return {
    x: (value) => left + ((value - x.from) / (x.to - x.from)) * (right - left),
    y: (value) => bottom + ((value - y.from) / (y.to - y.from)) * (top - bottom),
    left,
    right,
    top,
    bottom,
  };
}
