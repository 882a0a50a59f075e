import { NativeSelect } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { useMemo } from 'react';
import { useServiceNow } from '../api/useServiceNow.ts';
import { Empty } from '../app/Empty.tsx';
import { ErrorState } from '../app/ErrorPage.tsx';
import { PageHead } from '../app/PageHead.tsx';
import { Progress } from '../app/Progress.tsx';
import { useLikings } from '../show/Likings.tsx';
import { plain } from '../show/words.ts';
import { ByMonth } from './ByMonth.tsx';
import { Compare } from './Compare.tsx';
import { useChoice } from './choice.ts';
import { Downloads } from './Downloads.tsx';
import { Hatch } from './figures/Hatch.tsx';
import { MonthReport } from './MonthReport.tsx';
import { MonthTotals } from './MonthTotals.tsx';
import { MEASURES, type Measure } from './measures.ts';
import { monthNames, type RegionSums, together } from './months.ts';
import { monthWords } from './monthWords.ts';
import { regionsQuery } from './query.ts';
import styles from './RegionsPage.module.css';
import { WhatIf } from './whatIf/WhatIf.tsx';
import { WHOLENESS_WORDS, wholeness } from './whole.ts';

const TITLE = 'Regions';

/** For the analyst: what the softeners of each region used, how that is known, and what it could be. */
export function Page() {
  const { data: regions, error, refetch } = useQuery(regionsQuery);
  return (
    <>
      <PageHead title={TITLE}>{regions && regions.length > 0 && <Downloads />}</PageHead>
      {!regions && error && <ErrorState error={error} retry={() => void refetch()} />}
      {!regions && !error && <Progress what="Adding up all units" />}
      {regions?.length === 0 && (
        <Empty title="No region has a month yet">
          <p>
            Add units with their regions to the registry, and let their meters report. Their first month shows
            here as soon as one day of it is reported.
          </p>
        </Empty>
      )}
      {regions && regions.length > 0 && <Accounts regions={regions} />}
    </>
  );
}

function Accounts({ regions }: { regions: readonly RegionSums[] }) {
  const likings = useLikings();
  const now = useServiceNow();
  const [choice, change] = useChoice();
  const measure: Measure = MEASURES[choice.of];
  const names = useMemo(() => monthNames(regions), [regions]);
  const all = useMemo(() => together(regions), [regions]);
  const chosen = regions.find(({ region }) => region === choice.region);
  const months = chosen?.months ?? all;
  const scope = chosen ? plain(chosen.region) : 'all regions';
  const lastWhole = all.findLast((sum) => wholeness(sum, now) === 'whole')?.month;
  const month = names.find((name) => name === choice.month) ?? lastWhole ?? names.at(-1) ?? '';
  const ofMonth = all.find((sum) => sum.month === month);
  const whole = ofMonth ? wholeness(ofMonth, now) : 'whole';
  return (
    <>
      <Hatch />
      <p className={`soft ${styles.intro}`}>
        What softeners used, by month of their sites. Nothing is put in the place of days without a report:
        where many are missing, the true amounts are higher.
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
          regions={regions}
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
      <WhatIf regions={regions.map(({ region }) => region)} />
    </>
  );
}
