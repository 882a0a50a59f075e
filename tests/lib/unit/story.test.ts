import fc from 'fast-check';
import { expect, it } from 'vitest';
import { UnitHistory } from '../../../lib/unit/history.ts';
import { remainingGallons } from '../../../lib/unit/outlook.ts';
import { storyOf } from '../../../lib/unit/story.ts';
import { rulesSchema } from '../../../lib/watch/rules.ts';
import { admit } from '../../../shared/admission.ts';
import { registryOf } from '../../support/fleet.ts';
import { events, records } from '../../support/smallFleet.ts';

const rules = rulesSchema.parse({}).fold;
const { units } = registryOf(...records);
const unit = units.get('u-18');
if (!unit) throw new Error('the small fleet has no u-18');
const facts = events.flatMap((event) => {
  const admission = admit(JSON.stringify(event), units);
  return admission.accepted && admission.unit === unit ? [admission.fact] : [];
});
const days = facts.filter(({ kind }) => kind === 'flow-day');

it('is the same in whatever order the facts come, and each of its days is what a fold up to then tells', () => {
  const plain = storyOf(unit, facts, rules, 0);
  expect(plain.days).toHaveLength(days.length);
  expect(plain.regenerations.length).toBeGreaterThan(3);
  fc.assert(
    fc.property(fc.shuffledSubarray(facts, { minLength: facts.length }), (shuffled) => {
      expect(storyOf(unit, shuffled, rules, 0)).toEqual(plain);
    }),
    { numRuns: 20 },
  );
  for (const day of plain.days) {
    const history = new UnitHistory(unit, rules);
    const end = days.find((fact) => fact.kind === 'flow-day' && fact.date === day.date)?.at ?? 0;
    for (const fact of facts)
      if (fact.at < end || (fact.at === end && fact.kind === 'flow-day')) history.learn(fact);
    expect(day.remainingGallons).toBeCloseTo(remainingGallons(history.state), 9);
    expect(day.isHard).toBe(day.remainingGallons <= 0);
  }
});

it('shows a correction on its own day, and leaves out what is not reported or before the first day asked for', () => {
  const [, second, third] = days;
  if (second?.kind !== 'flow-day' || third?.kind !== 'flow-day') throw new Error('there are no days');
  const corrected = { ...second, id: 'corrected', time: second.time + 5 * 86_400_000, gallons: 7 };
  const told = storyOf(unit, [...facts.filter((fact) => fact !== third), corrected], rules, second.date);
  expect(told.days[0]).toMatchObject({ date: second.date, gallons: 7 });
  expect(told.days.map(({ date }) => date)).not.toContain(third.date);
});
