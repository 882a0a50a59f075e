import type { RollUp } from '../../lib/advice/settings/rollUp.ts';
import type { SettingsAdvice } from '../../lib/advice/settings/settingsAdvice.ts';
import { formatLocalDate } from '../../shared/time/localDate.ts';

/** Advice as JSON: dates as they are written, numbers of at most two decimals, and how many settings were tried. */
export function adviceJson(advice: SettingsAdvice): string {
  const { history, tried, ...rest } = advice;
  const { from, to } = history;
  return json({
    ...rest,
    history: { ...history, from: formatLocalDate(from), to: formatLocalDate(to) },
    tried: tried.length,
  });
}

/** The visits of a fleet as JSON. */
export function fleetJson(rolled: RollUp): string {
  return json(rolled);
}

function json(value: unknown): string {
  const rounded = (_: string, each: unknown) =>
    typeof each === 'number' ? Math.round(each * 100) / 100 : each;
  return `${JSON.stringify(value, rounded, 2)}\n`;
}
