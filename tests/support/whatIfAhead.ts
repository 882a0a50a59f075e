import type { Imagined } from '../../lib/advice/region/imagined.ts';
import { reserveImagined, settingsImagined } from '../../lib/advice/region/imagined.ts';
import { lastYear } from '../../lib/advice/region/lastYear.ts';
import { type AskedUnit, type RegionsWhatIf, regionsWhatIf } from '../../lib/advice/region/regionsWhatIf.ts';
import { unitWhatIf } from '../../lib/advice/region/unitWhatIf.ts';
import { settingsToday } from '../../lib/advice/settings/candidates.ts';
import { pastReplay } from '../../lib/advice/settings/pastReplay.ts';
import { type PastUse, pastUse } from '../../lib/advice/settings/pastUse.ts';
import { AdviceRefused } from '../../lib/advice/settings/refusal.ts';
import {
  type ControlSettings,
  type ReserveRule,
  replaySettings,
} from '../../lib/advice/settings/replaySettings.ts';
import { Chance, STREAM } from '../../lib/simulation/chance.ts';
import { NO_CONFOUNDERS } from '../../lib/simulation/confounders.ts';
import { planFleet, type UnitPlan } from '../../lib/simulation/plan.ts';
import { UnitLife } from '../../lib/simulation/unitLife.ts';
import { KCL_LB_PER_LB_NACL } from '../../lib/softening/stoichiometry.ts';
import { UnitHistory } from '../../lib/unit/history.ts';
import { newUnitState } from '../../lib/unit/state.ts';
import { rulesSchema } from '../../lib/watch/rules.ts';
import type { Fact } from '../../shared/facts.ts';
import { parseLocalDate } from '../../shared/time/localDate.ts';
import { toFact } from '../../shared/toFact.ts';

const rules = rulesSchema.parse({});
const START = parseLocalDate('2025-01-01') ?? 0;
const YEAR = 365;

/** What a region truly used in the second year, under both settings. */
interface Lived {
  readonly saltLb: { readonly today: number; readonly imagined: number };
  readonly hardDays: { readonly today: number; readonly imagined: number };
}

/**
 * A simulated region of one fleet, of which two in five controls are set wrong and one unit in seven cannot be answered
 * for: what is told of it from its first year, and how its second is lived under both settings.
 */
export function regionAhead(
  seed: number,
  units: number,
  imagined: Imagined,
): { readonly answer: RegionsWhatIf; readonly lived: Lived } {
  const chance = new Chance(seed, STREAM.confounders, units);
  const asked: AskedUnit[] = [];
  const lived = { saltLb: { today: 0, imagined: 0 }, hardDays: { today: 0, imagined: 0 } };
  for (const sound of planFleet({ units, days: 2 * YEAR, start: START, seed, faults: {} })) {
    const plan = withWrongSettings(sound, chance);
    const { profile } = plan;
    const { facts, drawnLb } = live(plan);
    const yearOf = (year: number) =>
      facts.filter(({ at }) => {
        const date = profile.zone.dateAt(at - 1) - START;
        return date >= year * YEAR && date < (year + 1) * YEAR;
      });
    const known = { state: newUnitState(profile, rules.fold), open: [], facts: yearOf(0) };
    const isTold = !chance.happens(1 / 7);
    asked.push({ region: 'alder-county', ...answerOf(plan, known, imagined, isTold) });
    const settings = settingsToday(known.state);
    const then = settingsImagined(profile, known.state, imagined, rules['setting-mismatch'], settings);
    const reserve = reserveImagined(imagined);
    const use = pastUse(yearOf(1));
    if (!use) throw new Error('a simulated unit reports its days');
    // The simulator's controls know no forecast: that year is replayed.
    const thenLb =
      reserve.kind === 'forecast'
        ? replayed(plan, use, then, reserve).cycles * then.saltDoseLb
        : live(withSettings(plan, then)).drawnLb;
    lived.saltLb.today += drawnLb;
    lived.saltLb.imagined += thenLb * (imagined.salt === 'KCl' ? KCL_LB_PER_LB_NACL : 1);
    lived.hardDays.today += replayed(plan, use, settings).hardDays;
    lived.hardDays.imagined += replayed(plan, use, then, reserve).hardDays;
  }
  return { answer: regionsWhatIf(asked, rules.salt), lived };
}

function answerOf(
  { profile }: UnitPlan,
  known: Parameters<typeof pastReplay>[1],
  imagined: Imagined,
  isTold: boolean,
): Pick<AskedUnit, 'answer' | 'lastYear'> {
  const mismatch = rules['setting-mismatch'];
  const history = new UnitHistory(profile, rules.fold);
  for (const fact of known.facts) history.learn(fact);
  const ofAccounts = lastYear(history.accounts);
  if (!isTold) return { lastYear: ofAccounts, answer: 'hardness-in-doubt' };
  try {
    const { replay } = pastReplay(profile, known, { rules: mismatch });
    return {
      lastYear: ofAccounts,
      answer: unitWhatIf(profile, { state: known.state, replay }, imagined, mismatch),
    };
  } catch (error) {
    if (error instanceof AdviceRefused) return { lastYear: ofAccounts, answer: error.reason };
    throw error;
  }
}

/** Lives two years: all that is reported, and the salt that was truly drawn in the second, lb. */
function live(plan: UnitPlan): { facts: Fact[]; drawnLb: number } {
  const life = new UnitLife(plan);
  const facts: Fact[] = [];
  let firstYearLb = 0;
  for (let day = 0; day < 2 * YEAR; day++) {
    if (day === YEAR) firstYearLb = life.softener.tank.drawnLb;
    facts.push(...life.nextDay().map(({ event }) => toFact(event, plan.profile.zone)));
  }
  return { facts, drawnLb: life.softener.tank.drawnLb - firstYearLb };
}

/** Two in five are set a fifth to two fifths off, either way; nothing else happens that looks like a fault. */
function withWrongSettings(plan: UnitPlan, chance: Chance): UnitPlan {
  const { programmed } = plan.profile;
  const factor = chance.happens(0.4) ? chance.pick([-1, 1]) * chance.uniform(0.2, 0.4) : 0;
  const capacityGrains = 1000 * Math.round((programmed.capacityGrains * (1 + factor)) / 1000);
  // A capacity that no dose can give would be refused.
  const possible = Math.min(
    capacityGrains,
    5000 * plan.profile.saltDoseLb,
    40_000 * plan.profile.resinCubicFeet,
  );
  return {
    ...plan,
    confounders: { ...NO_CONFOUNDERS, moved: plan.confounders.moved },
    profile: { ...plan.profile, programmed: { ...programmed, capacityGrains: possible } },
  };
}

function withSettings(plan: UnitPlan, { saltDoseLb, ...programmed }: ControlSettings): UnitPlan {
  return { ...plan, profile: { ...plan.profile, saltDoseLb, programmed } };
}

/** A year replayed on the bed as it truly is. */
function replayed({ profile }: UnitPlan, use: PastUse, settings: ControlSettings, reserve?: ReserveRule) {
  const { resinCubicFeet, alternating, bedFactor } = profile;
  const { compensatedHardnessGpg } = newUnitState(profile, rules.fold);
  return replaySettings(
    { resinCubicFeet, alternating, compensatedHardnessGpg: compensatedHardnessGpg / bedFactor },
    use,
    settings,
    reserve,
  );
}
