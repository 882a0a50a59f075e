/**
 * What a day of a household costs, beside parsing the event that reports it, in one run.
 *
 * usage: node bench/run.js demand
 */
import { newHousehold, observe } from '../lib/demand/household.ts';
import { exhaustionDays, overrunProbability, regenerationDays } from '../lib/demand/passage.ts';
import { nextDayUse } from '../lib/demand/predictive.ts';
import { realHomes } from '../tests/support/homes.ts';

const days = realHomes(90).flatMap((home) => {
  let household = newHousehold();
  return home.map(({ date, gallons }, index) => {
    household = observe(household, date, gallons);
    const lastSevenDays = home.slice(Math.max(0, index - 6), index + 1).map((day) => day.gallons);
    // A bed of about five days, used up to somewhere.
    const left = household.level * (0.5 + ((index * 7) % 45) / 10);
    const bed = {
      believedGallons: left,
      remainingGallons: left * 1.03,
      lastSevenDays,
      shareBeforeHour: 0.042,
      reserve: true,
    };
    return { household, date, gallons, left, bed };
  });
});
const EVENT = JSON.stringify({
  specversion: '1.0',
  id: 'flow-20454',
  source: '/companies/larkwater/units/unit-0017',
  type: 'brinebell.flow-day.v1',
  time: '2026-01-02T06:00:00.000Z',
  recordedtime: '2026-01-02T06:04:11.000Z',
  data: {
    date: '2026-01-01',
    volume: { value: 182.4, unit: '[gal_us]' },
    peakFlow: { value: 5.2, unit: '[gal_us]/min' },
  },
});

const WORK: Record<string, (day: (typeof days)[number]) => unknown> = {
  'JSON.parse of a flow day': () => JSON.parse(EVENT),
  observe: ({ household, date, gallons }) => observe(household, date, gallons),
  'next day': ({ household, date }) => nextDayUse(household, date),
  exhaustion: ({ household, date, left }) => exhaustionDays(household, date, left),
  'next regeneration': ({ household, date, bed }) => regenerationDays(household, date, bed),
  overrun: ({ household, date, bed }) => overrunProbability(household, date, bed),
};

/** Microseconds of CPU a call; rounds of all kinds of work take turns, and the least of each counts. */
const least = new Map<string, number>();
for (let round = 0; round < 12; round++) {
  for (const [name, work] of Object.entries(WORK)) {
    const before = process.cpuUsage();
    for (const day of days) work(day);
    const { user, system } = process.cpuUsage(before);
    least.set(name, Math.min(least.get(name) ?? Number.POSITIVE_INFINITY, (user + system) / days.length));
  }
}
console.log(`${days.length} days of real homes; microseconds of CPU each`);
for (const [name, cost] of least) console.log(`  ${name.padEnd(26)} ${cost.toFixed(2).padStart(6)}`);
