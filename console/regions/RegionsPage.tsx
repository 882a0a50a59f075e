import { NativeSelect } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { useMemo } from 'react';
import { wholeness } from '../../lib/salt/account/wholeness.ts';
import { SALT_CAUTION } from '../../lib/salt/saltCaution.ts';
import { useServiceNow } from '../api/useServiceNow.ts';
import { Empty } from '../app/Empty.tsx';
import { ErrorState } from '../app/ErrorPage.tsx';
import { PageHead } from '../app/PageHead.tsx';
import { Progress } from '../app/Progress.tsx';
import { useLikings } from '../show/Likings.tsx';
import { plain } from '../show/words.ts';
import { AsOf } from './AsOf.tsx';
import { ByMonth } from './ByMonth.tsx';
import { Compare } from './Compare.tsx';
import { useChoice } from './choice.ts';
import { Downloads } from './Downloads.tsx';
import { Patterns } from './figures/Patterns.tsx';
import { MonthReport } from './MonthReport.tsx';
import { MonthTotals } from './MonthTotals.tsx';
import { MEASURES, type Measure } from './measures.ts';
import { type Accounts, monthNames } from './months.ts';
import { monthWords } from './monthWords.ts';
import { accountsQuery } from './query.ts';
import styles from './RegionsPage.module.css';
import { Waste } from './waste/Waste.tsx';
import { WhatIf } from './whatIf/WhatIf.tsx';
import { WHOLENESS_WORDS } from './whole.ts';

const TITLE = 'Regions';

/** For the analyst: what the softeners of each region used, how that is known, and what it could be. */
export function Page() {
  const { data: accounts, error, refetch } = useQuery(accountsQuery);
  return (
    <>
      <PageHead title={TITLE}>
        {accounts && accounts.regions.length > 0 && <a href="#files">Download the accounts</a>}
      </PageHead>
      {!accounts && error && <ErrorState error={error} retry={() => void refetch()} />}
      {!accounts && !error && <Progress what="Asking for the accounts" />}
      {accounts?.regions.length === 0 && (
        <Empty title="No region has a month yet">
          <p>
            Add units with their regions to the registry, and let their meters report. Their first month shows
            here as soon as one day of it is reported.
          </p>
        </Empty>
      )}
      {accounts && accounts.regions.length > 0 && <Shown accounts={accounts} error={error} />}
    </>
  );
}

function Shown({ accounts, error }: { accounts: Accounts; error: unknown }) {
  const likings = useLikings();
  const now = useServiceNow();
  const [choice, change] = useChoice();
  const { regions, all } = accounts;
  const measure: Measure = MEASURES[choice.of];
  const names = useMemo(() => monthNames(accounts), [accounts]);
  const chosen = regions.find(({ region }) => region === choice.region);
  const months = chosen?.months ?? all;
  const scope = chosen ? plain(chosen.region) : 'all regions';
  const last = names.at(-1) ?? '';
  const lastWhole = all.findLast((account) => wholeness(account, now) === 'whole')?.month ?? last;
  const month = names.find((name) => name === choice.month) ?? lastWhole;
  const ofMonth = all.find((account) => account.month === month);
  const whole = ofMonth ? wholeness(ofMonth, now) : 'whole';
  return (
    <>
      <Patterns />
      <AsOf asOf={accounts.asOf} now={now} error={error} />
      {choice.region !== undefined && !chosen && (
        <p className={styles.unknown} role="status">
          There is no account of a region called “{choice.region}”: all regions are shown instead.
        </p>
      )}
      <p className={`soft ${styles.intro}`}>
        What softeners used, by month of their sites. Days without a report are estimated by each household’s
        own past and shown apart; where that tells too little they are missing, and nothing stands in their
        place. {SALT_CAUTION}
      </p>
      <section className={styles.part} aria-labelledby="by-month">
        <h2 id="by-month">By month</h2>
        <div className={styles.choices}>
          <NativeSelect
            label="Figure"
            data={Object.entries(MEASURES).map(([value, { label }]) => ({ value, label }))}
            value={choice.of}
            onChange={({ currentTarget }) => change({ of: currentTarget.value })}
          />
          <NativeSelect
            label="Region"
            data={[
              { value: '', label: 'All regions' },
              ...regions.map(({ region }) => ({ value: region, label: plain(region) })),
            ]}
            value={chosen?.region ?? ''}
            onChange={({ currentTarget }) => change({ region: currentTarget.value })}
          />
        </div>
        <ByMonth title={`${measure.label}, ${scope}`} measure={measure} months={months} now={now} />
      </section>
      <section className={styles.part} aria-labelledby="compared">
        <h2 id="compared">Regions and years compared</h2>
        <Compare
          measure={measure}
          per={choice.per}
          onPer={(per) => change({ per })}
          regions={regions}
          months={months}
          scope={scope}
          now={now}
        />
      </section>
      <section className={styles.part} aria-labelledby="totals">
        <h2 id="totals">Totals of a month</h2>
        <div className={styles.choices}>
          <NativeSelect
            label="Month"
            data={names.toReversed().map((value) => ({ value, label: monthWords(value, likings.locale) }))}
            value={month}
            onChange={({ currentTarget }) => change({ month: currentTarget.value })}
          />
        </div>
        <MonthTotals
          accounts={accounts}
          month={month}
          note={whole === 'whole' ? undefined : WHOLENESS_WORDS[whole]}
        />
        <MonthReport
          regions={regions
            .filter(({ months: own }) => own.some((sum) => sum.month === month))
            .map(({ region }) => region)}
          month={month}
          chosen={chosen?.region}
        />
      </section>
      <Waste
        accounts={accounts}
        region={chosen?.region}
        month={month}
        lastMonth={lastWhole}
        isYear={choice.over === 'year'}
        months={names}
        onChange={change}
      />
      <WhatIf regions={regions.map(({ region }) => region)} />
      <Downloads />
    </>
  );
}
