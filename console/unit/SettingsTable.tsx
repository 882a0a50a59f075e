import { amount, count } from '../show/amounts.ts';
import { type Likings, useLikings } from '../show/Likings.tsx';
import { hourOfDay } from './Programmed.tsx';
import styles from './Settings.module.css';
import type { Advice, Outcome } from './types.ts';

interface Row {
  readonly name: string;
  readonly of: (outcome: Outcome) => string;
}

/** Today's settings beside those advised: what to set, and what a year of each comes to. */
export function SettingsTable({ advice }: { advice: NonNullable<Advice['advice']> }) {
  const likings = useLikings();
  const { today, advised, saves } = advice;
  const { settings, outcomes } = rowsFor(likings);
  return (
    <>
      <div className={styles.scroll}>
        <table className={styles.table}>
          <thead>
            <tr>
              <td />
              <th scope="col">On the control</th>
              <th scope="col">Advised</th>
            </tr>
          </thead>
          <tbody>
            {settings.map((row) => (
              <SettingRow key={row.name} row={row} today={today} advised={advised} marks />
            ))}
          </tbody>
          <tbody>
            <tr>
              <th scope="rowgroup" colSpan={3} className={styles.group}>
                In a year
              </th>
            </tr>
            {outcomes.map((row) => (
              <SettingRow key={row.name} row={row} today={today} advised={advised} />
            ))}
          </tbody>
        </table>
      </div>
      <p>{savesInWords(saves, likings)}</p>
    </>
  );
}

interface SettingRowProps {
  readonly row: Row;
  readonly today: Outcome;
  readonly advised: Outcome;
  /** Whether a difference is something to do. */
  readonly marks?: boolean;
}

function SettingRow({ row: { name, of }, today, advised, marks = false }: SettingRowProps) {
  const differs = of(today) !== of(advised);
  return (
    <tr>
      <th scope="row">{name}</th>
      <td>{of(today)}</td>
      <td className={marks && differs ? styles.change : undefined}>
        {of(advised)}
        {marks && differs && ' ← change'}
      </td>
    </tr>
  );
}

function rowsFor(likings: Likings): { settings: Row[]; outcomes: Row[] } {
  return {
    settings: [
      { name: 'Salt dose', of: ({ settings }) => amount(settings.saltDoseLb, 'lb', likings) },
      { name: 'Capacity', of: ({ settings }) => amount(settings.capacityGrains, 'grains', likings) },
      { name: 'Hardness', of: ({ settings }) => amount(settings.hardnessGpg, 'gpg', likings) },
      { name: 'Regenerates at', of: ({ settings }) => hourOfDay(settings.regenerationHour, likings.locale) },
    ],
    outcomes: [
      { name: 'Salt', of: ({ saltLbAYear }) => amount(saltLbAYear, 'lb', likings) },
      {
        name: 'Water to regenerate',
        of: ({ waterGallonsAYear }) => amount(waterGallonsAYear, 'gallons', likings),
      },
      { name: 'Hard-water days', of: ({ hardDaysAYear }) => count(hardDaysAYear, likings) },
      { name: 'Regenerations', of: ({ regenerationsAYear }) => count(regenerationsAYear, likings) },
    ],
  };
}

function savesInWords(
  { saltLb, waterGallons, hardDays }: NonNullable<Advice['advice']>['saves'],
  likings: Likings,
) {
  const change = (value: number, words: (size: number) => string) =>
    Math.abs(value) < 0.5 ? [] : [`${words(Math.abs(value))} ${value > 0 ? 'less' : 'more'}`];
  const parts = [
    ...change(saltLb, (size) => `${amount(size, 'lb', likings)} of salt`),
    ...change(waterGallons, (size) => `${amount(size, 'gallons', likings)} of water`),
    ...change(hardDays, (size) => `${count(size, likings)} hard-water days`),
  ];
  return parts.length === 0
    ? 'Nothing is to be gained: leave it as it is.'
    : `A year of it: ${parts.join(', ')}.`;
}
