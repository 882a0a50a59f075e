import type { Outcome } from './run.ts';

const COLUMNS = [
  'scenario',
  'ingest age',
  'assess age',
  'assessed',
  'alerts',
  'half out',
  '99 % out',
  'all out',
  'at once',
  'throttled',
  'came back',
  'dead',
] as const;

/** Outcomes as a table in Markdown; times in minutes and seconds. */
export function tellOutcomes(outcomes: readonly Outcome[]): string {
  const rows = outcomes.map((outcome) => {
    const { scenario, stages, alerts, limits } = outcome;
    const all = Object.values(stages);
    const cameBack = all.reduce((total, stage) => total + stage.cameBack, 0);
    const dead = Object.entries(stages).filter(([, stage]) => stage.dead > 0);
    return [
      scenario.name,
      clock(stages.ingest.oldest),
      clock(stages.assess.oldest),
      clock(outcome.assessedAll),
      whole(alerts.count),
      clock(alerts.p50),
      clock(alerts.p99),
      clock(alerts.all),
      whole(outcome.concurrency),
      throttles(limits),
      whole(cameBack),
      dead.map(([name, stage]) => `${name} ${whole(stage.dead)}`).join(', ') || '-',
    ];
  });
  return table(COLUMNS, rows);
}

/** What was the most that each limit let through in a second, beside what it is by default. */
export function tellPeaks(outcomes: readonly Outcome[]): string {
  const names = ['publishes', 'writes', 'reads', 'lists', 'companies', 'sends', 'mails'] as const;
  const rows = outcomes.map(({ scenario, limits, concurrency }) => [
    scenario.name,
    ...names.map((name) => whole(limits[name].peak)),
    whole(concurrency),
  ]);
  return table(['most in a second', ...names, 'invocations at once'], rows);
}

function throttles(limits: Outcome['limits']): string {
  const some = Object.entries(limits).filter(([, { refused }]) => refused >= 1);
  return some.map(([name, { refused }]) => `${name} ${whole(refused)}`).join(', ') || '-';
}

/** `3:05`, or `0.4 s` below ten seconds. */
export function clock(seconds: number): string {
  if (seconds < 10) return `${seconds.toFixed(1)} s`;
  const minutes = Math.floor(Math.round(seconds) / 60);
  const rest = String(Math.round(seconds) % 60).padStart(2, '0');
  return minutes < 60 ? `${minutes}:${rest}` : `${Math.floor(minutes / 60)} h ${minutes % 60} min`;
}

/** With commas, no decimals. */
export function whole(value: number): string {
  return Math.round(value).toLocaleString('en-US');
}

/** A table in Markdown. */
export function table(columns: readonly string[], rows: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]) => `| ${cells.join(' | ')} |`;
  const rule = columns.map((_, index) => (index === 0 ? '---' : '---:'));
  return [line(columns), line(rule), ...rows.map(line)].join('\n');
}
