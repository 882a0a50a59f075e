import type { Severity } from '../../shared/alerts.ts';
import { judgeSettings, type SettingsJudgement } from './judgeSettings.ts';
import { ranked, type WatchedKind } from './kind.ts';
import { mismatchEvidence, mismatchSummary } from './mismatchWords.ts';
import type { SettingMismatchRules } from './rules/settingMismatch.ts';

/**
 * Programmed capacity or hardness disagrees with the salt dose, the resin or the site's water. Each setting is judged by
 * how much denser wrong ones lie there than those of a careful company; where the last cycles say that the control goes
 * by other settings than are known, by the gallons that it goes by.
 */
export const settingMismatch: WatchedKind<SettingMismatchRules> = {
  kind: 'setting-mismatch',
  consequenceOf: [],
  heeds: ['flow-day', 'regeneration', 'settings', 'service-visit', 'power'],
  look(unit, state, rules, _at, isOpen) {
    const judged = judgeSettings(unit, state, rules);
    if (!judged || judged.probability < rules.clear) return null;
    const severity = judged.probability >= rules.raise ? severityOfShare(judged, rules) : null;
    if (severity === null && !isOpen) return null;
    const causes = ranked(judged.weights);
    return {
      probability: judged.probability,
      causes,
      severity,
      lasts: true,
      summary: () => mismatchSummary(state, judged, causes[0]?.cause ?? null, rules),
      evidence: () => mismatchEvidence(unit, state, judged, rules),
    };
  },
};

/** Hard water sends somebody, and so does much waste; what cancels out can wait. */
function severityOfShare(judged: SettingsJudgement, rules: SettingMismatchRules): Severity {
  const { share } = judged;
  if (!Number.isFinite(share)) return 'urgent';
  return share >= rules.hardShare || share <= -rules.wasteShare ? 'soon' : 'routine';
}
