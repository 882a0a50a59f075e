import { ALERT_KINDS } from '../../../shared/alerts.ts';
import { escaped } from '../../chart/svg.ts';
import type { RuleDifference } from '../ruleDifferences.ts';
import type { TrialSummary } from '../summary.ts';
import { inDays } from './changeInWords.ts';

const HEADS = ['', 'before', 'after', 'gone', 'new', 'moved', 'raised, median', 'units', 'a unit-year'];
/** Longer values of a rule are cut. */
const LONGEST_VALUE = 120;

/** What the two sets of rules differ in. */
export function rulesTable(rules: readonly RuleDifference[]): string {
  if (rules.length === 0) return '<p>Nothing: the rules proposed are those that stand.</p>';
  const rows = rules.map(
    ({ rule, before, after }) =>
      `<tr><th scope="row">${escaped(rule)}</th><td>${inJson(before)}</td><td>${inJson(after)}</td></tr>`,
  );
  return scrolled(
    'Rules',
    `<table class="rules"><thead><tr><th scope="col">rule</th><th scope="col">now</th><th scope="col">proposed</th></tr></thead><tbody>${rows.join('')}</tbody></table>`,
  );
}

/** Alerts by kind before and after, those of which there are any. */
export function kindsTable({ byKind, alerts }: Pick<TrialSummary, 'byKind' | 'alerts'>): string {
  const kinds = ALERT_KINDS.filter((kind) => byKind[kind].before + byKind[kind].after > 0);
  const heads = HEADS.map((head) => (head === '' ? '<td></td>' : `<th scope="col">${head}</th>`));
  const rows = kinds.map((kind) => rowOf(kind, byKind[kind]));
  return scrolled(
    'Alerts by kind',
    `<table><thead><tr>${heads.join('')}</tr></thead><tbody>${rows.join('')}${rowOf('all', alerts, 'all')}</tbody></table>`,
  );
}

/** Alerts by their severity in the end, before and after. */
export function severitiesTable({ bySeverity }: Pick<TrialSummary, 'bySeverity'>): string {
  const rows = (['urgent', 'soon', 'routine'] as const).map(
    (severity) =>
      `<tr><th scope="row">${severity}</th>${cell(bySeverity[severity].before)}${cell(bySeverity[severity].after)}</tr>`,
  );
  return `<table class="few"><thead><tr><td></td><th scope="col">before</th><th scope="col">after</th></tr></thead><tbody>${rows.join('')}</tbody></table>`;
}

function rowOf(name: string, of: TrialSummary['alerts'], className?: string): string {
  const { before, after, gone, new: fresh, moved, medianRaisedDays, unitsTouched } = of;
  const rate =
    of.beforePerUnitYear === null ? '' : `${figure(of.beforePerUnitYear)} → ${figure(of.afterPerUnitYear)}`;
  const cells = [before, after, gone, fresh, moved].map(cell).join('');
  return `<tr${className ? ` class="${className}"` : ''}><th scope="row">${name}</th>${cells}<td>${medianRaisedDays === null ? '' : inDays(medianRaisedDays)}</td>${cell(unitsTouched)}<td>${rate}</td></tr>`;
}

function cell(count: number): string {
  return `<td${count === 0 ? ' class="zero"' : ''}>${count.toLocaleString('en-US')}</td>`;
}

function figure(perUnitYear: number | null): string {
  return perUnitYear === null ? '' : perUnitYear.toFixed(2);
}

function inJson(value: unknown): string {
  const text = JSON.stringify(value) ?? 'none';
  return escaped(text.length > LONGEST_VALUE ? `${text.slice(0, LONGEST_VALUE)}…` : text);
}

function scrolled(label: string, table: string): string {
  return `<div class="scroll" tabindex="0" role="region" aria-label="${label}">${table}</div>`;
}
