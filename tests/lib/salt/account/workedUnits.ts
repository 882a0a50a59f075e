import type { UnitMonth } from '../../../../lib/salt/unitMonths.ts';
import type { Wasted } from '../../../../lib/salt/waste.ts';
import { formatInstant, type Instant } from '../../../../shared/time/instant.ts';
import { flowDay, regeneration, type Wire, wire, zoneOf } from '../../../support/events.ts';

/*
 * March 2026 of a company with sixteen units in two regions, by hand. All of them have 1 ft³ of resin at 6 lb, which give
 * 20,000 grains (35 Ill. Adm. Code 604.805(c)), on water of 20 gpg, programmed so: 1,000 gal. Each household draws 240 gal
 * a day, so the reserve is 240 gal and a control is due when it has counted 760: on every fourth morning, after 960.
 *
 * WATER OF A DAY WITHOUT A REPORT. The rules take each household for one that draws 240 gal, is away on a day after one at
 * home with a chance of 0.001, and comes back with one of 0.98; when away it draws nothing. The chance that it is away on
 * the days of a gap, kept to five decimals, and what is expected of them:
 *   1st  0.001                                              240 x 0.999      = 239.76       gal
 *   2nd  0.001 x 0.02 + 0.999 x 0.001 = 0.001019            240 x 0.998981   = 239.75544    kept as 0.00102
 *   3rd  0.00102 x 0.02 + 0.99898 x 0.001 = 0.00101938      240 x 0.99898062 = 239.7553488  kept as 0.00102
 *   and so all that follow.
 *
 * SALT SPENT IN VAIN. A regeneration at 02:00 comes after 4.2 % of the day's use (lib/demand/dayShare.ts): 10.08 gal of
 * 240, of which 0.042 x 239.76 = 10.06992 are expected when it comes. A cycle from one to the next so has
 *   229.92 + 3 x 240 + 10.06992 = 959.98992 gal = 19,199.7984 gr used; 800.2016 gr left, at 0.3 lb a thousand
 *   0.24006048 lb, all of it in the reserve of 4,800 gr.
 * The first, of which the beginning is not known, has counted 960 + 10.06992 = 970.06992 gal = 19,401.3984 gr, which is
 * enough for a control that is due from 760 on; 598.6016 gr are left: 0.17958048 lb.
 * Of what was used each grain costs 0.0003 lb, and would cost 1 / 3,350 = 0.000298507463 of a dose that is efficiency
 * rated (NSF/ANSI 44): 0.000001492537 lb a grain are the dose's.
 */
export const RULES = { fold: { demand: { prior: { level: 240, leaving: 0.001, returning: 0.98 } } } };
const FIRST_LB = 0.17958048;
const NEXT_LB = 0.24006048;
const FIRST_GRAINS = 19_401.3984;
const NEXT_GRAINS = 19_199.7984;
const DOSE_LB_PER_GRAIN = 0.0003 - 1 / 3_350;

export const NEW_YORK = zoneOf('America/New_York');
const DAY = 86_400_000;
const MARCH = Date.UTC(2026, 2) / DAY - 1;
export const APRIL = MARCH + 31;
/** As of 5 April, 12:00 UTC. */
export const UNTIL = Date.UTC(2026, 3, 5, 12);

const range = (from: number, to: number) => Array.from({ length: to - from + 1 }, (_, index) => from + index);
/** The days of March on which a control regenerates that began on the 1st. */
const FOURTH = [5, 9, 13, 17, 21, 25, 29];
const lb = (value: number) => ({ value, unit: '[lb_av]' });
const kg = (value: number) => ({ value, unit: 'kg' });
const litres = (value: number) => ({ value, unit: 'L' });

/** Flow days of March by their numbers; 0 is the last of February, 32 the first of April. */
const days = (numbers: readonly number[], gallons = 240) =>
  numbers.map((day) => flowDay(NEW_YORK, MARCH + day, gallons));
const regenerations = (numbers: readonly number[], hour = 2, data: Record<string, unknown> = {}) =>
  numbers.map((day) => regeneration(NEW_YORK, MARCH + day, hour, data));
const known = (event: Wire, recorded: Instant): Wire => ({ ...event, recordedtime: formatInstant(recorded) });

interface Worked {
  readonly unitId: string;
  readonly what: string;
  readonly record?: Record<string, unknown>;
  readonly events: readonly Wire[];
  /** By region. What is not named of it is that of a whole month: see `WHOLE`. */
  readonly want: Readonly<Record<string, Partial<UnitMonth> & { wasted: Wasted }>>;
}

/** 31 days of 240 gal; 7 doses of 6 lb and as many times 80 gal for 1 ft³, since nobody metered it (AWWA/ASCE). */
export const WHOLE = {
  daysExpected: 31,
  daysCounted: 31,
  daysImputed: 0,
  regenerations: 7,
  regenerationsImputed: 0,
  treatedGallons: 7_440,
  imputedGallons: 0,
  hardGallons: 0,
  hardDays: 0,
  measuredSaltLb: 0,
  measuredDoseLb: 0,
  inferredSaltLb: 42,
  imputedSaltLb: 0,
  deliveredSaltLb: 0,
  regenerationGallons: 0,
  inferredRegenerationGallons: 560,
  grainsRemoved: 148_800,
  imputedGrains: 0,
};

/** So many cycles from 02:00 to 02:00, the first of them or not, and whatever else. */
function cycles(
  count: { first?: 1; next: number },
  more: { reserve?: number; grains?: number } = {},
): Wasted {
  const { first = 0, next } = count;
  return {
    reserve: first * FIRST_LB + next * NEXT_LB + (more.reserve ?? 0),
    dose: (first * FIRST_GRAINS + next * NEXT_GRAINS + (more.grains ?? 0)) * DOSE_LB_PER_GRAIN,
  };
}

export const HONOLULU = zoneOf('Pacific/Honolulu');
const BRINE = { brineDrawn: litres(8.5) };

export const UNITS: readonly Worked[] = [
  {
    unitId: 'u-01',
    what: 'reports every day, also that of 23 hours; and regenerates on 1 April at 01:00, which is April',
    events: [
      ...days(range(1, 31)),
      ...regenerations(FOURTH),
      wire('regeneration', 'april', Date.parse('2026-04-01T05:00:00Z'), { trigger: 'manual' }),
    ],
    want: { 'alder-county': { wasted: cycles({ first: 1, next: 6 }) } },
  },
  {
    unitId: 'u-02',
    what: 'misses the 13th, of which the regeneration is known',
    events: [...days([...range(1, 12), ...range(14, 31)]), ...regenerations(FOURTH)],
    want: {
      'alder-county': {
        // The cycle to the 17th: 0.958 x 239.76 + 720 + 10.06992 = 959.76 gal = 19,195.2 gr; 804.8 left: 0.24144 lb.
        ...{ daysCounted: 30, daysImputed: 1, treatedGallons: 7_200, imputedGallons: 239.76 },
        ...{ grainsRemoved: 144_000, imputedGrains: 4_795.2 },
        wasted: cycles({ first: 1, next: 5 }, { reserve: 0.24144, grains: 19_195.2 }),
      },
    },
  },
  {
    unitId: 'u-03',
    what: 'misses the 5th with the regeneration that was due on it',
    events: [...days([...range(1, 4), ...range(6, 31)]), ...regenerations(FOURTH.slice(1))],
    want: {
      'alder-county': {
        ...{ daysCounted: 30, daysImputed: 1, treatedGallons: 7_200, imputedGallons: 239.76 },
        ...{ grainsRemoved: 144_000, imputedGrains: 4_795.2 },
        ...{ regenerations: 6, inferredSaltLb: 36, regenerationsImputed: 1, imputedSaltLb: 6 },
        // To the 9th: 239.76 + 720 + 10.06992 = 969.82992 gal = 19,396.5984 gr; 603.4016 left: 0.18102048 lb.
        wasted: cycles({ next: 5 }, { reserve: 0.18102048, grains: 19_396.5984 }),
      },
    },
  },
  {
    unitId: 'u-04',
    what: 'misses 27 February to 3 March; by the evening of 28 February it had counted 959.5',
    record: { installedOn: '2026-02-25' },
    events: [...days([-3, -2, ...range(4, 31)]), ...regenerations(FOURTH)],
    want: {
      'alder-county': {
        // The third to fifth day of the gap, the first of them with a regeneration: 3 x 239.7553488.
        ...{ daysCounted: 28, daysImputed: 3, treatedGallons: 6_720, imputedGallons: 719.2660464 },
        ...{ grainsRemoved: 134_400, imputedGrains: 14_385.320928 },
        ...{ regenerationsImputed: 1, imputedSaltLb: 6, inferredRegenerationGallons: 640 },
        // To the 5th: 719.2660464 + 240 + 10.06992 = 969.3359664 gal = 19,386.719328 gr; 613.280672 left: 0.1839842016 lb.
        wasted: cycles({ next: 6 }, { reserve: 0.1839842016, grains: 19_386.719328 }),
      },
    },
  },
  {
    unitId: 'u-05',
    what: 'misses 30 March to 1 April, and a technician brings a bag of 18.1436948 kg',
    events: [
      ...days([...range(1, 29), 33, 34]),
      ...regenerations(FOURTH),
      wire('service-visit', 'visit', NEW_YORK.startOf(MARCH + 20) + DAY / 2, {
        ...{ technician: 'tech-4', findings: [], work: [], saltAdded: kg(18.1436948) },
      }),
    ],
    want: {
      'alder-county': {
        // 239.76 + 239.75544; the control is next due on 2 April. A bag is 40 lb.
        ...{ daysCounted: 29, daysImputed: 2, treatedGallons: 6_960, imputedGallons: 479.51544 },
        ...{ grainsRemoved: 139_200, imputedGrains: 9_590.3088, deliveredSaltLb: 40 },
        wasted: cycles({ first: 1, next: 6 }),
      },
    },
  },
  {
    unitId: 'u-06',
    what: 'is silent from the 20th on',
    record: { region: 'birch-county' },
    events: [...days(range(1, 19)), ...regenerations(FOURTH.slice(0, 4))],
    want: {
      'birch-county': {
        // 239.76 + 239.75544 + 10 x 239.7553488. By the evening of the 20th 229.92 + 2 x 240 + 239.76 = 949.68: due on the
        // 21st, and after four days of 239.755 each on the 25th and the 29th.
        ...{ daysCounted: 19, daysImputed: 12, treatedGallons: 4_560, imputedGallons: 2_877.068928 },
        ...{ grainsRemoved: 91_200, imputedGrains: 57_541.37856 },
        ...{ regenerations: 4, inferredSaltLb: 24, regenerationsImputed: 3, imputedSaltLb: 18 },
        wasted: cycles({ first: 1, next: 3 }),
      },
    },
  },
  {
    unitId: 'u-07',
    what: 'is new on the 16th, and sends cubic metres',
    record: { region: 'birch-county', installedOn: '2026-03-16' },
    events: [
      ...range(16, 31).map((day) => flowDay(NEW_YORK, MARCH + day, 240, 'm3')),
      ...regenerations([20, 24, 28]),
    ],
    want: {
      'birch-county': {
        ...{ daysExpected: 16, daysCounted: 16, treatedGallons: 3_840, grainsRemoved: 76_800 },
        ...{ regenerations: 3, inferredSaltLb: 18, inferredRegenerationGallons: 240 },
        wasted: cycles({ first: 1, next: 2 }),
      },
    },
  },
  {
    unitId: 'u-08',
    what: 'was counted in the other region until the 15th',
    record: { region: 'birch-county', formerRegions: [{ region: 'alder-county', until: '2026-03-15' }] },
    events: [...days(range(1, 31)), ...regenerations(FOURTH)],
    want: {
      'alder-county': {
        ...{ daysExpected: 15, daysCounted: 15, treatedGallons: 3_600, grainsRemoved: 72_000 },
        ...{ regenerations: 3, inferredSaltLb: 18, inferredRegenerationGallons: 240 },
        wasted: cycles({ first: 1, next: 2 }),
      },
      'birch-county': {
        ...{ daysExpected: 16, daysCounted: 16, treatedGallons: 3_840, grainsRemoved: 76_800 },
        ...{ regenerations: 4, inferredSaltLb: 24, inferredRegenerationGallons: 320 },
        wasted: cycles({ next: 4 }),
      },
    },
  },
  {
    unitId: 'u-09',
    what: 'reads its level: with noise, with a refill in between, in kilograms; and meters water once',
    record: { region: 'birch-county' },
    events: [
      ...days(range(1, 31)),
      ...[
        { day: 5, saltBefore: lb(100), saltAfter: lb(94) },
        { day: 9, saltBefore: lb(95), saltAfter: lb(86) },
        // 34 lb more than before: a bag was put in, and what was drawn is not known.
        { day: 13, saltBefore: lb(87), saltAfter: lb(121) },
        // A pound more is noise: the sum is right, one alone is not.
        { day: 17, saltBefore: lb(120), saltAfter: lb(121) },
        { day: 21, saltBefore: kg(52), saltAfter: kg(49) },
        { day: 25, saltBefore: lb(108), saltAfter: lb(102) },
        { day: 29, saltBefore: lb(103), saltAfter: lb(96), water: litres(189.2705892) },
      ].map(({ day, ...data }) => regeneration(NEW_YORK, MARCH + day, 2, { ...data, ...BRINE })),
    ],
    want: {
      'birch-county': {
        // 6 + 9 - 1 + 3 / 0.45359237 + 6 + 7, of six doses; 50 gal by the meter and 6 x 80 by the book.
        ...{ measuredSaltLb: 33.613867866, measuredDoseLb: 36, inferredSaltLb: 6 },
        ...{ regenerationGallons: 50, inferredRegenerationGallons: 480 },
        wasted: cycles({ first: 1, next: 6 }),
      },
    },
  },
  {
    unitId: 'u-10',
    what: 'regenerates by hand on the 31st at 23:00, and no brine is drawn',
    record: { region: 'birch-county' },
    events: [
      ...days(range(1, 31)),
      ...regenerations(FOURTH),
      regeneration(NEW_YORK, MARCH + 31, 23, { trigger: 'manual', brineDrawn: litres(0) }),
    ],
    want: {
      'birch-county': {
        // No salt by it, so none in vain; its water all the same.
        ...{ regenerations: 8, inferredRegenerationGallons: 640 },
        wasted: cycles({ first: 1, next: 6 }),
      },
    },
  },
  {
    unitId: 'u-11',
    what: 'has a sensor that reads 80 lb whatever is drawn, every noon and at each regeneration',
    events: [
      ...days(range(1, 31)),
      ...range(1, 31).map((day) =>
        wire('salt-level', `level-${day}`, NEW_YORK.startOf(MARCH + day) + DAY / 2, { mass: lb(80) }),
      ),
      ...regenerations(FOURTH, 2, { saltBefore: lb(80), saltAfter: lb(80), ...BRINE }),
    ],
    want: {
      'alder-county': {
        // By the first regeneration six readings in a row were the same: no word of it is believed, all doses are.
        wasted: cycles({ first: 1, next: 6 }),
      },
    },
  },
  {
    unitId: 'u-12',
    what: 'has two beds, which hold nothing back and take turns at any time of the day',
    record: { arrangement: 'alternating' },
    events: [
      ...days(range(1, 31)),
      ...(
        [
          [5, 8],
          [9, 10],
          [13, 13],
          [17, 16],
          [21, 19],
          [25, 20],
          [29, 21],
        ] as const
      ).map(([day, hour]) => regeneration(NEW_YORK, MARCH + day, hour)),
    ],
    want: {
      'alder-county': {
        // The first was due at 1,000 gal. Shares of a day by 8, 10, 13, 16, 19, 20 and 21 h: 0.117, 0.243, 0.386, 0.513,
        // 0.63, 0.691, 0.799. Used between them: 240 x what comes after, 3 x 240, and 239.76 x what is expected before:
        //   211.92 + 720 +  58.26168 = 990.18168     181.68 + 720 +  92.54736 = 994.22736
        //   147.36 + 720 + 122.99688 = 990.35688     116.88 + 720 + 151.0488  = 987.9288
        //    88.8  + 720 + 165.67416 = 974.47416      74.16 + 720 + 191.56824 = 985.72824
        // Of 1,000 gal each 77.10288 are left in all, 1,542.0576 gr: the day's rounding.
        wasted: { reserve: 0.46261728, dose: (140_000 - 1_542.0576) * DOSE_LB_PER_GRAIN },
      },
    },
  },
  {
    unitId: 'u-13',
    what: 'leaks for all of the 27th; regenerates at midnight, when nothing of the day has been used',
    events: [
      ...range(1, 31).map((day): Wire => {
        const event = flowDay(NEW_YORK, MARCH + day, day === 27 ? 500 : 240);
        return { ...event, data: { ...event.data, longestFlowMinutes: day === 27 ? 1_440 : 60 } };
      }),
      ...regenerations([5, 9, 13, 17, 21, 25, 28], 0),
    ],
    want: {
      'alder-county': {
        ...{ treatedGallons: 7_700, grainsRemoved: 154_000 },
        // Six cycles of 960 gal leave 800 gr: 0.24 lb. The last has 240 + 240 + 500 = 980: 400 gr left, 0.12 lb.
        // That it was a leak (0.1 a year) and no filling of 0.5 / (0.5 / 0.03 + 26 / 365.25) a year has the probability
        // 0.1 / (0.1 + 0.0298724) = 0.769986: of 260 gal or 5,200 gr it is 4,003.9272 gr, by 3,350 to the pound.
        wasted: {
          reserve: 1.56,
          leak: 4_003.9272 / 3_350,
          dose: (6 * 19_200 + 19_600) * DOSE_LB_PER_GRAIN,
        },
      },
    },
  },
  {
    unitId: 'u-14',
    what: 'is regenerated by hand on the 7th, and by a limit of days on the 14th',
    record: { region: 'birch-county' },
    events: [
      ...days(range(1, 31)),
      ...regenerations([5, 11, 18, 22, 26, 30], 0),
      ...regenerations([7], 0, { trigger: 'manual' }),
      ...regenerations([14], 0, { trigger: 'override' }),
    ],
    want: {
      'birch-county': {
        ...{ regenerations: 8, inferredSaltLb: 48, inferredRegenerationGallons: 640 },
        // Six of 960 gal: 0.24 lb each. By hand after 480 gal, 9,600 gr: 10,400 left, of which 4,800 in reserve (1.44 lb)
        // and 5,600 that he did not wait for (1.68 lb). By the limit after 720, 14,400 gr: 5,600 left, 800 beyond it (0.24).
        wasted: {
          reserve: 6 * 0.24 + 2 * 1.44,
          manual: 1.68,
          'calendar-limit': 0.24,
          dose: (6 * 19_200 + 9_600 + 14_400) * DOSE_LB_PER_GRAIN,
        },
      },
    },
  },
  {
    unitId: 'u-15',
    what: 'sends litres, twice, in contradiction, corrected and late, and comes out as the first',
    events: [
      ...range(1, 31)
        .filter((day) => day !== 12 && day !== 20)
        .map((day) => flowDay(NEW_YORK, MARCH + day, 240, 'L')),
      ...regenerations(FOURTH.filter((day) => day !== 21)),
      // Again, and another under the id of the 11th: the one known first stands.
      known(flowDay(NEW_YORK, MARCH + 10, 240, 'L'), NEW_YORK.startOf(MARCH + 15)),
      known(flowDay(NEW_YORK, MARCH + 11, 999), NEW_YORK.startOf(MARCH + 15)),
      // A day that is corrected: the later of the two stands, whichever is known first.
      { ...flowDay(NEW_YORK, MARCH + 12, 300), id: 'first-word' },
      {
        ...flowDay(NEW_YORK, MARCH + 12, 240),
        id: 'correction',
        time: formatInstant(NEW_YORK.startOf(MARCH + 14)),
        recordedtime: formatInstant(NEW_YORK.startOf(APRIL + 2)),
      },
      // Both in April.
      known(flowDay(NEW_YORK, MARCH + 20, 240, 'L'), NEW_YORK.startOf(APRIL + 3)),
      ...regenerations([21]).map((event) => known(event, NEW_YORK.startOf(APRIL + 2))),
    ],
    want: { 'alder-county': { wasted: cycles({ first: 1, next: 6 }) } },
  },
  {
    unitId: 'u-16',
    what: 'is in Honolulu, where 1 March, 07:00 UTC, is February, and 1 April, 05:00 UTC, still March',
    record: { region: 'birch-county', timeZone: 'Pacific/Honolulu' },
    events: [
      ...range(1, 31).map((day) => flowDay(HONOLULU, MARCH + day, 240)),
      ...FOURTH.map((day) => regeneration(HONOLULU, MARCH + day, 2)),
      wire('regeneration', 'february', Date.parse('2026-03-01T07:00:00Z'), { trigger: 'manual' }),
      wire('regeneration', 'march', Date.parse('2026-04-01T05:00:00Z'), { trigger: 'manual' }),
    ],
    want: {
      'birch-county': {
        ...{ regenerations: 8, inferredSaltLb: 48, inferredRegenerationGallons: 640 },
        // By hand on the 31st at 19:00, after 63 % of the day: 229.92 + 240 + 0.63 x 239.76 = 620.9688 gal = 12,419.376 gr;
        // of 7,580.624 left 4,800 are in reserve (1.44 lb), and 2,780.624 he did not wait for: 0.8341872 lb.
        wasted: {
          ...cycles({ first: 1, next: 6 }, { reserve: 1.44, grains: 12_419.376 }),
          manual: 0.8341872,
        },
      },
    },
  },
];
