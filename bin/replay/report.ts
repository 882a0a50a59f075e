import type { RegionMonth } from '../../lib/salt/regionMonths.ts';
import { ALERT_KINDS, type Alert, SEVERITIES } from '../../shared/alerts.ts';
import { formatLocalDate } from '../../shared/time/localDate.ts';
import type { Replayed } from './replay.ts';
import { paragraph, table } from './text.ts';

/** Units that are shown; the files have them all. */
const UNITS_SHOWN = 10;
const SUMMARY_INDENT = 11;
const LONGEST_REGION = 30;
const URGENT_FIRST = [...SEVERITIES].reverse();

/** What a dispatcher wants to know of a replay, as plain text. */
export function reportOf(replayed: Replayed): string {
  return [counts(replayed), alertsByKind(replayed), attention(replayed), salt(replayed.salt)]
    .filter((part) => part !== '')
    .join('\n\n');
}

function counts({ summary, fleet }: Replayed): string {
  const { read, accepted, duplicate, quarantined, unitsReporting, until } = summary;
  const reasons = Object.entries(quarantined).filter(([reason, count]) => reason !== 'total' && count > 0);
  const rows = [
    ['accepted', number(accepted)],
    ['duplicate', number(duplicate)],
    ['quarantined', number(quarantined.total)],
    ...reasons.map(([reason, count]) => [`  ${reason}`, number(count)]),
  ];
  const end = until === null ? '' : `, up to ${until.slice(0, 16).replace('T', ' ')} UTC`;
  return [
    `${number(read)} events read; ${number(unitsReporting)} of ${number(fleet.units.length)} units report${end}`,
    `(${summary.elapsedSeconds.toFixed(1)} s, ${number(summary.eventsPerSecond)} events a second)`,
    table(rows, ['left', 'right']),
  ].join('\n');
}

function alertsByKind({ alerts, summary }: Replayed): string {
  const { total } = summary.alerts;
  if (total === 0) return 'No alerts.';
  const { raised, active } = alerts;
  const rows = ALERT_KINDS.filter((kind) => summary.alerts[kind] > 0).map((kind) => {
    const bySeverity = URGENT_FIRST.map((severity) => number(raised[kind][severity]));
    const ownActive = active.filter((alert) => alert.kind === kind).length;
    return [kind, ...bySeverity, number(summary.alerts[kind]), number(ownActive)];
  });
  return [
    `${number(total)} alerts were raised, ${number(active.length)} of them are active`,
    table(
      [['', ...URGENT_FIRST, 'raised', 'active'], ...rows],
      ['left', 'right', 'right', 'right', 'right', 'right'],
    ),
  ].join('\n');
}

/** The units with an active alert, most urgent and then longest waiting first. */
function attention({ alerts, summary, fleet }: Replayed): string {
  const byUnit = new Map<string, Alert[]>();
  for (const alert of [...alerts.active].sort(moreUrgent)) {
    byUnit.set(alert.unitId, [...(byUnit.get(alert.unitId) ?? []), alert]);
  }
  if (byUnit.size === 0) return summary.alerts.total === 0 ? '' : 'No unit needs attention now.';
  const shown = [...byUnit].slice(0, UNITS_SHOWN).map(([unitId, [first, ...others]]) => {
    if (!first) return '';
    const unit = fleet.byId.get(unitId);
    const since = unit ? formatLocalDate(unit.zone.dateAt(Date.parse(first.raisedAt))) : first.raisedAt;
    const cause = first.cause === null ? '' : ` (${first.cause})`;
    const also = others.length === 0 ? '' : ` Also: ${others.map(({ kind }) => kind).join(', ')}.`;
    const head = `${first.severity.padEnd(8)} ${unitId}  ${first.kind}${cause} since ${since}`;
    return `  ${head}\n${paragraph(`${first.summary}${also}`, SUMMARY_INDENT)}`;
  });
  const hidden = byUnit.size - shown.length;
  return [
    'Units that need attention first',
    ...shown,
    ...(hidden > 0 ? [`  and ${number(hidden)} more: the lines of alerts.ndjson with "clearedAt":null`] : []),
  ].join('\n');
}

function salt(months: readonly RegionMonth[]): string {
  if (months.length === 0) return '';
  const regions = [...new Set(months.map(({ region }) => region))];
  const rows = regions.map((region) => {
    const own = months.filter((month) => month.region === region);
    const sum = (of: (month: RegionMonth) => number) => own.reduce((total, month) => total + of(month), 0);
    const saltLb = sum((month) => month.salt_used_lb);
    const measuredLb = sum((month) => month.salt_used_lb * (month.salt_measured_share ?? 0));
    return [
      region.length > LONGEST_REGION ? `${region.slice(0, LONGEST_REGION - 1)}…` : region,
      number(sum((month) => month.unit_days)),
      number(sum((month) => month.unit_days_missing)),
      number(sum((month) => month.regenerations)),
      number(saltLb),
      saltLb > 0 ? `${Math.round((measuredLb / saltLb) * 100)} %` : '',
      saltLb > 0 ? number(sum((month) => month.grains_removed) / saltLb) : '',
      number(sum((month) => month.chloride_lb)),
    ];
  });
  const head = [
    'region',
    'unit-days',
    'missing',
    'regen.',
    'salt lb',
    'measured',
    'grains/lb',
    'chloride lb',
  ];
  return `Salt by region (by month: salt.csv)\n${table([head, ...rows], ['left', ...head.slice(1).map(() => 'right' as const)])}`;
}

function moreUrgent(a: Alert, b: Alert): number {
  return (
    URGENT_FIRST.indexOf(a.severity) - URGENT_FIRST.indexOf(b.severity) || (a.raisedAt < b.raisedAt ? -1 : 1)
  );
}

function number(value: number): string {
  return Math.round(value).toLocaleString('en-US');
}
