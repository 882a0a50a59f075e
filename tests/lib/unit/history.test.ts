import { isDeepStrictEqual } from 'node:util';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { isKept, type MonthAccount } from '../../../lib/salt/monthAccount.ts';
import { advance, fold } from '../../../lib/unit/fold.ts';
import { inOrder, UnitHistory } from '../../../lib/unit/history.ts';
import { copyState, newUnitState } from '../../../lib/unit/state.ts';
import { rulesSchema } from '../../../lib/watch/rules.ts';
import { admit } from '../../../shared/admission.ts';
import type { Fact } from '../../../shared/facts.ts';
import type { Unit } from '../../../shared/registry.ts';
import { story } from '../../support/events.ts';
import { registryOf, unitRecord } from '../../support/fleet.ts';

const rules = rulesSchema.parse({}).fold;

function factsOf(timeZone: string, events: readonly object[]): { unit: Unit; facts: Fact[] } {
  const { units } = registryOf(unitRecord({ timeZone }));
  const facts = events.map((event) => {
    const admission = admit(JSON.stringify(event), units);
    if (!admission.accepted) throw new Error(`${admission.reason}: ${admission.detail}`);
    return admission.fact;
  });
  const unit = units.get('u-17');
  if (!unit) throw new Error('no unit');
  return { unit, facts };
}

/** The plain meaning of the fold: of two flow days of a date the later stands, and all is folded from nothing. */
function fromNothing(unit: Unit, facts: readonly Fact[]) {
  const standing = facts.filter(
    (fact) =>
      fact.kind !== 'flow-day' ||
      !facts.some(
        (other) =>
          other.kind === 'flow-day' &&
          other.date === fact.date &&
          (other.time > fact.time || (other.time === fact.time && other.id > fact.id)),
      ),
  );
  const months: MonthAccount[] = [];
  let state = newUnitState(unit, rules);
  for (const fact of standing.sort(inOrder)) {
    state = copyState(state);
    months.push(...fold(unit, state, fact, rules));
  }
  return { state, accounts: [...months, state.month].filter(isKept) };
}

describe('the fold of a unit', () => {
  it('gives at every step, in whatever order facts come, what a fold from nothing gives', () => {
    fc.assert(
      fc.property(story, fc.infiniteStream(fc.nat(1e6)), ({ timeZone, events }, keys) => {
        const { unit, facts } = factsOf(timeZone, events);
        const shuffled = facts
          .map((fact) => ({ fact, key: keys.next().value }))
          .sort((a, b) => a.key - b.key)
          .map(({ fact }) => fact);
        const known: Fact[] = [];
        const histories = [
          new UnitHistory(unit, rules),
          new UnitHistory(unit, rules, newUnitState(unit, rules), shuffled),
        ];
        for (const fact of shuffled) {
          known.push(fact);
          const plain = fromNothing(unit, known);
          for (const history of histories) {
            history.learn(fact);
            expect(history.state).toEqual(plain.state);
            expect(history.accounts).toEqual(plain.accounts);
          }
        }
      }),
      { numRuns: 60 },
    );
  });

  it('leaves the state that it advances as it was, and goes on from its JSON', () => {
    fc.assert(
      fc.property(story, ({ timeZone, events }) => {
        const { unit, facts } = factsOf(timeZone, events);
        const standing = facts.filter(
          (fact, index) =>
            fact.kind !== 'flow-day' ||
            facts.findIndex((other) => other.kind === 'flow-day' && other.date === fact.date) === index,
        );
        let state = newUnitState(unit, rules);
        let thawed = state;
        for (const fact of standing.sort(inOrder)) {
          const before = structuredClone(state);
          const next = advance(unit, state, fact, rules);
          expect(isDeepStrictEqual(state, before)).toBe(true);
          state = next;
          thawed = JSON.parse(JSON.stringify(advance(unit, thawed, fact, rules)));
        }
        expect(JSON.stringify(thawed)).toBe(JSON.stringify(state));
      }),
      { numRuns: 100 },
    );
  });
});
