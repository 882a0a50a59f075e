import { choose } from '../../lib/advice/settings/choose.ts';
import type { Outcome } from '../../lib/advice/settings/outcome.ts';

/** The best of a frontier for each dose, chosen as the advised settings are; by dose. */
export function byDose(frontier: readonly Outcome[], mostHardDays: number): Outcome[] {
  const doses = [...new Set(frontier.map(({ settings }) => settings.saltDoseLb))].sort((a, b) => a - b);
  return doses.flatMap((dose) => {
    const own = frontier.filter(({ settings }) => settings.saltDoseLb === dose);
    return choose(own, mostHardDays) ?? [];
  });
}
