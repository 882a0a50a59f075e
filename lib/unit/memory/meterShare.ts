import type { FlowDay, ServiceVisit } from '../../../shared/facts.ts';
import type { LocalDate } from '../../../shared/time/localDate.ts';
import { keptShort } from './keptShort.ts';
import type { Seen, WrittenMemory } from './memory.ts';
import { obstructed, passDay, type ShareBelief, soundBelief, visited, weighDay } from './shareBelief.ts';
import {
  copyUsual,
  type DayLogs,
  deviationsOf,
  learn,
  lessSure,
  nothingUsual,
  type UsualFlow,
} from './usualFlow.ts';

/** How much of what flows the meter registers. */
export interface MeterShare {
  /** How water flows while the meter registers all of it. */
  usual: UsualFlow;
  belief: ShareBelief;
  /** Probability that the meter is obstructed. */
  obstructed: number;
  /** When it began, roughly: the mean over what is believed. */
  since: LocalDate;
  /** Mean deviations of the latest days from the usual, of the logarithms of use and of peak. */
  recentUse: number;
  recentPeak: number;
}

const RECENT_DAYS = 5;
/** Words of a technician who had the meter in hand, or took the unit elsewhere. */
const OF_METER = /\b(meter|turbine|impeller)/i;
const MOVED = /\b(moved|relocated)\b/i;

/** Only days with a peak tell: a unit that does not sense it stays as it began. */
export const meterShare: WrittenMemory<MeterShare> = {
  start: () => ({
    usual: nothingUsual(),
    belief: soundBelief(),
    obstructed: 0,
    since: 0,
    recentUse: 0,
    recentPeak: 0,
  }),
  copy: (kept) => ({
    usual: copyUsual(kept.usual),
    belief: kept.belief.slice(),
    obstructed: kept.obstructed,
    since: kept.since,
    recentUse: kept.recentUse,
    recentPeak: kept.recentPeak,
  }),
  observe(kept, fact, seen) {
    if (fact.kind === 'flow-day') {
      observeDay(kept, fact, seen);
      return kept;
    }
    return kept.usual.days > 0 && fact.kind === 'service-visit' ? observeVisit(kept, fact, seen) : kept;
  },
};

function observeDay(kept: MeterShare, day: FlowDay, seen: Seen) {
  const rules = seen.rules.meterShare;
  const logs = logsOf(kept, day, seen);
  if (!logs) return;
  const { usual, belief } = kept;
  const deviations = usual.days > 0 ? deviationsOf(usual, logs) : null;
  if (deviations === null || usual.days < rules.learntDays) {
    learn(usual, logs, deviations);
    return;
  }
  passDay(belief, rules);
  const begunBefore = obstructed(belief);
  weighDay(belief, deviations, rules);
  const probability = obstructed(belief);
  const begunToday = begunBefore > 0 ? Math.max(0, 1 - kept.obstructed / begunBefore) : 1;
  kept.obstructed = probability;
  kept.since = keptShort(kept.since + begunToday * (day.date - kept.since));
  kept.recentUse = keptShort(kept.recentUse + (deviations.use - kept.recentUse) / RECENT_DAYS);
  kept.recentPeak = keptShort(kept.recentPeak + (logs.peak - usual.peak - kept.recentPeak) / RECENT_DAYS);
  if (probability < rules.frozenFrom) learn(usual, logs, deviations);
}

/** What a day tells; null where it tells nothing. */
function logsOf({ usual }: MeterShare, day: FlowDay, { rules, state }: Seen): DayLogs | null {
  const { peakGpm } = day;
  if (peakGpm === undefined || peakGpm <= 0) return null;
  const { leastGallons, leastShareOfUsual, mostFlowMinutes } = rules.meterShare;
  const { date, gallons, flowHours, longestFlowMinutes = 0 } = day;
  if (gallons < leastGallons || longestFlowMinutes >= mostFlowMinutes) return null;
  if (state.away && date >= state.away.from && date <= state.away.to) return null;
  const use = Math.log(gallons);
  if (usual.days > 0 && use < usual.use + Math.log(leastShareOfUsual)) return null;
  return { use, peak: Math.log(peakGpm), hours: flowHours ?? null };
}

/** Another home is another story; a meter that was in somebody's hands is sound, and may count a little otherwise. */
function observeVisit(kept: MeterShare, { findings, work }: ServiceVisit, seen: Seen): MeterShare {
  const rules = seen.rules.meterShare;
  const said = [...findings, ...work];
  if (said.some((each) => MOVED.test(each))) return meterShare.start(seen.unit);
  const ofMeter = said.some((each) => OF_METER.test(each));
  visited(kept.belief, ofMeter ? 1 : rules.clearedByVisit);
  kept.obstructed = obstructed(kept.belief);
  if (ofMeter) lessSure(kept.usual, rules.learntDays);
  return kept;
}
