import { scaleOf } from '../../lib/chart/scale.ts';
import { px } from '../../lib/chart/svg.ts';
import { ends, quantileOf } from '../../lib/demand/backtest/grid.ts';
import type { Forecast } from '../../lib/demand/backtest/roll.ts';
import { formatLocalDate } from '../../shared/time/localDate.ts';
import { chart, type Places } from '../chart/frame.ts';
import type { Report } from './report.ts';

const DAYS_SHOWN = 60;
const TICK_DAYS = 14;

/** The last 60 days of a home: what was forecast on the eve of each, and what came. */
export function fanChart({ example }: Report): string {
  const { home, forecasts } = example;
  const to = forecasts.at(-1)?.date ?? 0;
  const from = to - DAYS_SHOWN + 1;
  const shown = forecasts.filter(({ date }) => date >= from);
  const held = shown.filter(isHeld);
  const { ticks } = scaleOf(
    shown.flatMap(({ gallons, quantiles }) => [gallons, quantileOf(quantiles, 90)]),
    0,
    0,
    1,
  );
  return chart(
    {
      id: 'fan',
      title: `Home ${home}, a day ahead, ${formatLocalDate(from)} to ${formatLocalDate(to)}`,
      description:
        `Band from the 10 to the 90 % quantile, line at the 50 % quantile, dots what was used. ${held.length} of ` +
        `${shown.length} reported days lay within the band.`,
    },
    {
      x: {
        label: 'local date',
        from: from - 1,
        to: to + 1,
        ticks: Array.from({ length: Math.ceil(DAYS_SHOWN / TICK_DAYS) }, (_, index) => {
          const value = from + 2 + TICK_DAYS * index;
          return { value, text: formatLocalDate(value) };
        }),
      },
      y: {
        label: 'US gallons a day',
        from: 0,
        to: ticks.at(-1) ?? 1,
        ticks: ticks.map((value) => ({ value, text: String(value) })),
      },
    },
    (places) =>
      [
        ...runsOf(shown).map((run) => ribbon(places, run)),
        ...shown.map((each) => dot(places, each)),
        legend(places),
      ].join('\n'),
  );
}

function isHeld({ quantiles, gallons }: Forecast): boolean {
  const { lower, upper } = ends(quantiles, 80);
  return gallons >= lower && gallons <= upper;
}

/** Forecasts of days that follow one another: a day that was not reported has none, and nothing is drawn across it. */
function runsOf(forecasts: readonly Forecast[]): Forecast[][] {
  const runs: Forecast[][] = [];
  for (const each of forecasts) {
    const run = runs.at(-1);
    if (run?.at(-1)?.date === each.date - 1) run.push(each);
    else runs.push([each]);
  }
  return runs;
}

/** Each day has its own step, half a day to either side. */
function ribbon({ x, y }: Places, run: readonly Forecast[]): string {
  const steps = (percent: number) =>
    run.flatMap(({ date, quantiles }) => {
      const at = px(y(quantileOf(quantiles, percent)));
      return [`${px(x(date - 0.5))},${at}`, `${px(x(date + 0.5))},${at}`];
    });
  const outline = [...steps(90), ...steps(10).reverse()].join(' ');
  return `<polygon class="fan" points="${outline}"/><polyline class="median" points="${steps(50).join(' ')}"/>`;
}

function dot({ x, y }: Places, forecast: Forecast): string {
  const name = isHeld(forecast) ? 'held' : 'missed';
  return `<circle class="${name}" cx="${px(x(forecast.date))}" cy="${px(y(forecast.gallons))}" r="3.2"><title>${formatLocalDate(forecast.date)}: ${forecast.gallons.toFixed(0)} gallons</title></circle>`;
}

function legend({ right, top }: Places): string {
  const y = top - 18;
  const [band, line, held, missed] = [right - 470, right - 330, right - 200, right - 88];
  return `<rect class="fan" x="${band}" y="${y - 11}" width="20" height="13"/><text x="${band + 26}" y="${y}">10 to 90 %</text>
<line class="median" x1="${line}" x2="${line + 20}" y1="${y - 4}" y2="${y - 4}"/><text x="${line + 26}" y="${y}">50 %</text>
<circle class="held" cx="${held}" cy="${y - 4}" r="3.2"/><text x="${held + 9}" y="${y}">used, within</text>
<circle class="missed" cx="${missed}" cy="${y - 4}" r="3.2"/><text x="${missed + 9}" y="${y}">used, outside</text>`;
}
