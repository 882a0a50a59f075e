import { NativeSelect } from '@mantine/core';
import { useLikings } from '../../show/Likings.tsx';
import { plain } from '../../show/words.ts';
import { type Accounts, yearUntil } from '../months.ts';
import { monthWords } from '../monthWords.ts';
import page from '../RegionsPage.module.css';
import { Beside } from './Beside.tsx';
import { ByCause } from './ByCause.tsx';
import { Efficiency } from './Efficiency.tsx';
import { periodOf } from './period.ts';

interface WasteProps {
  readonly accounts: Accounts;
  /** The region that is chosen; undefined for all. */
  readonly region: string | undefined;
  /** The month that is chosen, and the last of the twelve otherwise. */
  readonly month: string;
  readonly lastMonth: string;
  readonly isYear: boolean;
  readonly months: readonly string[];
  readonly onChange: (change: Readonly<Record<string, string>>) => void;
}

const A_YEAR = 'year';

/** Where salt went that the water did not need, what was brought, and which units meet published figures. */
export function Waste({ accounts, region, month, lastMonth, isYear, months, onChange }: WasteProps) {
  const likings = useLikings();
  const all = accounts.regions.find((each) => each.region === region)?.months ?? accounts.all;
  const last = isYear ? lastMonth : month;
  const chosen = isYear ? yearUntil(all, last) : all.filter((account) => account.month === month);
  const ofLast = chosen.at(-1);
  const where = region === undefined ? 'all regions' : plain(region);
  const watched = chosen.length < 12 ? `, of which ${chosen.length} were watched` : '';
  const when = isYear
    ? `twelve months to ${monthWords(lastMonth, likings.locale)}${watched}`
    : monthWords(month, likings.locale);
  const title = `${where}, ${when}`;
  const period = periodOf(chosen);
  return (
    <section className={page.part} aria-labelledby="waste">
      <h2 id="waste">Where salt went</h2>
      <div className={page.choices}>
        <NativeSelect
          label="Salt of"
          data={[
            { value: '', label: 'All regions' },
            ...accounts.regions.map((each) => ({ value: each.region, label: plain(each.region) })),
          ]}
          value={region ?? ''}
          onChange={({ currentTarget }) => onChange({ region: currentTarget.value })}
        />
        <NativeSelect
          label="Time"
          data={[
            { value: A_YEAR, label: 'The last twelve months' },
            ...months.toReversed().map((value) => ({ value, label: monthWords(value, likings.locale) })),
          ]}
          value={isYear ? A_YEAR : month}
          onChange={({ currentTarget: { value } }) =>
            onChange(value === A_YEAR ? { over: A_YEAR } : { over: 'month', month: value })
          }
        />
      </div>
      {ofLast ? (
        <>
          <ByCause period={period} title={title} />
          <Beside period={period} title={title} isOneMonth={chosen.length === 1} />
          <Efficiency
            account={ofLast}
            title={`${where}, as of ${monthWords(ofLast.month, likings.locale)}`}
          />
        </>
      ) : (
        <p className="soft">Nothing is known of {title}.</p>
      )}
    </section>
  );
}
