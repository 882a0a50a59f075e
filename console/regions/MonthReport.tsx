import { Button, NativeSelect } from '@mantine/core';
import { useState } from 'react';
import { messageOf } from '../app/failure.ts';
import { useTell } from '../app/status.tsx';
import { useLikings } from '../show/Likings.tsx';
import { plain } from '../show/words.ts';
import { monthWords } from './monthWords.ts';
import styles from './RegionsPage.module.css';
import { keepReport, openReport, type ReportAsked } from './report.ts';

const FORMS = [
  { label: 'Open report (PDF)', get: openReport },
  { label: 'Download report (HTML)', get: keepReport },
] as const;

interface MonthReportProps {
  /** Those that have an account of the month. */
  readonly regions: readonly string[];
  /** `YYYY-MM`. */
  readonly month: string;
  /** The region that is looked at, if one is. */
  readonly chosen: string | undefined;
}

/** The report of the month that is chosen, region by region, for whoever must stand for its figures. */
export function MonthReport({ regions, month, chosen }: MonthReportProps) {
  const tell = useTell();
  const { locale } = useLikings();
  const [picked, setPicked] = useState<string>();
  const [isShared, setShared] = useState(false);
  const [busy, setBusy] = useState<string>();
  const region = [picked, chosen, regions[0]].find((each) => each !== undefined && regions.includes(each));
  if (region === undefined) return null;
  const get = async (label: string, form: (asked: ReportAsked) => Promise<void>) => {
    setBusy(label);
    const about = `${plain(region)}, ${monthWords(month, locale)}`;
    try {
      await form({ region, month, isShared });
      tell({ text: `The report of ${about} is made.` });
    } catch (reason) {
      tell({ text: `The report of ${about} could not be made. ${messageOf(reason)}`, failed: true });
    } finally {
      setBusy(undefined);
    }
  };
  return (
    <div className={styles.choices}>
      <NativeSelect
        label="Report of the month"
        data={regions.map((value) => ({ value, label: plain(value) }))}
        value={region}
        onChange={({ currentTarget }) => setPicked(currentTarget.value)}
      />
      <label className={styles.shared}>
        <input
          type="checkbox"
          checked={isShared}
          onChange={({ currentTarget }) => setShared(currentTarget.checked)}
        />
        For sharing
      </label>
      <div className={styles.downloads}>
        {FORMS.map(({ label, get: form }) => (
          <Button
            key={label}
            variant="default"
            loading={busy === label}
            disabled={busy !== undefined}
            onClick={() => void get(label, form)}
          >
            {label}
          </Button>
        ))}
      </div>
    </div>
  );
}
