import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { formatInstant, type Instant } from '../../../shared/time/instant.ts';
import { type LocalDate, parseLocalDate } from '../../../shared/time/localDate.ts';
import { type Zone, zoneNamed } from '../../../shared/time/zone.ts';

const MINUTE = 60_000;
const HOUR = 3_600_000;
const DAY = 86_400_000;
const NAMES = Intl.supportedValuesOf('timeZone');

function named(name: string): Zone {
  const zone = zoneNamed(name);
  if (!zone) throw new Error(`${name} is not in the time-zone data of this runtime`);
  return zone;
}

function dayOf(text: string): LocalDate {
  return parseLocalDate(text) ?? Number.NaN;
}

interface Year {
  zone: string;
  year: number;
  /** Line of the tz database that says so, as its data file has it (2025b): in, on, at, save. */
  rule: string;
  /** UTC instant, and the offset before and after it in minutes. */
  changes: [instant: string, before: number, after: number][];
}

const US = 'US 2007 max: Mar Sun>=8 2:00, Nov Sun>=1 2:00';
const EU = 'EU: Mar lastSun 1:00u, Oct lastSun 1:00u';

// Instants of 2026 recomputed with tzdata 2025c, those of other years and of Santiago, Cairo, Havana and Troll with
// zdump on tzdata 2025b.
const YEARS: Year[] = [
  { zone: 'America/New_York', year: 2026, rule: US, changes: spring('03-08T07:00', '11-01T06:00', -300) },
  { zone: 'America/Chicago', year: 2026, rule: US, changes: spring('03-08T08:00', '11-01T07:00', -360) },
  { zone: 'America/Los_Angeles', year: 2026, rule: US, changes: spring('03-08T10:00', '11-01T09:00', -480) },
  { zone: 'America/St_Johns', year: 2026, rule: US, changes: spring('03-08T05:30', '11-01T04:30', -210) },
  { zone: 'America/Phoenix', year: 2026, rule: 'no rule since 1968', changes: [] },
  { zone: 'Pacific/Honolulu', year: 2026, rule: 'no rule since 1947', changes: [] },
  { zone: 'Asia/Kolkata', year: 2026, rule: 'no rule since 1945', changes: [] },
  { zone: 'Asia/Kathmandu', year: 2026, rule: 'no rule since 1986', changes: [] },
  { zone: 'Europe/London', year: 2026, rule: EU, changes: spring('03-29T01:00', '10-25T01:00', 0) },
  {
    zone: 'Australia/Lord_Howe',
    year: 2026,
    rule: 'LH 2008 max: Apr Sun>=1 2:00, Oct Sun>=1 2:00 by half an hour',
    changes: [
      ['2026-04-04T15:00:00.000Z', 660, 630],
      ['2026-10-03T15:30:00.000Z', 630, 660],
    ],
  },
  {
    zone: 'Pacific/Chatham',
    year: 2026,
    rule: 'Chatham: Apr Sun>=1 2:45s, Sep lastSun 2:45s',
    changes: [
      ['2026-04-04T14:00:00.000Z', 825, 765],
      ['2026-09-26T14:00:00.000Z', 765, 825],
    ],
  },
  {
    zone: 'America/Santiago',
    year: 2026,
    rule: 'Chile 2023 max: Apr Sun>=2 3:00u, Sep Sun>=2 4:00u',
    changes: [
      ['2026-04-05T03:00:00.000Z', -180, -240],
      ['2026-09-06T04:00:00.000Z', -240, -180],
    ],
  },
  {
    zone: 'America/Sao_Paulo',
    year: 2018,
    rule: 'Brazil 2016 2019: Feb Sun>=15 0:00; 2018 only: Nov Sun>=1 0:00',
    changes: [
      ['2018-02-18T02:00:00.000Z', -120, -180],
      ['2018-11-04T03:00:00.000Z', -180, -120],
    ],
  },
  {
    zone: 'Asia/Beirut',
    year: 2021,
    rule: 'Lebanon 1993 max: Mar lastSun 0:00; 1999 max: Oct lastSun 0:00',
    changes: [
      ['2021-03-27T22:00:00.000Z', 120, 180],
      ['2021-10-30T21:00:00.000Z', 180, 120],
    ],
  },
  {
    zone: 'Antarctica/Troll',
    year: 2026,
    rule: 'Troll: Mar lastSun 1:00u by two hours, Oct lastSun 1:00u',
    changes: [
      ['2026-03-29T01:00:00.000Z', 0, 120],
      ['2026-10-25T01:00:00.000Z', 120, 0],
    ],
  },
  {
    zone: 'America/St_Johns',
    year: 2010,
    rule: 'StJohns 2007 2011: Mar Sun>=8 0:01; 2007 2010: Nov Sun>=1 0:01',
    changes: [
      ['2010-03-14T03:31:00.000Z', -210, -150],
      ['2010-11-07T02:31:00.000Z', -150, -210],
    ],
  },
  {
    zone: 'Pacific/Apia',
    year: 2011,
    rule: 'WS 2011: Apr Sat>=1 4:00, Sep lastSat 3:00; the zone from -11 to +13 on 2011 Dec 29 24:00',
    changes: [
      ['2011-04-02T14:00:00.000Z', -600, -660],
      ['2011-09-24T14:00:00.000Z', -660, -600],
      ['2011-12-30T10:00:00.000Z', -600, 840],
    ],
  },
];

/** An hour forward at the first instant of 2026, back at the second, in a zone of the northern half. */
function spring(forward: string, back: string, standard: number): Year['changes'] {
  return [
    [`2026-${forward}:00.000Z`, standard, standard + 60],
    [`2026-${back}:00.000Z`, standard + 60, standard],
  ];
}

describe('offset changes', () => {
  it.each(YEARS)('of $zone in $year ($rule)', ({ zone: name, year, changes }) => {
    const zone = named(name);
    const found: Year['changes'] = [];
    let before = zone.offsetAt(Date.UTC(year, 0, 1));
    for (let time = Date.UTC(year, 0, 1); time < Date.UTC(year + 1, 0, 1); time += HOUR) {
      const after = zone.offsetAt(time);
      if (after === before) continue;
      let change = time - HOUR;
      while (zone.offsetAt(change) === before) change += 1_000;
      found.push([formatInstant(change), before / MINUTE, after / MINUTE]);
      before = after;
    }
    expect(found).toEqual(changes);
  });
});

describe('a local day', () => {
  // First instant and length worked out by hand from the changes above and from the named rules.
  it.each([
    ['America/New_York', '2026-03-08', '2026-03-08T05:00:00.000Z', 23, US],
    ['America/New_York', '2026-11-01', '2026-11-01T04:00:00.000Z', 25, US],
    ['America/New_York', '2026-07-04', '2026-07-04T04:00:00.000Z', 24, US],
    ['Australia/Lord_Howe', '2026-04-05', '2026-04-04T13:00:00.000Z', 24.5, 'half an hour back at 2:00'],
    ['Australia/Lord_Howe', '2026-10-04', '2026-10-03T13:30:00.000Z', 23.5, 'half an hour forward at 2:00'],
    ['Antarctica/Troll', '2026-03-29', '2026-03-29T00:00:00.000Z', 22, 'two hours forward at 1:00'],
    ['America/Santiago', '2026-09-06', '2026-09-06T04:00:00.000Z', 23, 'skips midnight, begins at 1:00'],
    ['America/Santiago', '2026-04-04', '2026-04-04T03:00:00.000Z', 25, 'its last hour comes twice'],
    ['America/Sao_Paulo', '2018-11-04', '2018-11-04T03:00:00.000Z', 23, 'skips midnight, begins at 1:00'],
    ['America/Sao_Paulo', '2018-02-17', '2018-02-17T02:00:00.000Z', 25, 'its last hour comes twice'],
    ['Asia/Beirut', '2021-03-28', '2021-03-27T22:00:00.000Z', 23, 'skips midnight, begins at 1:00'],
    ['Africa/Cairo', '2026-04-24', '2026-04-23T22:00:00.000Z', 23, 'Egypt 2023 max: Apr lastFri 0:00'],
    ['America/Asuncion', '2023-10-01', '2023-10-01T04:00:00.000Z', 23, 'Para 2010 2024: Oct Sun>=1 0:00'],
    ['America/Havana', '2026-03-08', '2026-03-08T05:00:00.000Z', 23, 'Cuba 2013 max: Mar Sun>=8 0:00s'],
    ['America/Havana', '2026-11-01', '2026-11-01T04:00:00.000Z', 25, 'its midnight comes twice'],
    ['America/St_Johns', '2010-11-07', '2010-11-07T02:30:00.000Z', 25, 'a minute, the 6th again, the rest'],
    ['Pacific/Apia', '2011-12-29', '2011-12-29T10:00:00.000Z', 24, 'the last one east of the date line'],
    ['Pacific/Apia', '2011-12-30', '2011-12-30T10:00:00.000Z', 0, 'skipped: it ends where it begins'],
    ['Pacific/Apia', '2011-12-31', '2011-12-30T10:00:00.000Z', 24, 'the first one west of it'],
  ])('of %s, %s, begins at %s and has %d hours (%s)', (name, date, start, hours) => {
    const zone = named(name);
    const day = dayOf(date);
    expect(formatInstant(zone.startOf(day))).toBe(start);
    expect((zone.startOf(day + 1) - zone.startOf(day)) / HOUR).toBe(hours);
  });

  it.each([
    [
      'America/New_York',
      '2026-03-08T06:59:00Z',
      1 + 59 / 60,
      'the last minute before 2:00, which is skipped',
    ],
    ['America/New_York', '2026-03-08T07:00:00Z', 3, 'after it'],
    ['America/New_York', '2026-11-01T05:30:00Z', 1.5, 'the first 1:30'],
    ['America/New_York', '2026-11-01T06:30:00Z', 1.5, 'the second 1:30'],
    ['Asia/Kathmandu', '2026-01-01T00:00:00Z', 5.75, '345 minutes ahead'],
    ['Pacific/Honolulu', '1969-12-31T10:00:00Z', 0, 'before the epoch'],
  ])('of %s: %s is %d o’clock (%s)', (name, time, hour) => {
    expect(named(name).hourAt(Date.parse(time))).toBeCloseTo(hour, 9);
  });
});

/** The local time as the runtime prints it, read back as if it were UTC. */
function clockOf(name: string): (time: Instant) => number {
  const format = new Intl.DateTimeFormat('en-CA', {
    timeZone: name,
    hourCycle: 'h23',
    year: 'numeric',
    month: '2-digit',
    day: '2-digit',
    hour: '2-digit',
    minute: '2-digit',
    second: '2-digit',
  });
  return (time) => Date.parse(`${format.format(time).replace(', ', 'T')}Z`);
}

// From 1973, when the last zone gave up an offset with seconds (Africa/Monrovia, 1972-01-07).
describe('every zone of the runtime, 1973 to 2037', () => {
  const year = fc.integer({ min: 1973, max: 2037 });

  it('is as far from UTC as the runtime prints it', () => {
    const time = fc.integer({ min: Date.UTC(1973, 0, 1) / 1000, max: Date.UTC(2038, 0, 1) / 1000 });
    fc.assert(
      fc.property(fc.constantFrom(...NAMES), time, (name, seconds) => {
        const clock = clockOf(name);
        expect(clock(seconds * 1000) - seconds * 1000).toBe(named(name).offsetAt(seconds * 1000));
      }),
      { numRuns: 200 },
    );
  });

  it('has days that follow each other without gap or overlap', () => {
    fc.assert(
      fc.property(year, (someYear) => {
        for (const name of NAMES) {
          const zone = named(name);
          const first = dayOf(`${someYear}-01-01`);
          for (let day = first; day < first + 365; day++) {
            const start = zone.startOf(day);
            const skipped = zone.startOf(day + 1) === start;
            const afterSkipped = zone.startOf(day - 1) === start;
            if (zone.dateAt(start) !== (skipped ? day + 1 : day)) throw new Error(`${name}: start of ${day}`);
            const before = zone.dateAt(start - 1);
            if (before !== (afterSkipped ? day - 2 : day - 1)) throw new Error(`${name}: before ${day}`);
          }
        }
      }),
      // One year is 418 zones and 152,570 days.
      { numRuns: 1 },
    );
  });

  it('begins each odd day at the first instant at which the runtime prints its date', () => {
    fc.assert(
      fc.property(year, fc.constantFrom(...NAMES), (someYear, name) => {
        const zone = named(name);
        const clock = clockOf(name);
        const dateAt = (time: Instant) => Math.floor(clock(time) / DAY);
        const first = dayOf(`${someYear}-01-01`);
        for (let day = first; day < first + 365; day++) {
          const start = zone.startOf(day);
          const length = zone.startOf(day + 1) - start;
          if (length === DAY || length === 0) continue;
          expect(dateAt(start)).toBe(day);
          for (let time = start - 1; time > start - 26 * HOUR; time -= 15 * MINUTE) {
            expect(dateAt(time)).toBeLessThan(day);
          }
        }
      }),
      { numRuns: 150 },
    );
  });
});

describe('a name', () => {
  it.each([
    'Mars/Olympus_Mons',
    'Nowhere+02:00',
    'Europe/London-05',
    '+02:00',
    '-0500',
    '',
    ' UTC',
    'constructor',
    '__proto__',
  ])('%j is no zone', (name) => {
    expect(zoneNamed(name)).toBeUndefined();
  });

  it('of the runtime always is one, and always the same', () => {
    for (const name of [...NAMES, 'UTC', 'Etc/GMT+5', 'US/Eastern']) {
      expect(zoneNamed(name)?.name).toBe(name);
      expect(zoneNamed(name)).toBe(zoneNamed(name));
    }
  });
});
