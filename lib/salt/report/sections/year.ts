import { isRunning } from '../../../../shared/time/month.ts';
import type { Estimate } from '../../../estimate/estimate.ts';
import type { SaltAccount } from '../../account/saltAccount.ts';
import { type Block, type Section, table, text } from '../content.ts';
import { monthsChart } from '../drawings/monthsChart.ts';
import type { Subject } from '../given.ts';
import { monthInWords } from '../months.ts';
import { roundedOf } from '../quantity.ts';

/** The month beside the twelve before it. */
export function year(subject: Subject): Section {
  const { year: months, quantities } = subject;
  const { mass, volume, efficiency } = quantities;
  const charted = months.map(({ month, account, hides }) => ({
    month,
    salt: account && {
      known:
        hides('measured') || hides('imputed')
          ? null
          : {
              measured: account.measuredSaltLb,
              inferred: account.inferredSaltLb,
              imputed: account.imputedSaltLb,
            },
      estimate: account.saltLb,
    },
  }));
  return {
    id: 'year',
    title: 'Twelve months and the same month a year ago',
    blocks: [
      { kind: 'drawing', id: 'months', drawing: monthsChart(charted, mass) },
      ...compared(subject),
      table({
        caption: 'Month by month',
        columns: [
          { head: 'Month', share: 0.2 },
          { head: `Salt, ${mass.unit}`, share: 0.13, isNumber: true },
          { head: '80 % interval', share: 0.23, isNumber: true },
          { head: `Chloride, ${mass.unit}`, share: 0.14, isNumber: true },
          { head: `Water, ${volume.unit}`, share: 0.17, isNumber: true },
          { head: efficiency.unit, share: 0.13, isNumber: true },
        ],
        rows: [...months]
          .reverse()
          .map(({ month, account }) => [
            monthInWords(month),
            ...(account ? figures(account, subject) : ['–', '–', '–', '–', '–']),
          ]),
      }),
      ...(months.some(({ account }) => account === null)
        ? [text(`–: nothing is known${subject.isShared ? ', or it is withheld' : ''}.`, 'quiet')]
        : []),
    ],
  };
}

function figures(account: SaltAccount, { quantities: { mass, volume, efficiency } }: Subject): string[] {
  const salt = roundedOf(account.saltLb, mass);
  return [
    salt.value,
    salt.range ?? '–',
    roundedOf(account.chlorideLb, mass).value,
    roundedOf(account.waterGallons, volume).value,
    account.grainsPerLb ? roundedOf(account.grainsPerLb, efficiency).value : '–',
  ];
}

/** The month beside the same one of the year before, where that is whole and known. */
function compared({ year: months, account, inWords }: Subject): Block[] {
  const before = months[0]?.account;
  if (!before || !(before.saltLb.value > 0) || isRunning(account.month, account.asOf)) return [];
  const change = 100 * (account.saltLb.value / before.saltLb.value - 1);
  const apart = intervalsOf(account.saltLb, before.saltLb);
  const how = `${Math.abs(Math.round(change))} % ${change < 0 ? 'less' : 'more'} than`;
  const units =
    account.units === before.units
      ? ''
      : ` Then ${before.units.toLocaleString('en-US')} softeners were watched, now ${account.units.toLocaleString('en-US')}.`;
  return [
    text(
      `The salt used in ${inWords} was ${Math.round(change) === 0 ? 'as much as' : how} in ${monthInWords(before.month)}${apart}.${units}`,
    ),
  ];
}

/** What the intervals of two months say of their difference; nothing where one was not worked out. */
function intervalsOf(now: Estimate, before: Estimate): string {
  if (!(now.high > now.low && before.high > before.low)) return '';
  return now.low > before.high || now.high < before.low
    ? '; the two 80 % intervals do not overlap'
    : '; the two 80 % intervals overlap';
}
