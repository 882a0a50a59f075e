import type { WhatIfResult } from '../../api/types.ts';
import { type QuantityName, unitOf, whole } from '../../show/amounts.ts';
import { DataTable } from '../../show/DataTable.tsx';
import { type Likings, useLikings } from '../../show/Likings.tsx';
import { changeWords } from './inWords.ts';
import { reasonWords } from './reasons.ts';
import { TwoBars } from './TwoBars.tsx';
import { Visits } from './Visits.tsx';
import { Wasting } from './Wasting.tsx';
import styles from './WhatIf.module.css';
import { WithRange } from './WithRange.tsx';

type Estimates = NonNullable<WhatIfResult['estimates']>;

interface Line {
  readonly of: keyof Estimates;
  readonly label: string;
  readonly quantity?: QuantityName;
}

const LINES: readonly Line[] = [
  { of: 'saltLb', label: 'Salt', quantity: 'lb' },
  { of: 'chlorideLb', label: 'Chloride', quantity: 'lb' },
  { of: 'waterGallons', label: 'Regeneration water', quantity: 'gallons' },
  { of: 'hardDays', label: 'Hard-water days' },
  { of: 'sodiumLb', label: 'Sodium of the salt', quantity: 'lb' },
  { of: 'sodiumInWaterLb', label: 'Sodium into softened water', quantity: 'lb' },
  { of: 'potassiumLb', label: 'Potassium of the salt', quantity: 'lb' },
  { of: 'potassiumInWaterLb', label: 'Potassium into softened water', quantity: 'lb' },
];

interface ResultProps {
  readonly outcome: WhatIfResult;
  /** What was asked, in words. */
  readonly asked: string;
}

/** A year as the controls are set today beside the imagined one, and the visits that bring most. */
export function Result({ outcome, asked }: ResultProps) {
  const likings = useLikings();
  const { estimates, units, extrapolated, leftOut, visits, wasting, more, cautions } = outcome;
  return (
    <div className={styles.result}>
      {estimates ? (
        <Years
          estimates={estimates}
          caption={`${asked}: a year of ${unitsWords(units + extrapolated, likings)}, with 80 % intervals.`}
        />
      ) : (
        <p>No unit’s past tells, so there is nothing to compare.</p>
      )}
      <LeftOut leftOut={leftOut} isExtrapolated={extrapolated > 0} />
      <ul className={styles.cautions}>
        {cautions.map((caution) => (
          <li key={caution}>{caution}</li>
        ))}
      </ul>
      <Visits visits={visits} />
      <Wasting wasting={wasting} />
      {more > 0 && (
        <p className="soft small">
          {whole(more, likings)} more visits and units are not shown: ask for one region.
        </p>
      )}
    </div>
  );
}

function Years({ estimates, caption }: { estimates: Estimates; caption: string }) {
  const likings = useLikings();
  const shown = LINES.filter(({ of }) => estimates[of].today.high > 0 || estimates[of].imagined.high > 0);
  return (
    <>
      <DataTable
        caption={caption}
        columns={[
          {
            header: 'A year',
            cell: ({ label, quantity }) =>
              `${label}, ${quantity ? unitOf(quantity, likings) : 'days of all units'}`,
          },
          {
            header: 'As set today',
            isNumber: true,
            cell: ({ of, quantity }) => <WithRange of={estimates[of].today} quantity={quantity} />,
          },
          {
            header: 'Imagined',
            isNumber: true,
            cell: ({ of, quantity }) => <WithRange of={estimates[of].imagined} quantity={quantity} />,
          },
          {
            header: 'Difference',
            isNumber: true,
            cell: ({ of, quantity }) => {
              const { today, difference } = estimates[of];
              const words = changeWords(difference, today.value, quantity, likings);
              return <WithRange of={difference} quantity={quantity} words={words} />;
            },
          },
          { header: 'Beside each other', cell: ({ of }) => <TwoBars {...estimates[of]} /> },
        ]}
        rows={shown}
        keyOf={({ of }) => of}
      />
      <p className="soft small">
        Upper bar: as set today. Lower, hatched bar: imagined. The lines across their ends are 80 % intervals.
        Both years are of the same households, so the difference is surer than either.
      </p>
    </>
  );
}

interface LeftOutProps {
  readonly leftOut: WhatIfResult['leftOut'];
  readonly isExtrapolated: boolean;
}

function LeftOut({ leftOut, isExtrapolated }: LeftOutProps) {
  const likings = useLikings();
  const out = Object.entries(leftOut);
  if (out.length === 0) return <p>Every unit’s own past tells.</p>;
  const all = out.reduce((sum, [, units]) => sum + units, 0);
  return (
    <div>
      <p>
        Of {unitsWords(all, likings)} the past does not tell
        {isExtrapolated && '; they are taken to be like the others of their region'}:
      </p>
      <ul className={styles.reasons}>
        {out.map(([reason, units]) => (
          <li key={reason}>
            {unitsWords(units, likings)}: {reasonWords(reason)}
          </li>
        ))}
      </ul>
    </div>
  );
}

function unitsWords(units: number, likings: Likings): string {
  return `${whole(units, likings)} ${units === 1 ? 'unit' : 'units'}`;
}
