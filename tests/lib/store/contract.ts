import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { DoneAct } from '../../../lib/live/alertActs.ts';
import { newMonth } from '../../../lib/salt/monthAccount.ts';
import { factKey } from '../../../lib/store/factKey.ts';
import type { PageRequest, Store, StoredFact } from '../../../lib/store/store.ts';
import { MAX_RAW_CHARACTERS } from '../../../shared/quarantine.ts';
import { allOf, eventually, newUnit, refusal } from './asking.ts';
import { claimContract } from './claimContract.ts';
import { alertOf, headsOf, lineOf, messageOf, outboxOf, recordOf } from './examples.ts';
import { peopleContract } from './peopleContract.ts';

/** Texts that a key could trip over: separators, what is a prefix of another, other scripts, half of a pair. */
const eventId = fc.oneof(
  fc.constantFrom('a', 'a#', 'a#b', 'a%23', 'A', '#', '%', '..', '\ud83d\ude00', '\ud83d', '%ud83d', 'ä/ß'),
  fc.string({ unit: 'grapheme', minLength: 1, maxLength: 64 }),
  fc.string({ minLength: 1, maxLength: 64, unit: 'binary' }),
);

/** What every store does, whatever it stands on. Reads that may be a moment behind are asked until they are not. */
export function storeContract(name: string, open: () => Promise<{ store: Store; close(): Promise<void> }>) {
  describe(name, () => {
    let store: Store;
    let close: () => Promise<void>;
    beforeAll(async () => {
      ({ store, close } = await open());
    });
    afterAll(() => close());

    peopleContract(() => store);
    claimContract(() => store);

    test('facts: any order, batching and repetition of them leaves the same', async () => {
      const fact = fc.record({ id: eventId, lb: fc.integer({ min: 0, max: 3 }), known: fc.nat(2) });
      const delivery = fc.array(fact, { minLength: 1, maxLength: 40 }).chain((facts) =>
        fc.record({
          facts: fc.constant(facts),
          batches: fc.array(fc.subarray([...facts, ...facts]), { maxLength: 4 }),
          limit: fc.integer({ min: 1, max: 30 }),
        }),
      );
      await fc.assert(
        fc.asyncProperty(delivery, async ({ facts, batches, limit }) => {
          const unit = newUnit();
          const stored = (some: typeof facts) =>
            some.map((each) => ({ line: lineOf(each), key: factKey(lineOf(each)).key }));
          const expected = new Map(stored(facts).map((each) => [each.key, each]));
          for (const batch of [...batches, [...facts].reverse(), facts])
            await store.putFacts([{ unit, facts: stored(batch) }]);
          const found = await allOf(limit, (page) => store.facts(unit, page));
          expect(byKey(found)).toEqual(byKey([...expected.values()]));
          // One by one, and all at once, in any order and with one that there is not.
          const ids = [...new Set(facts.map(({ id }) => id)), 'none'];
          const copiesOf = (id: string) =>
            byKey([...expected.values()].filter(({ line }) => JSON.parse(line).id === id));
          for (const asked of [...ids.map((id) => [id]), ids]) {
            const wanted = asked.map((id) => ({ id }));
            await eventually(async () =>
              expect((await store.copies(unit, wanted)).map(byKey)).toEqual(asked.map(copiesOf)),
            );
          }
        }),
        { numRuns: 12 },
      );
    });

    test('copies of an id come whole, however large, with the one that must be among them', async () => {
      const unit = newUnit();
      const copies = Array.from({ length: 20 }, (_, known) => {
        const line = lineOf({ id: 'e-1', lb: 4, known, notes: 'x'.repeat(60_000) });
        return { line, key: factKey(line).key };
      });
      await store.putFacts([{ unit, facts: copies }]);
      const including = copies.at(-1)?.key;
      const [found = [], none] = await store.copies(unit, [{ id: 'e-1', including }, { id: 'e' }]);
      expect(byKey(found)).toEqual(byKey(copies));
      expect(none).toEqual([]);
    });

    test('a head comes back exactly, under a version that only one writer moves on', async () => {
      const unit = newUnit();
      expect(await store.unit(unit, { fresh: true })).toEqual({
        record: undefined,
        stored: undefined,
        version: 0,
      });
      let version = 0;
      for (const head of headsOf('u-19')) {
        const stored = { head, basis: 'basis-1', outbox: version % 2 === 0 ? outboxOf(unit.unitId) : null };
        const writers = await Promise.allSettled(
          Array.from({ length: 5 }, () => store.putHead(unit, version, stored)),
        );
        const lost = writers.filter((writer) => writer.status === 'rejected');
        expect(lost.map(({ reason }) => reason.code)).toEqual(Array(4).fill('conflict'));
        version += 1;
        expect(await store.unit(unit, { fresh: true })).toEqual({ record: undefined, stored, version });
      }
      expect(await refusal(store.putHead(unit, 0, { head: headOf(), basis: '', outbox: null }))).toBe(
        'conflict',
      );
    });

    test('an outbox is cleared only for the version that it was written under', async () => {
      const unit = newUnit();
      const stored = { head: headOf(), basis: 'basis-1', outbox: outboxOf(unit.unitId) };
      await store.clearOutbox(unit, 0);
      expect((await store.unit(unit, { fresh: true })).stored).toBeUndefined();
      await store.putHead(unit, 0, stored);
      await store.putHead(unit, 1, stored);
      await store.clearOutbox(unit, 1);
      expect((await store.unit(unit, { fresh: true })).stored).toEqual(stored);
      for (let time = 0; time < 2; time += 1) await store.clearOutbox(unit, 2);
      expect(await store.unit(unit, { fresh: true })).toMatchObject({
        stored: { ...stored, outbox: null },
        version: 2,
      });
    });

    test('checkpoints are kept apart from the head', async () => {
      const unit = newUnit();
      const heads = headsOf('u-17');
      await store.putCheckpoints(
        unit,
        heads.map((head, index) => ({ key: `key-${index}`, head })),
      );
      for (const [index, head] of heads.entries())
        expect(await store.checkpoint(unit, `key-${index}`)).toEqual(head);
      expect(await store.checkpoint(unit, 'key')).toBeUndefined();
      expect((await store.unit(unit, { fresh: true })).version).toBe(0);
    });

    test('that people are told of an alert stays known where it is dropped, and brings none back', async () => {
      const unit = newUnit();
      const raised = alertOf({ severity: 'soon' });
      expect(await store.wasTold(unit, 'a-1')).toBe(false);
      await store.putAlert(unit, 3, 'a-1', raised);
      expect(await store.wasTold(unit, 'a-1')).toBe(false);
      await store.putTold(unit, 'a-1');
      expect(await store.alertsOf(unit)).toMatchObject([{ alert: raised }]);
      await store.dropAlert(unit, 4, 'a-1');
      await store.putTold(unit, 'a-1');
      expect(await store.wasTold(unit, 'a-1')).toBe(true);
      expect(await store.wasTold(unit, 'a-2')).toBe(false);
      await store.putTold(unit, 'a-2');
      expect(await store.alertsOf(unit)).toEqual([]);
      await store.putAlert(unit, 1, 'a-2', raised);
      expect(await store.alertsOf(unit)).toMatchObject([{ alertId: 'a-2', alert: raised }]);
    });

    test('what people did about an alert outlasts what becomes of it; an older head changes neither', async () => {
      const unit = newUnit();
      const raised = alertOf({ severity: 'soon' });
      const cleared = { ...raised, severity: 'urgent' as const, clearedAt: '2026-03-09T00:00:00.000Z' };
      const by = 'dispatch-2';
      const acknowledge: DoneAct = { act: 'acknowledge', by, at: 1_772_000_000_000 };
      const shelve: DoneAct = { act: 'shelve', by, at: acknowledge.at + 1, until: 1_773_000_000_000 };
      const acts = [acknowledge, shelve];
      const untouched = { alertId: 'a-1', acts: [], acknowledged: null, shelved: null };
      const touched = {
        ...{ alertId: 'a-1', acts, acknowledged: { by, at: acknowledge.at } },
        shelved: { by, at: shelve.at, until: shelve.until },
      };
      await store.putActs(unit, 1, 'a-1', acts);
      expect(await store.alert(unit, 'a-1')).toBeUndefined();
      await store.putAlert(unit, 3, 'a-1', raised);
      expect(await store.alert(unit, 'a-1')).toEqual({ ...untouched, alert: raised });
      await store.putActs(unit, 2, 'a-1', acts);
      expect(await store.alertsOf(unit)).toEqual([{ ...untouched, alert: raised }]);
      await store.putActs(unit, 3, 'a-1', acts);
      await store.putAlert(unit, 4, 'a-1', cleared);
      await store.putAlert(unit, 3, 'a-1', raised);
      await store.putActs(unit, 3, 'a-1', []);
      expect(await store.alert(unit, 'a-1')).toEqual({ ...touched, alert: cleared });
      await store.putActs(unit, 5, 'a-1', [acknowledge]);
      await store.putAlert(unit, 4, 'a-1', raised);
      expect(await store.alertsOf(unit)).toEqual([
        { ...touched, acts: [acknowledge], shelved: null, alert: cleared },
      ]);
      await store.dropAlert(unit, 4, 'a-1');
      expect(await store.alertsOf(unit)).toHaveLength(1);
      await store.dropAlert(unit, 6, 'a-1');
      await store.dropAlert(unit, 6, 'a-1');
      await store.putAlert(unit, 5, 'a-1', raised);
      await store.putActs(unit, 6, 'a-1', acts);
      expect(await store.alertsOf(unit)).toEqual([]);
      expect((await store.alerts(unit.companyId, true, { limit: 10 })).items).toEqual([]);
      await store.putAlert(unit, 6, 'a-1', raised);
      expect(await store.alertsOf(unit)).toEqual([{ ...untouched, alert: raised }]);
    });

    test('alerts of a company: open ones by urgency, then age; over ones the latest first', async () => {
      const { companyId } = newUnit();
      const day = (date: number) => `2026-03-${String(date).padStart(2, '0')}T06:00:00.000Z`;
      const open = [
        alertOf({ severity: 'urgent', raisedAt: day(8) }),
        alertOf({ severity: 'urgent', raisedAt: day(9) }),
        alertOf({ severity: 'soon', raisedAt: day(1) }),
        alertOf({ severity: 'soon', raisedAt: day(2) }),
        alertOf({ severity: 'routine', raisedAt: day(3) }),
      ];
      const over = [12, 11, 10].map((date) => alertOf({ clearedAt: day(date), raisedAt: day(20 - date) }));
      for (const [index, alert] of [...open, ...over].reverse().entries()) {
        await store.putAlert({ companyId, unitId: `u-${index % 3}` }, 1, `a-${index}`, {
          ...alert,
          clearedAt: null,
        });
        await store.putAlert({ companyId, unitId: `u-${index % 3}` }, 2, `a-${index}`, alert);
      }
      for (const [isOpen, expected] of [
        [true, open],
        [false, over],
      ] as const) {
        await eventually(async () => {
          const listed = await allOf(2, (page) => store.alerts(companyId, isOpen, page));
          expect(listed.map(({ alert }) => alert)).toEqual(expected);
        });
      }
    });

    test('an account of a month is replaced by none of an older head', async () => {
      const unit = newUnit();
      const [april, march] = outboxOf('u-17').months;
      if (!april || !march) throw new Error('two months are needed');
      await store.putMonth(unit, 7, april);
      await store.putMonth(unit, 7, march);
      await store.putMonth(unit, 8, { ...march, regenerations: 9 });
      await store.putMonth(unit, 7, march);
      await eventually(async () =>
        expect(await store.months(unit)).toEqual([{ ...march, regenerations: 9 }, april]),
      );
    });

    test('a month of two regions has two accounts, and one that is dropped comes back with none of an older head', async () => {
      const unit = newUnit();
      const moved = { region: 'birch-county', formerRegions: [{ region: 'alder-county', until: 20_527 }] };
      const [here, there, whole] = [
        newMonth(20_520, moved),
        newMonth(20_528, moved),
        newMonth(20_560, moved),
      ];
      expect([here.month, here.region, there.month, there.region]).toEqual([
        '2026-03',
        'alder-county',
        '2026-03',
        'birch-county',
      ]);
      for (const account of [whole, there, here]) await store.putMonth(unit, 3, account);
      expect(await store.months(unit, { fresh: true })).toEqual([here, there, whole]);
      await store.dropMonth(unit, 2, there.from);
      expect(await store.months(unit, { fresh: true })).toEqual([here, there, whole]);
      await store.dropMonth(unit, 5, there.from);
      await store.dropMonth(unit, 5, 20_454);
      await store.putMonth(unit, 4, there);
      expect(await store.months(unit, { fresh: true })).toEqual([here, whole]);
      await store.putMonth(unit, 6, there);
      expect(await store.months(unit, { fresh: true })).toEqual([here, there, whole]);
    });

    test('a registry is replaced unit by unit, and its revision moves on', async () => {
      const { companyId } = newUnit();
      const records = Array.from({ length: 60 }, (_, index) => recordOf(companyId, `u-${100 + index}`));
      const revisions = [await store.revision(companyId)];
      const moved = () =>
        eventually(async () => {
          const revision = await store.revision(companyId);
          expect(revisions).not.toContain(revision);
          revisions.push(revision);
        });
      await store.putRecords(companyId, records);
      await moved();
      const changed = { ...recordOf(companyId, 'u-130'), occupants: 5 };
      await store.putRecords(companyId, [recordOf(companyId, 'u-130'), changed]);
      await moved();
      const expected = records.map((record) => (record.unitId === 'u-130' ? changed : record));
      await eventually(async () =>
        expect(await allOf(17, (page) => store.records(companyId, page))).toEqual(expected),
      );
      expect(await store.unit({ companyId, unitId: 'u-130' }, { fresh: true })).toMatchObject({
        record: changed,
      });
      await store.putCompany({ companyId, name: 'Fenwick', channels: [], rules: { fold: {} } });
      await moved();
    });

    test('how far a company was swept is kept apart from what the company is', async () => {
      const sweptUntil = async (of: string) =>
        (await store.rounds()).find((round) => round.companyId === of)?.sweptUntil ?? undefined;
      const { companyId } = newUnit();
      const company = { companyId, name: 'Fenwick Water', channels: [], rules: {} };
      expect(await sweptUntil(companyId)).toBeUndefined();
      await store.putSwept(companyId, 1_772_000_000_000);
      expect(await store.company(companyId)).toBeUndefined();
      await store.putCompany(company);
      await eventually(async () => expect(await store.company(companyId)).toEqual(company));
      const revision = await store.revision(companyId);
      await eventually(async () => expect(await sweptUntil(companyId)).toBe(1_772_000_000_000));
      await store.putSwept(companyId, 1_772_000_900_000);
      await eventually(async () => expect(await sweptUntil(companyId)).toBe(1_772_000_900_000));
      expect(await store.revision(companyId)).toBe(revision);
      expect(await sweptUntil(newUnit().companyId)).toBeUndefined();
    });

    test('quarantine: the latest first, once each, and no more of a message than is needed', async () => {
      const { companyId } = newUnit();
      const messages = Array.from({ length: 30 }, (_, index) => messageOf(companyId, index));
      const emoji = '\ud83d\ude00';
      const long = { ...messageOf(companyId, 31), raw: `x${emoji.repeat(600)}`, detail: emoji.repeat(5_000) };
      await store.putQuarantined([...messages, ...messages]);
      await store.putQuarantined([long]);
      await store.putQuarantined([long, ...messages.slice(3)]);
      await eventually(async () => {
        const [last, ...others] = await allOf(7, (page) => store.quarantined(companyId, page));
        expect(others).toEqual([...messages].reverse());
        expect(last?.raw).toBe(`x${emoji.repeat((MAX_RAW_CHARACTERS - 2) / 2)}`);
        expect(encodeURIComponent(last?.detail ?? '')).not.toBe('');
        expect(last?.detail.length).toBeLessThan(1_000);
      });
    });

    test('quarantined messages can be taken off again', async () => {
      const { companyId } = newUnit();
      const messages = [1, 2, 3].map((seconds) => messageOf(companyId, seconds));
      await store.putQuarantined(messages);
      const listed = await allOf(9, (page) => store.quarantined(companyId, page));
      await store.dropQuarantined(listed.slice(1));
      await store.dropQuarantined(listed.slice(1));
      await eventually(async () =>
        expect(await allOf(9, (page) => store.quarantined(companyId, page))).toEqual(listed.slice(0, 1)),
      );
    });

    test('visits, principals and companies come back until they are dropped', async () => {
      const unit = newUnit();
      const visit = {
        visitId: 'v-1',
        technician: 'tech-4',
        date: '2026-04-01',
        reason: 'salt',
        by: 'd-1',
        at: 5,
      };
      await store.putVisit(unit, visit);
      await store.putVisit(unit, { ...visit, date: '2026-04-02' });
      await eventually(async () =>
        expect(await store.visits(unit)).toEqual([{ ...visit, date: '2026-04-02' }]),
      );
      expect(await store.dropVisit(unit, 'v-1')).toBe(true);
      expect(await store.dropVisit(unit, 'v-1')).toBe(false);
      await eventually(async () => expect(await store.visits(unit)).toEqual([]));

      const principal = { name: `${unit.companyId}/u-17`, ...unit, secretHash: 'h' };
      await store.putPrincipal(principal);
      await eventually(async () => expect(await store.principal(principal.name)).toEqual(principal));
      expect(await store.principal(unit.companyId)).toBeUndefined();
      await store.dropPrincipal(principal.name);
      await store.dropPrincipal(principal.name);
      await eventually(async () => expect(await store.principal(principal.name)).toBeUndefined());

      const { companyId } = unit;
      const company = {
        companyId,
        name: 'Fenwick Water',
        channels: [],
        rules: { 'no-flow': { enabled: true } },
      };
      await store.putRecords(companyId, [recordOf(companyId, 'u-17')]);
      const known = async () => (await store.companies()).filter((each) => each.companyId === companyId);
      expect(await known()).toEqual([]);
      expect(await store.company(companyId)).toBeUndefined();
      await store.putCompany(company);
      await eventually(async () => expect(await store.company(companyId)).toEqual(company));
      await eventually(async () => expect(await known()).toEqual([company]));
    });

    test('nothing crosses from one company to another that has a unit of the same id', async () => {
      const ours = newUnit();
      const theirs = newUnit();
      const record = recordOf(ours.companyId, ours.unitId);
      const line = lineOf({ id: 'e-1', lb: 1, known: 1 });
      const message = messageOf(ours.companyId, 1);
      await store.putFacts([{ unit: ours, facts: [{ line, key: factKey(line).key }] }]);
      await store.putHead(ours, 0, { head: headOf(), basis: 'b', outbox: outboxOf('u-17') });
      await store.putCheckpoints(ours, [{ key: 'key-1', head: headOf() }]);
      await store.putAlert(ours, 1, 'a-1', alertOf({}));
      await store.putMonth(ours, 1, headOf().state.month);
      await store.putRecords(ours.companyId, [record]);
      await store.putQuarantined([message]);
      await store.putVisit(ours, {
        visitId: 'v-1',
        technician: 't',
        date: '2026-04-01',
        reason: '',
        by: 'd',
        at: 5,
      });
      const page = { limit: 10 };
      const nothing = { items: [] };
      expect(await store.facts(theirs, page)).toEqual(nothing);
      expect(await store.copies(theirs, [{ id: 'e-1' }])).toEqual([[]]);
      expect(await store.unit(theirs, { fresh: true })).toMatchObject({ version: 0 });
      expect(await store.checkpoint(theirs, 'key-1')).toBeUndefined();
      expect(await store.alert(theirs, 'a-1')).toBeUndefined();
      await store.putTold(ours, 'a-1');
      expect(await store.wasTold(theirs, 'a-1')).toBe(false);
      await store.putActs(theirs, 9, 'a-1', [{ act: 'acknowledge', by: 'd-1', at: 1 }]);
      expect(await store.alertsOf(theirs)).toEqual([]);
      expect(await store.alerts(theirs.companyId, true, page)).toEqual(nothing);
      expect(await store.months(theirs)).toEqual([]);
      expect(await store.records(theirs.companyId, page)).toEqual(nothing);
      expect(await store.quarantined(theirs.companyId, page)).toEqual(nothing);
      expect(await store.dropVisit(theirs, 'v-1')).toBe(false);
      expect(await store.visits(theirs)).toEqual([]);
      await store.dropAlert(theirs, 9, 'a-1');
      await store.clearOutbox(theirs, 1);
      expect(await refusal(store.putRecords(theirs.companyId, [record]))).toBe('refused');
      expect(await store.alertsOf(ours)).toMatchObject([{ acts: [] }]);
      expect((await store.unit(ours, { fresh: true })).stored?.outbox).not.toBeNull();
    });

    test('a cursor leads nowhere but on in the list that gave it', async () => {
      const ours = newUnit();
      const theirs = newUnit();
      const lists = (unit: typeof ours) => [
        (page: PageRequest) => store.facts(unit, page),
        (page: PageRequest) => store.records(unit.companyId, page),
        (page: PageRequest) => store.alerts(unit.companyId, true, page),
        (page: PageRequest) => store.quarantined(unit.companyId, page),
      ];
      for (const unit of [ours, theirs]) {
        for (const index of [1, 2]) {
          const line = lineOf({ id: `e-${index}`, lb: 1, known: index });
          await store.putFacts([{ unit, facts: [{ line, key: factKey(line).key }] }]);
          await store.putRecords(unit.companyId, [recordOf(unit.companyId, `u-${index}`)]);
          await store.putAlert(unit, 1, `a-${index}`, alertOf({}));
          await store.putQuarantined([messageOf(unit.companyId, index)]);
        }
      }
      for (const [index, list] of lists(ours).entries()) {
        let cursor: string | undefined;
        await eventually(async () => {
          cursor = (await list({ limit: 1 })).next;
          expect(cursor).toEqual(expect.any(String));
        });
        for (const [other, foreign] of [...lists(theirs), ...lists(ours)].entries()) {
          if (other === index + lists(theirs).length) continue;
          expect(await refusal(foreign({ limit: 1, cursor }))).toBe('refused');
        }
        const parts: string[] = JSON.parse(Buffer.from(cursor ?? '', 'base64url').toString());
        for (const changed of [parts.slice(0, -1), [...parts, 'x'], parts.map(() => 7)]) {
          const forged = Buffer.from(JSON.stringify(changed)).toString('base64url');
          expect(await refusal(list({ limit: 1, cursor: forged }))).toBe('refused');
        }
        const junk = fc.oneof(
          fc.string(),
          fc.json().map((text) => Buffer.from(text).toString('base64url')),
        );
        await fc.assert(
          fc.asyncProperty(
            junk,
            async (text) => (await refusal(list({ limit: 1, cursor: text }))) === 'refused',
          ),
          { numRuns: 20 },
        );
      }
    });
  });
}

function headOf() {
  const head = headsOf('u-17').at(-1);
  if (!head) throw new Error('there is no head');
  return head;
}

function byKey(facts: readonly StoredFact[]): StoredFact[] {
  return [...facts].sort((a, b) => (a.key < b.key ? -1 : 1));
}
