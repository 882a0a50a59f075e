import fc from 'fast-check';
import { formatInstant, type Instant } from '../../shared/time/instant.ts';
import { formatLocalDate, type LocalDate } from '../../shared/time/localDate.ts';
import { type Zone, zoneNamed } from '../../shared/time/zone.ts';

/** One event of the invented unit u-17, as it travels. */
export interface Wire {
  specversion: '1.0';
  id: string;
  source: string;
  type: string;
  time: string;
  recordedtime?: string;
  data: Record<string, unknown>;
}

const HOUR = 3_600_000;
const GALLON_UNITS = { '[gal_us]': 1, L: 3.785411784, m3: 0.003785411784 } as const;

/** An event of a type, with its id and instants. */
export function wire(
  type: string,
  id: string,
  time: Instant,
  data: Record<string, unknown>,
  recorded?: Instant,
): Wire {
  return {
    specversion: '1.0',
    id,
    source: '/companies/fenwick-water/units/u-17',
    type: `brinebell.${type}.v1`,
    time: formatInstant(time),
    ...(recorded === undefined ? {} : { recordedtime: formatInstant(recorded) }),
    data,
  };
}

/** A flow day of so many gallons that closes at the site's midnight. */
export function flowDay(
  zone: Zone,
  date: LocalDate,
  gallons: number,
  unit: keyof typeof GALLON_UNITS = '[gal_us]',
): Wire {
  const closes = zone.startOf(date + 1);
  const value = gallons * GALLON_UNITS[unit];
  return wire(
    'flow-day',
    `flow-${date}`,
    closes,
    { date: formatLocalDate(date), volume: { value, unit } },
    closes + 60_000,
  );
}

/** A regeneration by the control's own count, some hours into a local date. */
export function regeneration(
  zone: Zone,
  date: LocalDate,
  hour: number,
  data: Record<string, unknown> = {},
): Wire {
  const time = zone.startOf(date) + hour * HOUR;
  return wire(
    'regeneration',
    `regen-${date}-${hour}`,
    time,
    { trigger: 'metered', ...data },
    time + 2 * HOUR,
  );
}

export function zoneOf(name: string): Zone {
  const zone = zoneNamed(name);
  if (!zone) throw new Error(`${name} is not a zone`);
  return zone;
}

const pounds = fc.integer({ min: 0, max: 200 }).map((value) => ({ value, unit: '[lb_av]' }));
const delay = fc.oneof(
  { weight: 6, arbitrary: fc.constant(60_000) },
  { weight: 2, arbitrary: fc.integer({ min: 1, max: 30 }).map((hours) => hours * HOUR) },
  { weight: 1, arbitrary: fc.integer({ min: 2, max: 40 }).map((days) => days * 24 * HOUR) },
);

/** Something that may happen on a day of a story; `day` counts from its first. */
const happening = fc.oneof(
  {
    weight: 8,
    arbitrary: fc.record({
      type: fc.constant('flow-day' as const),
      gallons: fc.oneof(fc.constant(0), fc.integer({ min: 0, max: 900 })),
      unit: fc.constantFrom('[gal_us]' as const, 'L' as const, 'm3' as const),
      /** A correction closes the same day again, later. */
      correction: fc.integer({ min: 0, max: 3 }),
      delay,
    }),
  },
  {
    weight: 3,
    arbitrary: fc.record({
      type: fc.constant('regeneration' as const),
      hour: fc.constantFrom(0, 2, 2, 2, 13, 23),
      data: fc.record(
        {
          trigger: fc.constantFrom('metered', 'manual', 'unknown'),
          saltBefore: pounds,
          saltAfter: pounds,
          brineDrawn: fc.integer({ min: 0, max: 12 }).map((value) => ({ value, unit: 'L' })),
          volumeSince: fc.integer({ min: 0, max: 1500 }).map((value) => ({ value, unit: '[gal_us]' })),
          water: fc.integer({ min: 20, max: 120 }).map((value) => ({ value, unit: '[gal_us]' })),
        },
        { requiredKeys: ['trigger'] },
      ),
      delay,
    }),
  },
  {
    weight: 2,
    arbitrary: fc.record({
      type: fc.constant('salt-level' as const),
      mass: pounds,
      hour: fc.integer({ min: 0, max: 23 }),
      delay,
    }),
  },
  {
    weight: 1,
    arbitrary: fc.record({
      type: fc.constant('settings' as const),
      capacity: fc.integer({ min: 8000, max: 40_000 }),
      mode: fc.constantFrom('service', 'setup'),
      delay,
    }),
  },
  {
    weight: 1,
    arbitrary: fc.record({ type: fc.constant('service-visit' as const), saltAdded: pounds, delay }),
  },
  {
    weight: 1,
    arbitrary: fc.record({
      type: fc.constantFrom('away' as const, 'at-home' as const),
      days: fc.integer({ min: 0, max: 9 }),
      delay,
    }),
  },
);

type Happening = typeof happening extends fc.Arbitrary<infer Value> ? Value : never;

/** The zones and first days of the stories: the 2026 clock changes of each lie within the weeks that follow. */
const START = fc.constantFrom(
  { timeZone: 'America/New_York', from: '2026-02-20' },
  { timeZone: 'America/New_York', from: '2026-10-15' },
  { timeZone: 'Australia/Lord_Howe', from: '2026-03-20' },
  { timeZone: 'America/St_Johns', from: '2026-10-20' },
  { timeZone: 'Asia/Kathmandu', from: '2026-12-15' },
);

/** A unit's story over some weeks, tidy or not: what happens, in the order in which it does. */
export const story = fc
  .record({
    start: START,
    days: fc.array(fc.array(happening, { maxLength: 3 }), { minLength: 1, maxLength: 45 }),
  })
  .map(({ start, days }) => {
    const zone = zoneOf(start.timeZone);
    const first = Date.parse(`${start.from}T00:00:00Z`) / 86_400_000;
    const events = days.flatMap((happenings, day) =>
      happenings.map((each, index) => toWire(each, zone, first + day, `${day}-${index}`)),
    );
    return { timeZone: start.timeZone, events };
  });

function toWire(happening: Happening, zone: Zone, date: LocalDate, id: string): Wire {
  const noon = zone.startOf(date) + 12 * HOUR;
  switch (happening.type) {
    case 'flow-day': {
      const day = flowDay(zone, date, happening.gallons, happening.unit);
      const time = zone.startOf(date + 1) + happening.correction * 30 * HOUR;
      return { ...day, id, time: formatInstant(time), recordedtime: formatInstant(time + happening.delay) };
    }
    case 'regeneration': {
      const time = zone.startOf(date) + happening.hour * HOUR;
      return wire('regeneration', id, time, happening.data, time + happening.delay);
    }
    case 'salt-level': {
      const time = zone.startOf(date) + happening.hour * HOUR;
      return wire('salt-level', id, time, { mass: happening.mass }, time + happening.delay);
    }
    case 'settings': {
      const data = {
        hardness: { value: 342, unit: 'mg/L' },
        capacity: { value: happening.capacity, unit: '[gr]' },
        regenerationHour: 2,
        mode: happening.mode,
      };
      return wire('settings', id, noon, data, noon + happening.delay);
    }
    case 'service-visit': {
      const data = { technician: 'tech-4', findings: [], work: [], saltAdded: happening.saltAdded };
      return wire('service-visit', id, noon, data, noon + happening.delay);
    }
    case 'away':
    case 'at-home': {
      const data = { from: formatLocalDate(date - happening.days), to: formatLocalDate(date) };
      return wire(happening.type, id, noon, data, noon + happening.delay);
    }
  }
}
