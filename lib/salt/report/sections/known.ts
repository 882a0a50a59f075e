import type { Estimate } from '../../../estimate/estimate.ts';
import { inSteps, PARTS_CAUTION, shareTold, stepOf } from '../../rounding.ts';
import { type Section, table, text } from '../content.ts';
import { sharesBar } from '../drawings/sharesBar.ts';
import { type Subject, WITHHELD } from '../given.ts';
import { partOf, roundedOf } from '../quantity.ts';

/** By which way the salt is known. */
export function known({ account, hides, quantities: { mass } }: Subject): Section {
  const { measuredSaltLb, inferredSaltLb, imputedSaltLb, saltLb, drawnShare } = account;
  const ways = [
    [
      'Measured',
      'by level sensors in the salt tanks, before and after each regeneration',
      measuredSaltLb,
      'measured',
    ],
    [
      'Inferred',
      'by the dose on record of regenerations that were reported and not measured',
      inferredSaltLb,
      'imputed',
    ],
    ['Estimated', 'by dose, of regenerations expected on days without a report', imputedSaltLb, 'imputed'],
  ] as const;
  const isWhole = !hides('measured') && !hides('imputed');
  const used = ways.reduce((sum, [, , lb]) => sum + Math.max(0, lb), 0);
  const share = (lb: number) => (used > 0 ? shareTold(Math.max(0, lb) / used) : '–');
  const whole = roundedOf(saltLb, mass);
  return {
    id: 'known',
    title: 'How it is known',
    blocks: [
      ...(isWhole
        ? [
            {
              kind: 'drawing' as const,
              id: 'shares',
              drawing: sharesBar({
                measured: measuredSaltLb,
                inferred: inferredSaltLb,
                imputed: imputedSaltLb,
              }),
            },
          ]
        : []),
      table({
        caption: 'Salt used, by how it is known',
        columns: [
          { head: 'Way', share: 0.16 },
          { head: 'How', share: 0.52 },
          { head: 'Salt', share: 0.2, isNumber: true },
          { head: 'Share', share: 0.12, isNumber: true },
        ],
        rows: [
          ...ways.map(([name, how, lb, group]) =>
            hides(group) ? [name, how, WITHHELD, WITHHELD] : [name, how, partOf(lb, mass), share(lb)],
          ),
          ['All', '', `${whole.value} ${mass.unit}`, share(used)],
        ],
        hasTotal: true,
      }),
      text(
        `${PARTS_CAUTION} Doses are multiplied by ${hides('drawn-share') ? `a share that is ${WITHHELD}` : shareInWords(drawnShare)}, the share of a dose that is drawn: what level sensors of the company saw this month, together with the prior of its rules. It is in the figures of both other ways.`,
        'quiet',
      ),
    ],
  };
}

function shareInWords(share: Estimate): string {
  const step = stepOf(share) ?? 0.01;
  const value = inSteps(share.value, step);
  if (share.high <= share.low) return value;
  return `${value} (80 %: ${inSteps(share.low, step, Math.floor)} to ${inSteps(share.high, step, Math.ceil)})`;
}
