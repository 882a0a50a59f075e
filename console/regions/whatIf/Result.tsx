import { convert, count, percent, type QuantityName, unitOf, whole } from '../../show/amounts.ts';
import { DataTable } from '../../show/DataTable.tsx';
import { type Likings, useLikings } from '../../show/Likings.tsx';
import type { Outcome, Year } from './ask.ts';
import { reasonWords } from './reasons.ts';
import { TwoBars } from './TwoBars.tsx';
import styles from './WhatIf.module.css';

interface Line {
  readonly label: string;
  readonly quantity?: QuantityName;
  readonly of: (year: Year) => number;
}

const LINES: readonly Line[] = [
  { label: 'Salt', quantity: 'lb', of: ({ saltLb }) => saltLb },
  { label: 'Chloride', quantity: 'lb', of: ({ chlorideLb }) => chlorideLb },
  { label: 'Regeneration water', quantity: 'gallons', of: ({ waterGallons }) => waterGallons },
  { label: 'Hard-water days', of: ({ hardDays }) => hardDays },
];

interface ResultProps {
  readonly outcome: Outcome;
  /** What was asked, in words. */
  readonly asked: string;
}

/** A year as the controls are set today beside the imagined one. */
export function Result({ outcome: { units, leftOut, today, imagined }, asked }: ResultProps) {
  const likings = useLikings();
  const out = Object.entries(leftOut);
  const number = ({ of, quantity }: Line, year: Year) =>
    count(quantity ? convert(of(year), quantity, likings) : of(year), likings);
  if (units === 0) {
    return (
      <div className={styles.result}>
        <p>No unit could be counted in, so there is nothing to compare.</p>
        <LeftOut out={out} likings={likings} />
      </div>
    );
  }
  return (
    <div className={styles.result}>
      <DataTable
        caption={`${asked}: a year of ${whole(units, likings)} ${units === 1 ? 'unit' : 'units'}, worked out from the past of each.`}
        columns={[
          {
            header: 'A year',
            cell: ({ label, quantity }) =>
              `${label}, ${quantity ? unitOf(quantity, likings) : 'days of all units'}`,
          },
          { header: 'As set today', isNumber: true, cell: (line) => number(line, today) },
          { header: 'Imagined', isNumber: true, cell: (line) => number(line, imagined) },
          {
            header: 'Difference',
            isNumber: true,
            cell: (line) => differenceWords(line.of(today), line.of(imagined), line.quantity, likings),
          },
          {
            header: 'Beside each other',
            cell: ({ of }) => <TwoBars today={of(today)} imagined={of(imagined)} />,
          },
        ]}
        rows={LINES}
        keyOf={({ label }) => label}
      />
      <p className="soft small">Upper bar: as set today. Lower, hatched bar: imagined.</p>
      <LeftOut out={out} likings={likings} />
    </div>
  );
}

function LeftOut({ out, likings }: { out: readonly (readonly [string, number])[]; likings: Likings }) {
  if (out.length === 0) return <p>No unit was left out.</p>;
  const all = out.reduce((sum, [, units]) => sum + units, 0);
  return (
    <div>
      <p>
        {whole(all, likings)} {all === 1 ? 'unit was' : 'units were'} left out, because their past does not
        tell:
      </p>
      <ul className={styles.reasons}>
        {out.map(([reason, units]) => (
          <li key={reason}>
            {whole(units, likings)} {units === 1 ? 'unit' : 'units'}: {reasonWords(reason)}
          </li>
        ))}
      </ul>
    </div>
  );
}

function differenceWords(
  today: number,
  imagined: number,
  quantity: QuantityName | undefined,
  likings: Likings,
): string {
  const difference = imagined - today;
  if (difference === 0) return 'none';
  const size = Math.abs(quantity ? convert(difference, quantity, likings) : difference);
  const sign = difference < 0 ? '−' : '+';
  const share = today > 0 ? ` (${sign}${percent(Math.abs(difference) / today, likings)})` : '';
  return `${sign}${count(size, likings)}${share}`;
}
