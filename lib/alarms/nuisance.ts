import type { Instant } from '../../shared/time/instant.ts';
import { type Alarm, bySource } from './alarm.ts';

/**
 * The standard's sense of both is an alarm that changes faster than anybody can act; for a plant, three times a minute
 * is a common mark of chattering. A softener's conditions are looked at a few times a day and answered within days,
 * so a day stands for that minute here, and a single return within it already counts. A judgement, no source.
 */
const TOO_FAST_MS = 86_400_000;

/** Alarms that ask for attention and are gone before anybody can give it. */
export interface Nuisance {
  /** Units and kinds of which an alarm was raised again within a day of clearing. */
  readonly chattering: number;
  /** Alarms raised in that way. */
  readonly chatteredAlarms: number;
  /** Alarms that cleared within a day without anybody's acknowledging them, and did not chatter. */
  readonly fleeting: number;
}

/**
 * The nuisance among the alarms that were raised from `from` on.
 *
 * @param alarms also those raised before: one that cleared just before the window may chatter into it
 */
export function nuisanceOf(alarms: readonly Alarm[], from: Instant, until: Instant): Nuisance {
  let chattering = 0;
  let chatteredAlarms = 0;
  let fleeting = 0;
  for (const source of bySource(alarms)) {
    const returned = source.map((alarm, index) => isReturn(source[index - 1], alarm));
    const counted = source.map(({ raisedAt }) => raisedAt >= from && raisedAt < until);
    const returns = returned.filter((isSo, index) => isSo && counted[index]).length;
    chatteredAlarms += returns;
    if (returns > 0) chattering += 1;
    fleeting += source.filter(
      (alarm, index) => counted[index] && isBrief(alarm) && !returned[index] && !returned[index + 1],
    ).length;
  }
  return { chattering, chatteredAlarms, fleeting };
}

function isReturn(before: Alarm | undefined, { raisedAt }: Alarm): boolean {
  return before !== undefined && raisedAt - before.clearedAt <= TOO_FAST_MS;
}

function isBrief({ raisedAt, clearedAt, acknowledgedAt }: Alarm): boolean {
  return clearedAt - raisedAt <= TOO_FAST_MS && acknowledgedAt > clearedAt;
}
