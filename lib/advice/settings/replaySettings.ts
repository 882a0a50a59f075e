import type { LocalDate } from '../../../shared/time/localDate.ts';
import { shareBefore } from '../../demand/dayShare.ts';
import { availableGrains, type Bed, freshBed, regenerate, treat } from '../../unit/bed.ts';
import { believedGallons, isDue } from '../../unit/control.ts';
import type { PastUse } from './pastUse.ts';

/** What a technician can set: the salt of a regeneration, and what is programmed. */
export interface ControlSettings {
  /** lb of salt a regeneration. */
  readonly saltDoseLb: number;
  readonly capacityGrains: number;
  readonly hardnessGpg: number;
  /** 0 to 23, on the control's clock. */
  readonly regenerationHour: number;
}

/** The softener that the settings are for, and its water. */
export interface Site {
  readonly resinCubicFeet: number;
  readonly alternating: boolean;
  /** What each gallon takes from the bed, gpg: raw hardness and the allowance for iron. */
  readonly compensatedHardnessGpg: number;
  /** Days after which the control regenerates whatever was used; undefined where it is not known to. */
  readonly calendarDays?: number | undefined;
}

/**
 * What a control holds back. `seven-day-mean` is what metered controls do; the others are what-ifs: a fixed share of
 * the programmed capacity, and the amount that a forecast puts nine next days in ten below.
 */
export type ReserveRule =
  | { readonly kind: 'seven-day-mean' }
  | { readonly kind: 'share'; readonly share: number }
  | { readonly kind: 'forecast' };

const SEVEN_DAY_MEAN: ReserveRule = { kind: 'seven-day-mean' };

/** What became of the days under some settings. */
export interface ReplayedSettings {
  readonly days: number;
  readonly regenerations: number;
  /** The same with the cycle that the end of the days cut short, as the share of a whole one that its use comes to. */
  readonly cycles: number;
  /** Local days on which water was drawn from a bed that had run out, and that water, US gallons. */
  readonly hardDays: number;
  readonly hardGallons: number;
  /** Those days by their indices, each with its hard water, US gallons. */
  readonly hardOn: readonly { readonly day: number; readonly gallons: number }[];
  readonly treatedGallons: number;
  /** Indices of the days on which it regenerated, one for each regeneration. */
  readonly regeneratedOn: readonly number[];
}

/** Less hard water than this in a day is rounding. */
const CRUMB_GALLONS = 1e-6;

/**
 * Replays past use under some settings, by the bed and the control's rule that a unit's fold goes by too, from a freshly
 * regenerated bed on. A single bed is asked once a day at its hour, when the control has counted the share of the day's
 * use that households draw before it; of two beds the other goes into service the moment the count is used up.
 */
export function replaySettings(
  site: Site,
  use: PastUse,
  settings: ControlSettings,
  rule: ReserveRule = SEVEN_DAY_MEAN,
): ReplayedSettings {
  const run = new Run(site, settings);
  // Two beds wait for no hour.
  const earlyShare = site.alternating ? 0 : shareBefore(settings.regenerationHour);
  const calendarDays = site.calendarDays ?? Number.POSITIVE_INFINITY;
  const days = use.gallons.length;
  const regeneratedOn: number[] = [];
  let lastOn = 0;
  const hardOn: { day: number; gallons: number }[] = [];
  let hardGallons = 0;
  let treatedGallons = 0;
  const regenerateOn = (day: number) => {
    run.regenerate();
    regeneratedOn.push(day);
    lastOn = day;
  };
  for (let day = 0; day < days; day++) {
    const gallons = use.gallons[day] ?? 0;
    const date = use.from + day;
    const early = earlyShare * gallons;
    let rest = gallons - early;
    let hardToday = run.treat(date, early);
    const isOld = day - lastOn >= calendarDays;
    const reserve = site.alternating ? 0 : reserveOn(day, use, rule, run.believedGallons);
    if (isOld || (!site.alternating && isDue(run.leftGallons, reserve))) regenerateOn(day);
    while (site.alternating && isDue(run.leftGallons - rest, 0)) {
      const part = Math.max(0, run.leftGallons);
      hardToday += run.treat(date, part);
      rest -= part;
      regenerateOn(day);
    }
    hardToday += run.treat(date, rest);
    treatedGallons += gallons;
    hardGallons += hardToday;
    if (hardToday > CRUMB_GALLONS) hardOn.push({ day, gallons: hardToday });
  }
  const regenerations = regeneratedOn.length;
  const cycles =
    regenerations === 0
      ? run.countedGallons / run.believedGallons
      : (regenerations * treatedGallons) / Math.max(CRUMB_GALLONS, treatedGallons - run.countedGallons);
  const hardDays = hardOn.length;
  return { days, regenerations, cycles, hardDays, hardGallons, hardOn, treatedGallons, regeneratedOn };
}

/** A bed and its control's count while days are replayed. */
class Run {
  readonly believedGallons: number;
  countedGallons = 0;
  readonly #bed: Bed;
  readonly #hardnessGpg: number;
  readonly #saltDoseLb: number;

  constructor(site: Site, settings: ControlSettings) {
    this.believedGallons = believedGallons(settings);
    this.#bed = freshBed(site.resinCubicFeet, settings.saltDoseLb, site.alternating);
    this.#hardnessGpg = site.compensatedHardnessGpg;
    this.#saltDoseLb = settings.saltDoseLb;
  }

  /** What the control believes is left. */
  get leftGallons(): number {
    return this.believedGallons - this.countedGallons;
  }

  /** Has the bed treat some water; returns how much of it came through hard, US gallons. */
  treat(date: LocalDate, gallons: number): number {
    const before = this.#overGrains();
    this.countedGallons += gallons;
    treat(this.#bed, date, { gallons, hardnessGpg: this.#hardnessGpg, imputed: false }, this.#saltDoseLb);
    return (this.#overGrains() - before) / this.#hardnessGpg;
  }

  regenerate(): void {
    // Water is treated in parts here, so none of what comes belongs to the cycle that ends.
    regenerate(this.#bed, this.#saltDoseLb, 0);
    this.countedGallons = 0;
  }

  /** What the bed was charged with beyond what it could take. */
  #overGrains(): number {
    return Math.max(0, this.#bed.usedGrains - availableGrains(this.#bed, this.#saltDoseLb));
  }
}

function reserveOn(day: number, use: PastUse, rule: ReserveRule, believed: number): number {
  switch (rule.kind) {
    case 'seven-day-mean':
      return use.meanReserve[day] ?? 0;
    case 'forecast':
      return use.forecastReserve[day] ?? 0;
    case 'share':
      return rule.share * believed;
  }
}
