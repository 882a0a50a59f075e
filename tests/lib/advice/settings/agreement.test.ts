import { expect, test } from 'vitest';
import type { PastUse } from '../../../../lib/advice/settings/pastUse.ts';
import { pastUse } from '../../../../lib/advice/settings/pastUse.ts';
import { replaySettings } from '../../../../lib/advice/settings/replaySettings.ts';
import type { UnitPlan } from '../../../../lib/simulation/plan.ts';
import { bedCapacityGrains } from '../../../../lib/softening/capacity.ts';
import { compensatedHardnessGpg } from '../../../../lib/softening/iron.ts';
import { fold } from '../../../../lib/unit/fold.ts';
import { inOrder } from '../../../../lib/unit/history.ts';
import { newUnitState } from '../../../../lib/unit/state.ts';
import { rulesSchema } from '../../../../lib/watch/rules.ts';
import type { Fact } from '../../../../shared/facts.ts';
import { zoneOf } from '../../../support/events.ts';
import { forUnits, live } from '../../simulation/units.ts';

const rules = rulesSchema.parse({});

function replayOfToday({ profile }: UnitPlan, use: PastUse) {
  const { resinCubicFeet, alternating, saltDoseLb, programmed } = profile;
  return replaySettings(
    { resinCubicFeet, alternating, compensatedHardnessGpg: compensatedHardnessGpg(profile) },
    use,
    { saltDoseLb, ...programmed },
  );
}

function reportedUse(facts: readonly Fact[]): PastUse {
  const use = pastUse(facts);
  if (!use) throw new Error('a simulated unit reports its days');
  return use;
}

test("today's settings replayed make as many regenerations, and as much salt, as a sound unit truly did", () => {
  forUnits({}, (plan) => {
    const { facts, salt, regenerations } = live(plan);
    const replayed = replayOfToday(plan, reportedUse(facts));
    // A few percent, and one for what was used up at the start.
    const most = 1.5 + 0.04 * regenerations.length;
    expect(Math.abs(replayed.regenerations - regenerations.length)).toBeLessThan(most);
    expect(Math.abs(replayed.regenerations * plan.profile.saltDoseLb - salt.drawnLb)).toBeLessThan(
      most * plan.profile.saltDoseLb,
    );
  });
});

const TOLD_EXACTLY = {
  usedAtStart: 0,
  bedFactor: 1,
  startsLateMinutes: 0,
  followsSummerTime: true,
  metric: false,
} as const;

/** What a plan's household truly drew, before a meter rounds it to a tenth of a gallon. */
function trueUse(plan: UnitPlan): PastUse {
  return reportedUse(
    plan.use.gallons.map((gallons, day) => {
      const date = plan.start + day;
      const at = plan.profile.zone.startOf(date + 1);
      return { kind: 'flow-day', id: `d${day}`, time: at, known: at, at, date, gallons };
    }),
  );
}

// Where clocks go forward, a control whose hour is skipped starts at the next, of which the replay knows nothing.
const NO_SUMMER_TIME = { ...TOLD_EXACTLY, zone: zoneOf('America/Phoenix') };

test('on the very days, and with as much hard water, from the water that was truly drawn', () => {
  forUnits({ change: { ...NO_SUMMER_TIME, alternating: false } }, (plan) => {
    const { regenerations, truth } = live(plan);
    const replayed = replayOfToday(plan, trueUse(plan));
    expect(replayed.regeneratedOn).toEqual(regenerations.map(({ date }) => date - plan.start));
    const overruns = truth.filter(({ what }) => what === 'overrun');
    const percent = overruns.reduce((sum, { detail }) => sum + Number(detail.percent), 0);
    const grains = replayed.hardGallons * compensatedHardnessGpg(plan.profile);
    // The truth tells tenths of a percent.
    const difference = (100 * grains) / bedCapacityGrains(plan.profile) - percent;
    expect(Math.abs(difference)).toBeLessThanOrEqual(0.05 * overruns.length + 1e-6);
  });
});

test("its regenerations fed to the unit's fold make the ledger that it went by", () => {
  forUnits({ change: { ...TOLD_EXACTLY, alternating: false } }, (plan) => {
    const { profile } = plan;
    const use = trueUse(plan);
    const replayed = replayOfToday(plan, use);
    const hour = profile.programmed.regenerationHour;
    const days: Fact[] = [...use.gallons].map((gallons, day) => {
      const at = profile.zone.startOf(use.from + day + 1);
      return { kind: 'flow-day', id: `d${day}`, time: at, known: at, at, date: use.from + day, gallons };
    });
    const starts: Fact[] = replayed.regeneratedOn.map((day) => {
      const midnight = profile.zone.startOf(use.from + day);
      const hours = Array.from({ length: 26 }, (_, each) => midnight + each * 3_600_000);
      const time = hours.find((each) => profile.zone.hourAt(each) >= hour) ?? midnight;
      return { kind: 'regeneration', id: `r${day}`, time, known: time, at: time, trigger: 'metered' };
    });
    const state = newUnitState(profile, rules.fold);
    let hardGrains = 0;
    for (const fact of [...days, ...starts].sort(inOrder)) {
      fold(profile, state, fact, rules.fold);
      // A cycle is whole once the day is counted on which the next began.
      const { previous } = state.bed;
      if (fact.kind !== 'flow-day' || state.regeneratedOn !== fact.date || !previous) continue;
      hardGrains += Math.max(0, previous.usedGrains - previous.availableGrains);
    }
    hardGrains += Math.max(0, state.bed.usedGrains - state.bed.capacityGrains);
    const grains = replayed.hardGallons * state.compensatedHardnessGpg;
    // On the day the clocks go forward an hour of its own may not be there.
    expect(Math.abs(grains - hardGrains)).toBeLessThan(
      0.002 * profile.programmed.capacityGrains + 1e-3 * grains,
    );
    expect(state.count.missedMornings).toBe(0);
  });
});
