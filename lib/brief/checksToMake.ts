import { CHECKS, type CheckName } from '../advice/checks.ts';
import { type Episode, toAlert } from '../watch/episode.ts';
import type { Brief } from './briefSchema.ts';

/** More than this is no longer an order that saves time. */
const MOST_CHECKS = 6;
/** Where nothing is open: a look at what goes wrong most. Common practice, no source. */
const USUAL: readonly CheckName[] = [
  'clock-within-an-hour',
  'settings-read-back',
  'look-into-brine-tank',
  'flow-indicator',
  'hot-and-cold-hardness',
];

/**
 * The checks to make, each once: those of the alert that weighs most in its order, then what others add.
 *
 * @param open episodes, the one that weighs most first
 */
export function checksToMake(unitId: string, open: readonly Episode[]): Brief['checks'] {
  const told = open.flatMap((episode) => checksIn(toAlert(unitId, episode).evidence.checks));
  const names = open.length === 0 ? USUAL : [...new Set(told)];
  return names.slice(0, MOST_CHECKS).map((check) => {
    const { task, telling, minutes } = CHECKS[check];
    return { check, task, telling, minutes };
  });
}

function checksIn(checks: unknown): CheckName[] {
  return Array.isArray(checks) ? checks.filter(isCheckName) : [];
}

function isCheckName(name: unknown): name is CheckName {
  return typeof name === 'string' && Object.hasOwn(CHECKS, name);
}
