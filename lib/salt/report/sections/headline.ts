import type { Estimate } from '../../../estimate/estimate.ts';
import { wholeness } from '../../account/wholeness.ts';
import { counted } from '../../rounding.ts';
import { SALT_CAUTION } from '../../saltCaution.ts';
import { type Block, type Figure, type Section, text } from '../content.ts';
import { type Subject, softeners } from '../given.ts';
import { type Quantity, quantitiesIn, roundedOf } from '../quantity.ts';

/** The figures that everything else is about, each with its interval. */
export function headline(subject: Subject): Section {
  const { account, quantities, inWords } = subject;
  const { mass, volume, efficiency } = quantities;
  const figures: Figure[] = [
    figure('Salt used', account.saltLb, mass, 'taken for sodium chloride, all regenerations'),
    figure('Chloride to the drain', account.chlorideLb, mass, 'all that the salt brought'),
    figure('Water treated', account.waterGallons, volume, 'metered, and expected on days without a report'),
    ...(account.grainsPerLb === null
      ? []
      : [
          figure(
            'Salt efficiency',
            account.grainsPerLb,
            efficiency,
            efficiencyNote(account.grainsPerLb, efficiency),
          ),
        ]),
  ];
  return {
    id: 'figures',
    title: 'The month in figures',
    blocks: [
      ...notes(subject),
      { kind: 'figures', figures },
      text(SALT_CAUTION),
      text(
        `${softeners(account.units)} ${account.units === 1 ? 'was' : 'were'} watched in ${inWords}; ${counted(account.unitsReporting)} of them reported at least one day. An interval holds the true figure with about 80 %, as far as sensors, doses and missing days go: those of water and efficiency leave out the meters’ own error and that of the hardness on record. No figure has more digits than its interval supports. Softeners that are not watched are not in it, and nothing is scaled up to them.`,
        'quiet',
      ),
    ],
  };
}

function figure(label: string, estimate: Estimate, quantity: Quantity, note: string): Figure {
  const { value, range } = roundedOf(estimate, quantity);
  return {
    label,
    value: `${value}\u00a0${quantity.unit}`,
    range: range === null ? null : `80 %: ${range}\u00a0${quantity.unit}`,
    note,
  };
}

/** Who reads metric units may have to compare with figures of laws, which are in grains. */
function efficiencyNote(grainsPerLb: Estimate, { unit }: Quantity): string {
  const us = quantitiesIn('us').efficiency;
  return unit === us.unit
    ? 'hardness removed, as calcium carbonate'
    : `hardness removed, as calcium carbonate; ${roundedOf(grainsPerLb, us).value} ${us.unit}`;
}

/** What must be known before anything else is read. */
function notes({ account, inWords }: Subject): Block[] {
  const whole = wholeness(account, account.asOf);
  if (whole === 'running') {
    return [text(`${inWords} is not over yet: these are the figures so far, and they will grow.`, 'caution')];
  }
  if (account.daysCounted === 0) {
    return [text(`Nothing was reported in ${inWords}: what is told is estimated, or nothing.`, 'caution')];
  }
  return whole === 'begun-within'
    ? [
        text(
          `Softeners were watched for a part of ${inWords} only: some were added within it, or left. The figures are of the days on which they were watched.`,
          'caution',
        ),
      ]
    : [];
}
