import { Button } from '@mantine/core';
import { useState } from 'react';
import { messageOf } from '../../app/failure.ts';
import { useTell } from '../../app/status.tsx';
import { whole } from '../../show/amounts.ts';
import { DataTable } from '../../show/DataTable.tsx';
import { useLikings } from '../../show/Likings.tsx';
import { plain } from '../../show/words.ts';
import { PutInForce } from './PutInForce.tsx';
import { type Counts, downloadPage, type Rules, type RuleTrial } from './query.ts';
import styles from './rules.module.css';

/** How far a trial is, or what it found. */
export function Trial({ trial }: { trial: RuleTrial }) {
  return (
    <section className={styles.part} aria-labelledby="trial">
      <h2 id="trial">Trial {trial.trialId}</h2>
      {trial.state === 'running' && <Working trial={trial} />}
      {trial.state === 'failed' && <p role="status">It came to nothing: {trial.failure}.</p>}
      <div aria-live="polite" className={styles.part}>
        {trial.summary && <Found trialId={trial.trialId} summary={trial.summary} proposed={trial.rules} />}
      </div>
    </section>
  );
}

function Working({ trial: { parts, units } }: { trial: RuleTrial }) {
  const likings = useLikings();
  return (
    <div className={styles.working}>
      <progress
        aria-label="Parts of the fleet tried"
        {...(parts && { value: parts.done, max: Math.max(1, parts.of) })}
      />
      <span className="numbers">
        {units === null ? 'Looking up the units …' : `Trying ${whole(units, likings)} units`}
      </span>
    </div>
  );
}

interface FoundProps {
  readonly trialId: string;
  readonly summary: NonNullable<RuleTrial['summary']>;
  /** What was proposed to override. */
  readonly proposed: Rules | null;
}

function Found({ trialId, summary, proposed }: FoundProps) {
  const likings = useLikings();
  const { alerts, byKind, units, unitsTouched, notTried, rules } = summary;
  const rows = Object.entries(byKind).filter(([, { before, after }]) => before + after > 0);
  const number =
    (of: (counts: Counts) => number) =>
    ([, counts]: readonly [string, Counts]) =>
      whole(of(counts), likings);
  const missing = notTried.reduce((sum, range) => sum + range.units, 0);
  return (
    <>
      {missing > 0 && (
        <p className={styles.caution}>
          {whole(missing, likings)} units could not be tried and are in no figure here; the page says why.
        </p>
      )}
      <p>{triedInWords(rules)}</p>
      <DataTable
        caption={`Alerts of ${whole(units, likings)} units by the rules that stand and by those proposed; ${unitsTouched === 0 ? 'no' : whole(unitsTouched, likings)} ${unitsTouched === 1 ? 'unit' : 'units'} would see a difference.`}
        columns={[
          { header: 'Kind', isTight: true, cell: ([kind]) => plain(kind) },
          { header: 'Before', isNumber: true, cell: number(({ before }) => before) },
          { header: 'After', isNumber: true, cell: number(({ after }) => after) },
          { header: 'Gone', isNumber: true, cell: number(({ gone }) => gone) },
          { header: 'New', isNumber: true, cell: number(({ new: fresh }) => fresh) },
          { header: 'Moved', isNumber: true, cell: number(({ moved }) => moved) },
        ]}
        rows={rows}
        keyOf={([kind]) => kind}
        total={['All', alerts] as const}
      />
      <div className={styles.next}>
        <DownloadPage trialId={trialId} />
        {proposed && summary.rules.length > 0 && <PutInForce rules={proposed} />}
      </div>
    </>
  );
}

/** More than these are for the page to list. */
const RULES_SHOWN = 6;

/** What was tried: what stands in the form may have been changed since. */
function triedInWords(rules: NonNullable<RuleTrial['summary']>['rules']): string {
  if (rules.length === 0) return 'The rules tried were those that stand.';
  const shown = rules
    .slice(0, RULES_SHOWN)
    .map(
      ({ rule, before, after }) => `${rule} ${JSON.stringify(after)} instead of ${JSON.stringify(before)}`,
    );
  const others = rules.length - shown.length;
  return `Tried: ${shown.join('; ')}${others > 0 ? `; and ${others} more, which the page lists` : ''}.`;
}

/** Unit by unit it is in a page of its own, to keep and to hand on. */
function DownloadPage({ trialId }: { trialId: string }) {
  const tell = useTell();
  const [isBusy, setBusy] = useState(false);
  const get = async () => {
    setBusy(true);
    try {
      await downloadPage(trialId);
      tell({ text: `Downloaded: rule-trial-${trialId}.html.` });
    } catch (reason) {
      tell({ text: `The page could not be downloaded. ${messageOf(reason)}`, failed: true });
    } finally {
      setBusy(false);
    }
  };
  return (
    <Button variant="default" loading={isBusy} className={styles.try ?? ''} onClick={() => void get()}>
      Download the page, unit by unit
    </Button>
  );
}
