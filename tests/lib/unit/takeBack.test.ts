import { expect, it } from 'vitest';
import { Chance } from '../../../lib/simulation/chance.ts';
import { knownOf } from '../../support/accountsOf.ts';
import { zoneOf } from '../../support/events.ts';
import { registryOf, unitRecord } from '../../support/fleet.ts';
import { FIRST_DATE, linesOf, play } from '../../support/household.ts';

const HOMES = 60;
const GAP = { first: 60, days: 10 };
const DAYS = 85;

/** Regenerations of some homes of which no flow day arrives for a while: those that took place, were reported and imputed. */
function regenerationsOf({ areReported, says }: { areReported: boolean; says: boolean }) {
  const zone = zoneOf('America/New_York');
  const isIn = (date: number) => date >= FIRST_DATE + GAP.first && date < FIRST_DATE + GAP.first + GAP.days;
  const sum = { true: 0, told: 0, imputed: 0 };
  for (let home = 0; home < HOMES; home++) {
    const chance = new Chance(7, home);
    const use = Array.from({ length: DAYS }, () => chance.gamma(240, 0.35));
    let counted = 0;
    const events = play({ days: DAYS, gallons: (day) => use[day] ?? 0 }).map((event) => {
      if (event.type.includes('flow-day')) counted += (event.data.volume as { value: number }).value;
      if (!event.type.includes('regeneration')) return event;
      const volumeSince = { value: counted, unit: '[gal_us]' };
      counted = 0;
      return says ? { ...event, data: { ...event.data, volumeSince } } : event;
    });
    const arrives = events.filter((event) => {
      const date = zone.dateAt(Date.parse(event.time)) - (event.type.includes('flow-day') ? 1 : 0);
      return !isIn(date) || (areReported && event.type.includes('regeneration'));
    });
    const until = zone.startOf(FIRST_DATE + DAYS) + 12 * 3_600_000;
    const [known] = knownOf(linesOf(arrives), registryOf(unitRecord()), until);
    const total = (of: 'regenerations' | 'regenerationsImputed') =>
      known?.months.reduce((all, month) => all + month[of], 0) ?? 0;
    sum.true += events.filter(({ type }) => type.includes('regeneration')).length;
    sum.told += total('regenerations');
    sum.imputed += total('regenerationsImputed');
  }
  return sum;
}

it.each([{ says: true }, { says: false }])(
  'flow days that are lost alone add no regenerations, where controls say their count: $says',
  (control) => {
    const sum = regenerationsOf({ areReported: true, ...control });
    expect(sum.told).toBe(sum.true);
    // Of some 150 that took place within the gaps; the month's end parts a few from what they turn out to be.
    expect(sum.imputed / sum.true).toBeLessThan(0.005);
  },
);

it('regenerations that are lost with their days are made up for, neither more nor fewer', () => {
  const sum = regenerationsOf({ areReported: false, says: true });
  const lost = sum.true - sum.told;
  expect(lost).toBeGreaterThan(100);
  // Each gap rounds to whole regenerations: a standard deviation of some 0.6 each, three of their sum.
  expect(Math.abs(sum.imputed - lost)).toBeLessThan(3 * 0.6 * Math.sqrt(HOMES));
});
