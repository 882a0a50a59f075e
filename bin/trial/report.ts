import { inDays } from '../../lib/trial/page/changeInWords.ts';
import type { RuleDifference } from '../../lib/trial/ruleDifferences.ts';
import type { TrialSummary } from '../../lib/trial/summary.ts';
import type { UnitChanges } from '../../lib/trial/tally.ts';
import { ALERT_KINDS, SEVERITIES } from '../../shared/alerts.ts';
import { oneLine } from '../errors.ts';
import { table } from '../replay/text.ts';
import type { Tried } from './trial.ts';

/** Units and rules that are shown; the files have them all. */
const UNITS_SHOWN = 10;
const RULES_SHOWN = 20;
const URGENT_FIRST = [...SEVERITIES].reverse();

/** What somebody wants to know who is about to change the rules, as plain text. */
export function reportOf(tried: Tried): string {
  const { summary, tally } = tried;
  return [
    counts(tried),
    rules(summary.rules),
    kinds(summary),
    severities(summary),
    units(tally.mostChanged, summary.unitsTouched),
  ]
    .filter((part) => part !== '')
    .join('\n\n');
}

function counts({ summary, read, rejected, seconds }: Tried): string {
  const { units: tried, unitsReporting, unitYears, until } = summary;
  const end = until === null ? '' : `, up to ${until.slice(0, 16).replace('T', ' ')} UTC`;
  const speed = seconds > 0 ? `, ${(unitYears / seconds).toFixed(1)} unit-years a second` : '';
  return [
    `${number(read)} events read (${number(rejected)} quarantined); ${number(unitsReporting)} of ${number(tried)} units report${end}`,
    `${unitYears.toFixed(1)} unit-years by two sets of rules (${seconds.toFixed(1)} s${speed})`,
  ].join('\n');
}

function rules(differences: readonly RuleDifference[]): string {
  if (differences.length === 0) return 'The rules proposed are those that stand.';
  const rows = differences
    .slice(0, RULES_SHOWN)
    .map(({ rule, before, after }) => [rule, JSON.stringify(before), '->', JSON.stringify(after)]);
  const hidden = differences.length - rows.length;
  const more = hidden > 0 ? `\n  and ${number(hidden)} more: summary.json` : '';
  return `Proposed\n${table(rows, ['left', 'right', 'left', 'left'])}${more}`;
}

function kinds({ byKind, alerts }: TrialSummary): string {
  if (alerts.before + alerts.after === 0) return 'No alerts by either set of rules.';
  const row = (name: string, of: TrialSummary['alerts']) => [
    name,
    ...[of.before, of.after, of.gone, of.new, of.moved].map(number),
    of.medianRaisedDays === null ? '' : inDays(of.medianRaisedDays),
    number(of.unitsTouched),
  ];
  const shown = ALERT_KINDS.filter((kind) => byKind[kind].before + byKind[kind].after > 0);
  const head = ['', 'before', 'after', 'gone', 'new', 'moved', 'raised, median', 'units'];
  return `Alerts before and after\n${table(
    [head, ...shown.map((kind) => row(kind, byKind[kind])), row('all', alerts)],
    ['left', ...head.slice(1).map(() => 'right' as const)],
  )}`;
}

function severities({ bySeverity, alerts }: TrialSummary): string {
  if (alerts.before + alerts.after === 0) return '';
  const rows = (['before', 'after'] as const).map((side) => [
    side,
    ...URGENT_FIRST.map((severity) => number(bySeverity[severity][side])),
  ]);
  return `By severity in the end\n${table([['', ...URGENT_FIRST], ...rows], ['left', 'right', 'right', 'right'])}`;
}

function units(mostChanged: readonly UnitChanges[], touched: number): string {
  if (mostChanged.length === 0) return 'No unit would see a difference.';
  const rows = mostChanged.slice(0, UNITS_SHOWN).map(({ unitId, gone, new: fresh, moved, rows: all }) => {
    const changed = all.filter(({ change }) => change !== 'same').map(({ kind }) => kind);
    return [oneLine(unitId), number(gone), number(fresh), number(moved), [...new Set(changed)].join(', ')];
  });
  const hidden = touched - rows.length;
  const more = hidden > 0 ? `\n  and ${number(hidden)} more: trial.ndjson` : '';
  return `Units that change most\n${table(
    [['', 'gone', 'new', 'moved', ''], ...rows],
    ['left', 'right', 'right', 'right', 'left'],
  )}${more}`;
}

function number(value: number): string {
  return Math.round(value).toLocaleString('en-US');
}
