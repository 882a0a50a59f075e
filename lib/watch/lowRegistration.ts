import { formatLocalDate } from '../../shared/time/localDate.ts';
import type { MeterShare } from '../unit/memory/meterShare.ts';
import { meanShare } from '../unit/memory/shareBelief.ts';
import { only, severityOf, type WatchedKind } from './kind.ts';
import type { LowRegistrationRules } from './rules/lowRegistration.ts';

/**
 * The meter registers a falling share of what flows: something obstructs it. Its peaks fall with the use, but not the
 * hours with flow. The likelihood is in lib/unit/memory/shareBelief.ts. A unit that does not sense its peak flow cannot
 * tell this from a household that draws less, and says nothing; neither can one whose meter was obstructed from the
 * beginning.
 */
export const lowRegistration: WatchedKind<LowRegistrationRules> = {
  kind: 'low-registration',
  consequenceOf: ['no-flow'],
  heeds: ['flow-day', 'service-visit'],
  look(_unit, state, rules) {
    const { meterShare } = state.memories;
    if (meterShare.obstructed < rules.clear) return null;
    return {
      probability: meterShare.obstructed,
      causes: only('meter-obstructed'),
      severity: severityOf(meterShare.obstructed, rules),
      lasts: true,
      summary: () => summary(meterShare, rules),
      evidence: () => evidence(meterShare),
    };
  },
};

function summary({ belief, obstructed, since }: MeterShare, { soon }: LowRegistrationRules): string {
  const percent = Math.round(100 * meanShare(belief));
  const what = `about ${percent} % of what flows since ${formatLocalDate(Math.round(since))} or so`;
  return obstructed >= soon
    ? `The meter registers ${what}: something obstructs it.`
    : `The meter may be registering only ${what}: look at it, and at the water pressure.`;
}

function evidence({ belief, since, usual, recentUse, recentPeak }: MeterShare) {
  return {
    registeredShare: meanShare(belief),
    since: formatLocalDate(Math.round(since)),
    usualGallonsPerDay: Math.exp(usual.use),
    recentUseOverUsual: Math.exp(recentUse),
    usualPeakGpm: Math.exp(usual.peak),
    recentPeakOverUsual: Math.exp(recentPeak),
    usualFlowHours: usual.hoursDays > 0 ? usual.hours : null,
    usualKnownFromDays: usual.days,
  };
}
