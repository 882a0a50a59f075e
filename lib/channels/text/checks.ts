import { CHECKS, type CheckName } from '../../advice/checks.ts';
import type { Notice } from '../notice.ts';
import { isOpen } from './sentence.ts';

/** The checks to make on the spot, in the order that saves time; empty where nobody is to go, or none would tell. */
export function checkLines({ change, alert }: Pick<Notice, 'change' | 'alert'>): string[] {
  const { checks } = alert.evidence;
  if (!isOpen(change) || alert.severity === 'routine' || !Array.isArray(checks)) return [];
  return checks.filter(isCheckName).map((name, index) => {
    const { task, telling, minutes } = CHECKS[name];
    return `${index + 1}. ${task} It tells if ${telling}. (${minutes} min)`;
  });
}

function isCheckName(name: unknown): name is CheckName {
  return typeof name === 'string' && Object.hasOwn(CHECKS, name);
}
