/**
 * Whether a year to come lies within its interval: simulated regions are asked after their first year, and live a second
 * one under both settings. Of intervals of 80 % four in five should hold it.
 *
 * usage: node bench/run.js whatIfAhead [--from 1] [--to 40] [--units 24]
 */
import { parseArgs } from 'node:util';
import type { Imagined } from '../lib/advice/region/imagined.ts';
import { SIDES } from '../lib/advice/region/unitWhatIf.ts';
import { regionAhead } from '../tests/support/whatIfAhead.ts';

const { values } = parseArgs({
  options: {
    from: { type: 'string', default: '1' },
    to: { type: 'string', default: '40' },
    units: { type: 'string', default: '24' },
  },
});
const IMAGINED: Readonly<Record<string, Imagined>> = {
  'all at 5 lb a cubic foot': { doseLbPerCubicFoot: 5 },
  corrected: { corrected: true },
  'by forecast': { reserve: 'forecast' },
  'potassium chloride': { salt: 'KCl' },
};

for (const [words, imagined] of Object.entries(IMAGINED)) {
  const regions: ReturnType<typeof regionAhead>[] = [];
  for (let seed = Number(values.from); seed <= Number(values.to); seed++) {
    regions.push(regionAhead(seed, Number(values.units), imagined));
  }
  for (const measure of ['saltLb', 'hardDays'] as const) {
    const told = SIDES.map((side) => {
      const off = regions.map(({ answer, lived }) => {
        const estimate = answer.estimates?.[measure][side] ?? { value: 0, low: 0, high: 0 };
        const { today, imagined: then } = lived[measure];
        const truth = side === 'difference' ? then - today : side === 'today' ? today : then;
        return { ...estimate, truth, isHeld: truth >= estimate.low && truth <= estimate.high };
      });
      const held = off.filter(({ isHeld }) => isHeld).length / off.length;
      const mean = (of: (each: (typeof off)[number]) => number) =>
        off.reduce((sum, each) => sum + of(each), 0) / off.length;
      return [
        `${side} held ${(100 * held).toFixed(0)} %`,
        `mean ${mean(({ value }) => value).toFixed(0)}`,
        `width ${mean(({ low, high }) => high - low).toFixed(0)}`,
        `bias ${mean(({ value, truth }) => value - truth).toFixed(0)}`,
      ].join(', ');
    });
    console.log(`${words}, ${measure}: ${told.join(' | ')}`);
  }
}
