import { escaped, px } from '../../lib/chart/svg.ts';
import type { HomeScore } from '../../lib/demand/backtest/scoreHome.ts';
import { FAIR_COVERAGE } from '../../lib/demand/backtest/summary.ts';
import { chart, type Places } from '../chart/frame.ts';
import { nextText, percent, type Report, scoreOf } from './report.ts';

const ROW_HEIGHT = 64;
const ROOM = ROW_HEIGHT - 10;
/** Columns of dots: so many percent wide. */
const BIN = 1.25;
/** Of more homes a column is one bar: dots would hide each other. */
export const MOST_DOTS = 200;

type Columns = ReadonlyMap<number, readonly HomeScore[]>;

/** What the 80 % intervals of the demand model held home by home, a row of dots a horizon. */
export function homesChart(report: Report): string {
  const { horizons, byHome } = report;
  const [family] = report.families;
  const own = byHome.filter((score) => score.family === family);
  const lowest = Math.min(...own.map(({ coverage }) => 100 * coverage[80]));
  const from = Math.min(50, 10 * Math.floor(lowest / 10));
  const description = horizons.map((days) => {
    const homes = own.filter((score) => score.days === days);
    const shares = homes.map(({ coverage }) => coverage[80]);
    return (
      `${nextText(days)}: ${percent(scoreOf(report, family, days)?.homesFair ?? null, 0)} of ${homes.length} homes within ` +
      `70 to 90 %, all within ${percent(Math.min(...shares), 0)} to ${percent(Math.max(...shares), 0)}`
    );
  });
  const columns = horizons.map((days) => columnsOf(own.filter((score) => score.days === days)));
  const tallest = Math.max(...columns.flatMap((each) => [...each.values()].map(({ length }) => length)));
  const ticks = Array.from({ length: (100 - from) / 10 + 1 }, (_, index) => from + 10 * index);
  return chart(
    {
      id: 'homes',
      title: 'Coverage of the 80 % intervals, home by home',
      description: `${description.join('. ')}.`,
    },
    {
      x: {
        label: '% of a home\u2019s forecasts whose 80 % interval held what came',
        from: from - 1,
        to: 101,
        ticks: ticks.map((value) => ({ value, text: String(value) })),
      },
      y: {
        label: 'days together',
        from: horizons.length,
        to: 0,
        ticks: horizons.map((days, index) => ({ value: index + 1, text: String(days) })),
      },
      height: 86 + ROW_HEIGHT * horizons.length,
    },
    (places) =>
      [
        fairBand(places),
        ...columns.map((each, index) => row(places, index + 1, each, tallest, report.homes > MOST_DOTS)),
      ].join('\n'),
  );
}

function fairBand({ x, top, bottom }: Places): string {
  const [left, right] = [x(100 * FAIR_COVERAGE.least), x(100 * FAIR_COVERAGE.most)];
  return `<rect class="band" x="${px(left)}" width="${px(right - left)}" y="${top}" height="${bottom - top}"/>`;
}

/** Homes by the column that they stand in. */
function columnsOf(homes: readonly HomeScore[]): Columns {
  const columns = new Map<number, HomeScore[]>();
  for (const home of homes) {
    const bin = Math.round((100 * home.coverage[80]) / BIN);
    columns.set(bin, [...(columns.get(bin) ?? []), home]);
  }
  return columns;
}

function row({ x, y }: Places, place: number, columns: Columns, tallest: number, asBars: boolean): string {
  const radius = Math.min(3.6, x(BIN / 2) - x(0), ROOM / tallest / 2);
  const floor = y(place);
  return [...columns]
    .map(([bin, column]) => {
      const at = x(bin * BIN);
      if (asBars) {
        const height = (ROOM * column.length) / tallest;
        return `<rect class="bar" x="${px(at - 3)}" width="6" y="${px(floor - height)}" height="${px(height)}"/>`;
      }
      return column
        .map((home, index) => dot(home, at, floor - radius * (2 * index + 1) - 1, radius))
        .join('');
    })
    .join('\n');
}

function dot({ home, coverage }: HomeScore, x: number, y: number, radius: number): string {
  return `<circle class="dot" cx="${px(x)}" cy="${px(y)}" r="${px(radius)}"><title>${escaped(home)}: ${percent(coverage[80])}</title></circle>`;
}
