import type { Alert } from '../../shared/alerts.ts';

/**
 * Through which severities an alert went, and when it came to each after the first: a question to the household that
 * becomes a visit a week sooner is not the same alert. The raising's own instant is left out.
 */
export function courseOf({ history }: Pick<Alert, 'history'>): string {
  const steps = history.filter(({ severity }, index) => severity !== history[index - 1]?.severity);
  return steps.map(({ at, severity }, index) => (index === 0 ? severity : `${severity} ${at}`)).join(', ');
}
