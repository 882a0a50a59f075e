import type { Change } from '../../live/transitions.ts';
import type { Notice } from '../notice.ts';
import { oneLine } from './oneLine.ts';

type Told = Pick<Notice, 'change' | 'alert' | 'siteId' | 'unitId'>;

const WHAT: Readonly<Record<Change, (severity: string) => string>> = {
  raised: (severity) => `New ${severity} alert`,
  worsened: (severity) => `Now ${severity}`,
  eased: (severity) => `Eased to ${severity}`,
  cleared: () => 'Over',
  withdrawn: () => 'Withdrawn',
};

/** What is put before the alert's own words where they are no longer so. */
const PAST: Readonly<Partial<Record<Change, string>>> = {
  cleared: 'it had been: ',
  withdrawn: 'late reports show that it was never so: ',
};

/** Whether somebody is still to do something about the alert. */
export function isOpen(change: Change): boolean {
  return change !== 'cleared' && change !== 'withdrawn';
}

/** A few words for a subject: what changed, of which kind, where. */
export function headlineOf(notice: Told): string {
  const { kind, cause } = notice.alert;
  const why = cause === null ? '' : ` (${wordsOf(cause)})`;
  return oneLine(`${whatOf(notice)}: ${wordsOf(kind)}${why}, ${whereOf(notice)}`);
}

/** One plain sentence: what changed, where, and the alert's own words. */
export function sentenceOf(notice: Told): string {
  const past = PAST[notice.change] ?? '';
  return oneLine(`${whatOf(notice)}, ${whereOf(notice)}: ${past}${notice.alert.summary}`);
}

/** The same for a short message: its link names the unit, so the site will do. */
export function shortSentenceOf({ change, alert, siteId, unitId }: Told): string {
  const what = change === 'raised' ? capitalised(alert.severity) : WHAT[change](alert.severity);
  const words = isOpen(change) ? alert.summary : `${wordsOf(alert.kind)}.`;
  return oneLine(`${what}, ${siteId ?? unitId}: ${words}`);
}

function capitalised(word: string): string {
  return word.charAt(0).toUpperCase() + word.slice(1);
}

function whatOf({ change, alert }: Told): string {
  return WHAT[change](alert.severity);
}

function whereOf({ siteId, unitId }: Told): string {
  return siteId === undefined ? `unit ${unitId}` : `site ${siteId}, unit ${unitId}`;
}

function wordsOf(code: string): string {
  return code.replaceAll('-', ' ');
}
