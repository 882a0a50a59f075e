import fc from 'fast-check';
import type { PastUse } from '../../../../lib/advice/settings/pastUse.ts';
import type { ControlSettings } from '../../../../lib/advice/settings/replaySettings.ts';
import { shareBefore } from '../../../../lib/demand/dayShare.ts';

/** What the plain simulation found; null where a comparison was too close to call. */
export interface Plain {
  regenerations: number;
  /** lb of salt a day: whole cycles only, by the days' water in them. */
  saltLb: number;
  hardDays: number;
  hardGallons: number;
}

const CLOSE = 1e-6;

/**
 * The rule of a metered control in plain words, hour by hour, of a single bed: at its hour it regenerates if what it has
 * not counted yet of programmed capacity over programmed hardness is no more than the mean of the seven days before.
 */
export function plainly(
  gallons: readonly number[],
  settings: ControlSettings,
  truth: { capacityGrains: number; hardnessGpg: number },
): Plain | null {
  const whole = settings.capacityGrains / settings.hardnessGpg;
  let count = 0;
  let bedGrains = truth.capacityGrains;
  let regenerations = 0;
  let hardDays = 0;
  let hardGallons = 0;
  let total = 0;
  for (const [day, use] of gallons.entries()) {
    let hardToday = 0;
    for (let hour = 0; hour < 24; hour++) {
      if (hour === settings.regenerationHour) {
        const week = gallons.slice(Math.max(0, day - 7), day);
        const reserve = week.length === 0 ? 0 : week.reduce((sum, each) => sum + each, 0) / week.length;
        if (Math.abs(whole - count - reserve) < CLOSE) return null;
        if (whole - count < reserve) {
          regenerations += 1;
          count = 0;
          bedGrains = truth.capacityGrains;
        }
      }
      const drawn = use * (shareBefore(hour + 1) - shareBefore(hour));
      const soft = Math.min(drawn, bedGrains / truth.hardnessGpg);
      bedGrains -= soft * truth.hardnessGpg;
      hardToday += drawn - soft;
      count += drawn;
    }
    if (hardToday > CLOSE / 100 && hardToday < CLOSE * 100) return null;
    if (hardToday > CLOSE) hardDays += 1;
    hardGallons += hardToday;
    total += use;
  }
  if (total - count < CLOSE && regenerations > 0) return null;
  const cycles = regenerations === 0 ? count / whole : (regenerations * total) / (total - count);
  return { regenerations, saltLb: cycles * settings.saltDoseLb, hardDays, hardGallons };
}

/** Past use of so many gallons a day, as if all was reported; the first day is a Sunday of 2026. */
export function useOf(gallons: readonly number[]): PastUse {
  const from = 20_513;
  const meanReserve = gallons.map((_, day) => {
    const week = gallons.slice(Math.max(0, day - 7), day);
    return week.length === 0 ? 0 : week.reduce((sum, each) => sum + each, 0) / week.length;
  });
  return {
    from,
    to: from + gallons.length - 1,
    gallons: Float64Array.from(gallons),
    missingDays: 0,
    meanReserve: Float64Array.from(meanReserve),
    forecastReserve: new Float64Array(gallons.length),
  };
}

const day = fc.oneof(
  { weight: 8, arbitrary: fc.double({ min: 20, max: 400, noNaN: true }) },
  { weight: 1, arbitrary: fc.double({ min: 400, max: 1200, noNaN: true }) },
  { weight: 1, arbitrary: fc.constant(0) },
);

/** Days of some household, gallons. */
export const series = fc.array(day, { minLength: 60, maxLength: 160 });
