import type { Sense, Unit } from '../../shared/registry.ts';
import type { LocalDate } from '../../shared/time/localDate.ts';
import { type Zone, zoneNamed } from '../../shared/time/zone.ts';
import { bedCapacityGrains } from '../softening/capacity.ts';
import { compensatedHardnessGpg } from '../softening/iron.ts';
import type { Chance } from './chance.ts';

/** One softener as it truly is: what the registry says of it, and what nobody has written down. */
export interface UnitProfile extends Unit {
  /** What its household typically uses on a day at home, US gallons. */
  readonly typicalGallons: number;
  /** True capacity over that of the capacity curve at its dose. */
  readonly bedFactor: number;
  /** Share of the bed's capacity that was used up when the simulation begins. */
  readonly usedAtStart: number;
  /** Whether somebody sets the control's clock to summer time. */
  readonly followsSummerTime: boolean;
  /** How many minutes after its hour the control starts. */
  readonly startsLateMinutes: number;
  readonly regenerationMinutes: number;
  /** Standard deviations: of a level reading, lb; of a brine volume, as a share of it. */
  readonly levelNoiseLb: number;
  readonly brineNoise: number;
  readonly peakGpm: number;
  /** Salt when the simulation begins, lb; and how the household refills: at what level, how many 40-lb bags. */
  readonly saltAtStartLb: number;
  readonly refillBelowLb: number;
  readonly refillBags: number;
  /** What its telemetry carries, and in which units. */
  readonly metric: boolean;
  readonly reportsSettings: boolean;
  readonly reportsVolumeSince: boolean;
  readonly reportsRegister: boolean;
}

/** Invented regions with their water. Phoenix keeps no summer time. */
const REGIONS = [
  { region: 'alder-county', timeZone: 'America/Chicago', hardnessGpg: 19, deviation: 3, ironMgPerL: 0.8 },
  { region: 'prairie-west', timeZone: 'America/Chicago', hardnessGpg: 25, deviation: 4, ironMgPerL: 1.5 },
  { region: 'high-basin', timeZone: 'America/Denver', hardnessGpg: 12, deviation: 2, ironMgPerL: 0.1 },
  { region: 'copper-flats', timeZone: 'America/Phoenix', hardnessGpg: 15, deviation: 2.5, ironMgPerL: 0 },
] as const;

/** The regions that the units of a fleet stand in. */
export const REGION_NAMES: readonly string[] = REGIONS.map(({ region }) => region);

/** Invented rounds on which salt is brought. */
const ROUNDS: Readonly<Record<(typeof REGIONS)[number]['region'], readonly string[]>> = {
  'alder-county': ['mill-road', 'north-bank', 'old-town'],
  'prairie-west': ['grange-loop', 'rail-side'],
  'high-basin': ['ridge-line', 'lake-shore'],
  'copper-flats': ['mesa-east', 'mesa-west', 'canal-street'],
};
/** One site in so many is on no round yet. */
const WITHOUT_ROUND = 8;

const COMPANY = 'larkwater';
const RESIN_CUBIC_FEET = [0.75, 1, 1.25, 1.5, 2, 2.5, 3] as const;
/** A bed is chosen so that it lasts this many typical days, if the largest does. Common practice, no source. */
const DAYS_A_BED_LASTS = 4.5;
const SENSES: readonly [readonly Sense[], ...(readonly Sense[])[]] = [
  ['salt-level'],
  ['salt-level', 'brine-draw'],
  ['brine-draw'],
  ['salt-level'],
  [],
];

/**
 * Chooses and sets up a softener for a household, as a careful company would: a bed of the right size, a control
 * programmed after the dose and the site's water.
 */
export function drawProfile(
  number: number,
  household: { typicalGallons: number; occupants: number | undefined },
  start: LocalDate,
  chance: Chance,
): UnitProfile {
  const site = chance.pick(REGIONS);
  const hardnessGpg = toHalf(Math.max(5, chance.normal(site.hardnessGpg, site.deviation)));
  const ironMgPerL = site.ironMgPerL === 0 ? 0 : Math.round(chance.gamma(site.ironMgPerL, 0.5) * 10) / 10;
  const compensatedGpg = compensatedHardnessGpg({ hardnessGpg, ironMgPerL });
  const dosePerCubicFoot = chance.pick([6, 7, 8, 9, 10]);
  const bed = (resinCubicFeet: number) => ({
    resinCubicFeet,
    saltDoseLb: toHalf(resinCubicFeet * dosePerCubicFoot),
  });
  const wanted = DAYS_A_BED_LASTS * household.typicalGallons * compensatedGpg;
  const resinCubicFeet =
    RESIN_CUBIC_FEET.find((each) => bedCapacityGrains(bed(each)) >= wanted) ?? RESIN_CUBIC_FEET[6];
  const { saltDoseLb } = bed(resinCubicFeet);
  const isNew = chance.happens(0.3);
  const senses = [...chance.pick(SENSES), ...(chance.happens(0.85) ? (['peak-flow'] as const) : [])];
  const saltTankLb = chance.pick([150, 200, 250, 350]);
  const id = String(number).padStart(4, '0');
  return {
    unitId: `unit-${id}`,
    companyId: COMPANY,
    siteId: `site-${id}`,
    region: site.region,
    formerRegions: [],
    round: roundOf(site.region, number),
    zone: knownZone(site.timeZone),
    installedOn: isNew ? start : start - chance.whole(30, 2000),
    resinCubicFeet,
    saltDoseLb,
    hardnessGpg,
    ironMgPerL,
    programmed: {
      hardnessGpg: Math.ceil(compensatedGpg),
      capacityGrains: Math.floor(bedCapacityGrains({ resinCubicFeet, saltDoseLb }) / 1000) * 1000,
      regenerationHour: chance.happens(0.85) ? 2 : chance.pick([0, 1, 3, 4]),
    },
    saltTankLb: chance.happens(0.8) ? saltTankLb : undefined,
    alternating: chance.happens(0.1),
    senses,
    occupants: chance.happens(0.7) ? household.occupants : undefined,
    typicalGallons: household.typicalGallons,
    bedFactor: Math.max(0.85, chance.normal(1, 0.03)),
    usedAtStart: isNew ? 0 : chance.uniform(0, 0.7),
    followsSummerTime: chance.happens(0.7),
    startsLateMinutes: chance.whole(0, 10),
    regenerationMinutes: chance.whole(92, 118),
    levelNoiseLb: chance.happens(0.2) ? 3 : chance.uniform(1, 2.5),
    brineNoise: chance.uniform(0.05, 0.1),
    peakGpm: chance.uniform(4, 9),
    saltAtStartLb: chance.uniform(0.4, 0.95) * saltTankLb,
    refillBelowLb: chance.uniform(0.2, 0.4) * saltTankLb,
    refillBags: chance.whole(1, Math.floor((saltTankLb * 0.6) / 40)),
    metric: chance.happens(0.1),
    reportsSettings: chance.happens(0.6),
    reportsVolumeSince: chance.happens(0.5),
    reportsRegister: chance.happens(0.5),
  };
}

/** By the site's number, since a draw would change all that is drawn after it. */
function roundOf(region: (typeof REGIONS)[number]['region'], number: number): string | undefined {
  if (number % WITHOUT_ROUND === 0) return undefined;
  const rounds = ROUNDS[region];
  return rounds[number % rounds.length];
}

function toHalf(value: number): number {
  return Math.round(value * 2) / 2;
}

function knownZone(name: string): Zone {
  const zone = zoneNamed(name);
  if (!zone) throw new RangeError(`${name} is missing from this runtime's time-zone data`);
  return zone;
}
