import { convert, convertBack, count, unitOf } from '../../show/amounts.ts';
import type { Likings } from '../../show/Likings.tsx';
import { plain } from '../../show/words.ts';
import type { Question } from './ask.ts';

/** The doses between which the capacity curve holds, lb a cubic foot: the service takes no others. */
const LEAST_DOSE = 3;
const MOST_DOSE = 15;
/** A cubic foot in litres (the international foot of 0.3048 m, exact). */
const LITRES_PER_CUBIC_FOOT = 28.316846592;

type Units = Pick<Likings, 'units'>;

/** A dose in the units that are liked: lb a cubic foot, or grams a litre of resin. */
export function shownDose(dose: number, { units }: Units): number {
  return units === 'us' ? dose : (convert(dose, 'lb', { units }) * 1000) / LITRES_PER_CUBIC_FOOT;
}

/** Back, lb a cubic foot. */
export function doseOf(shown: number, { units }: Units): number {
  return units === 'us' ? shown : convertBack((shown * LITRES_PER_CUBIC_FOOT) / 1000, 'lb', { units });
}

export function doseUnit({ units }: Units): string {
  return units === 'us' ? `${unitOf('lb', { units })}/cu ft` : 'g/L of resin';
}

/** The least and most that may be asked for, rounded inwards so that the service takes both. */
export function doseRange(units: Units): { least: number; most: number } {
  return {
    least: Math.ceil(shownDose(LEAST_DOSE, units)),
    most: Math.floor(shownDose(MOST_DOSE, units)),
  };
}

/** What was asked, in words. */
export function questionWords({ region, dose, correct, reserve, salt }: Question, likings: Likings): string {
  const asked = [
    ...(dose === undefined
      ? []
      : [`all at ${count(shownDose(dose, likings), likings)} ${doseUnit(likings)}`]),
    ...(correct ? ['those set wrong set right'] : []),
    ...(reserve ? ['reserves by forecast'] : []),
    ...(salt ? ['potassium chloride'] : []),
    region === undefined ? 'all regions' : plain(region),
  ].join(', ');
  return asked.slice(0, 1).toUpperCase() + asked.slice(1);
}
