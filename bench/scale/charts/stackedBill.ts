import { escaped, px } from '../../../lib/chart/svg.ts';
import { keysOf } from '../../../shared/records.ts';
import type { Bill } from '../bill.ts';
import { whole } from '../tell.ts';
import { colourOf, legend, PLOT, picture, vertical } from './frame.ts';

/** Services that come to less than this share everywhere are put together. */
const SMALL = 0.03;

/** What a month's bill is made of, by size of the fleet and by service; shares, and what a meter costs. */
export function stackedBill(fleets: readonly { meters: number; bill: Bill }[]): string {
  const services = fleets[0] ? keysOf(fleets[0].bill.services) : [];
  const large = services.filter((service) =>
    fleets.some(({ bill }) => bill.services[service] / bill.total >= SMALL),
  );
  const names = [...large, 'all others'];
  const columns = fleets.map(({ meters, bill }) => {
    const parts = large.map((service) => (100 * bill.services[service]) / bill.total);
    const rest = 100 - parts.reduce((sum, each) => sum + each, 0);
    const cents = (100 * bill.total) / meters;
    return { meters, parts: [...parts, rest], name: `${cents.toFixed(cents < 1 ? 3 : 1)} cents a meter` };
  });
  const { y, parts } = vertical([100], 'per cent of the bill');
  const step = (PLOT.right - PLOT.left) / columns.length;
  return picture('What a month of meters costs, by service', [
    ...parts,
    ...columns.flatMap(({ meters, parts: values, name }, column) => {
      const left = PLOT.left + step * (column + 0.25);
      let below = 0;
      const boxes = values.map((value, index) => {
        const top = y.at(below + value);
        const box = `<rect x="${px(left)}" y="${px(top)}" width="${px(step / 2)}" height="${px(y.at(below) - top)}" fill="${colourOf(index)}"/>`;
        below += value;
        return box;
      });
      const middle = px(left + step / 4);
      return [
        ...boxes,
        `<text x="${middle}" y="${PLOT.bottom + 36}" text-anchor="middle" font-weight="600">${name}</text>`,
        `<text x="${middle}" y="${PLOT.bottom + 18}" text-anchor="middle">${escaped(`${whole(meters)} meters`)}</text>`,
      ];
    }),
    ...legend(names),
  ]);
}
