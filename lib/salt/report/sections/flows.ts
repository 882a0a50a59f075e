import { sumOfEstimates } from '../../../estimate/interval.ts';
import type { FigureGroup } from '../../account/accountColumn.ts';
import { counted, PARTS_CAUTION } from '../../rounding.ts';
import { type Section, table, text } from '../content.ts';
import { type Subject, WITHHELD } from '../given.ts';
import { partOf, roundedOf, sumOf } from '../quantity.ts';

/** Sodium, water of regenerations, hard water, and salt brought beside salt used. */
export function flows({ account, year, hides, quantities: { mass, volume }, inWords }: Subject): Section {
  const sodium = roundedOf(account.sodiumLb, mass);
  const toDrain = Math.max(0, account.sodiumLb.value - account.sodiumInWaterLb);
  const twelve = year.slice(1).flatMap(({ account: each }) => (each ? [each] : []));
  const used = roundedOf(sumOfEstimates(twelve.map(({ saltLb }) => saltLb)), mass);
  const month = roundedOf(account.saltLb, mass);
  const delivered = twelve.reduce((sum, { deliveredSaltLb }) => sum + deliveredSaltLb, 0);
  // A sum would tell of the month that is withheld in it.
  const isDeliveredTold = !year.slice(1).some((month) => month.account && month.hides('delivered'));
  const told = (group: FigureGroup, words: string) => (hides(group) ? WITHHELD : words);
  const brought = (lb: number) => (lb > 0 ? sumOf(lb, mass) : 'none recorded');
  const withRange = ({ value, range }: typeof used) =>
    `${value} ${mass.unit}${range === null ? '' : ` (${range})`}`;
  return {
    id: 'flows',
    title: 'Sodium, water and salt brought',
    blocks: [
      table({
        caption: 'Sodium, regeneration water and hard water',
        columns: [
          { head: 'What', share: 0.58 },
          { head: 'Amount', share: 0.42, isNumber: true },
        ],
        rows: [
          ['Sodium that the salt brought', withRange(sodium)],
          ['of which left with the softened water', partOf(account.sodiumInWaterLb, mass)],
          ['of which left with the brine', partOf(toDrain, mass)],
          [
            'Regeneration water, as metered',
            told('regeneration-water', sumOf(account.regenerationGallons, volume)),
          ],
          [
            'Regeneration water, by the published figure where not metered',
            told('regeneration-water', partOf(account.inferredRegenerationGallons, volume)),
          ],
          [
            'Water that came through hard, since the bed had run out',
            told('hard-water', sumOf(account.hardGallons, volume)),
          ],
          ['Days with such water, of all softeners together', told('hard-water', counted(account.hardDays))],
        ],
      }),
      table({
        caption: 'Salt brought and salt used',
        columns: [
          { head: 'When', share: 0.36 },
          { head: 'Brought by technicians', share: 0.26, isNumber: true },
          { head: 'Used (80 % interval)', share: 0.38, isNumber: true },
        ],
        rows: [
          [inWords, told('delivered', brought(account.deliveredSaltLb)), withRange(month)],
          [
            `Last 12 months, of which ${twelve.length} are known`,
            isDeliveredTold ? brought(delivered) : WITHHELD,
            withRange(used),
          ],
        ],
      }),
      text(
        `${PARTS_CAUTION} Only salt that technicians recorded is counted as brought; what households bring themselves is not, so the two need not agree. Over several months intervals are added up as if all were wrong in the same direction, which is rather too wide than too narrow.`,
        'quiet',
      ),
    ],
  };
}
