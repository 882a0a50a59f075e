import type { Instant } from '../../shared/time/instant.ts';
import type { Alarm } from './alarm.ts';

const DAY_MS = 86_400_000;
/** Open and unattended for longer than this, an alarm is stale (ISA-18.2-2016, 16.4.7). */
const STALE_AFTER_MS = DAY_MS;

/** Alarms that stay. */
export interface Standing {
  /** Open at the end of the window, whatever people did about them. */
  readonly open: number;
  /** Of these: acknowledged, or shelved at that time. */
  readonly attended: number;
  /** Stale at the end of the window: open for over 24 h, neither acknowledged nor shelved. */
  readonly stale: number;
  /** The most that were stale on any one day of the window. */
  readonly mostStaleOnADay: number;
}

/** The alarms that stay through a window; also such as were raised before it. */
export function standingOf(alarms: readonly Alarm[], from: Instant, until: Instant): Standing {
  const open = alarms.filter(({ raisedAt, clearedAt }) => raisedAt < until && clearedAt >= until);
  const spells = alarms.flatMap((alarm) => staleSpells(alarm, until));
  return {
    open: open.length,
    attended: open.filter((alarm) => isAttended(alarm, until)).length,
    stale: open.filter((alarm) => alarm.raisedAt + STALE_AFTER_MS < until && !isAttended(alarm, until))
      .length,
    mostStaleOnADay: mostOnADay(spells, from, until),
  };
}

type Spell = readonly [from: Instant, until: Instant];

/** When an alarm was stale, as far as the window goes: a shelf takes a piece out of it. */
function staleSpells({ raisedAt, clearedAt, acknowledgedAt, shelved }: Alarm, until: Instant): Spell[] {
  const begin = raisedAt + STALE_AFTER_MS;
  const end = Math.min(clearedAt, acknowledgedAt, until);
  const pieces: Spell[] = shelved
    ? [
        [begin, Math.min(end, shelved.from)],
        [Math.max(begin, shelved.until), end],
      ]
    : [[begin, end]];
  return pieces.filter(([first, last]) => last > first);
}

/** Days are counted from the begin of the window. Two spells of one alarm on one day count twice; a shelf is rare. */
function mostOnADay(spells: readonly Spell[], from: Instant, until: Instant): number {
  const days = new Array<number>(Math.max(1, Math.ceil((until - from) / DAY_MS))).fill(0);
  for (const [first, last] of spells) {
    const lastDay = Math.ceil((last - from) / DAY_MS) - 1;
    for (let day = Math.max(0, Math.floor((first - from) / DAY_MS)); day <= lastDay; day++) {
      days[day] = (days[day] ?? 0) + 1;
    }
  }
  return days.reduce((most, count) => Math.max(most, count), 0);
}

function isAttended({ acknowledgedAt, shelved }: Alarm, at: Instant): boolean {
  return acknowledgedAt < at || (shelved !== null && shelved.from < at && shelved.until >= at);
}
