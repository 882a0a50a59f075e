import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compact } from '../../../functions/archive/compact.ts';
import { ingest } from '../../../functions/ingest.ts';
import type { Outgoing } from '../../../functions/ports.ts';
import { rowsIn } from '../../../lib/archive/factFile.ts';
import type { ArchiveFiles } from '../../../lib/archive/files.ts';
import { chunks } from '../../../shared/chunks.ts';
import { readRecords } from '../../../shared/registry.ts';
import { archiveAll, archivedLines, archiveOnce, bodiesOf } from '../../support/archiving.ts';
import { story, type Wire, zoneOf } from '../../support/events.ts';
import { registryOf } from '../../support/fleet.ts';
import { sqsEvent } from '../../support/lambda/events.ts';
import { memoryFiles } from '../../support/memoryFiles.ts';
import { memoryStore } from '../../support/memoryStore.ts';
import { noLog, Pipeline } from '../../support/pipeline.ts';
import { replayLines } from '../../support/replayLines.ts';
import { event, lines, receivedAgain, records, events as smallEvents } from '../../support/smallFleet.ts';

const COMPANY = 'fenwick-water';
const REGIONS = ['alder-county', 'high-basin'];

class Killed extends Error {}

/** Files that fail, or end the process, in the middle of what is asked of them. */
function failing(files: ArchiveFiles, mishap: () => 'before' | 'after' | undefined): ArchiveFiles {
  const befalls = async (act: () => Promise<void>) => {
    const when = mishap();
    if (when === 'before') throw new Killed('before it was done');
    await act();
    if (when === 'after') throw new Killed('after it was done');
  };
  return {
    ...files,
    put: (path, content) => befalls(() => files.put(path, content)),
    // Not all of them at once.
    drop: async (paths) => {
      for (const path of paths) await befalls(() => files.drop([path]));
    },
  };
}

/** An event again: word for word, received later, or with something else in it. */
const copies = fc.array(fc.record({ of: fc.nat(), how: fc.constantFrom('same', 'later', 'conflict') }), {
  maxLength: 12,
});

function copyOf(original: Wire, how: 'same' | 'later' | 'conflict'): Wire {
  if (how === 'later') return receivedAgain(original, 3);
  return how === 'same' ? original : { ...original, type: 'brinebell.salt-level.v1', data: LEVEL };
}
const LEVEL = { mass: { value: 41, unit: '[lb_av]' } };

describe('the archive', () => {
  it('gives back every line, in whatever batches, order and however often it was written, merged, killed', async () => {
    let merges = 0;
    await fc.assert(
      fc.asyncProperty(
        story,
        copies,
        fc.infiniteStream(fc.double({ min: 0, max: 1, maxExcluded: true, noNaN: true })),
        async ({ timeZone, events }, again, chance) => {
          const next = () => chance.next().value ?? 0;
          const all = [
            ...events,
            ...again.flatMap(({ of, how }) => {
              const original = events[of % Math.max(1, events.length)];
              return original ? [copyOf(original, how)] : [];
            }),
          ].map((each) => JSON.stringify(each));
          const { files, kept } = memoryFiles();
          // So many rounds of trouble, and then there is none.
          let trouble = 30;
          const shaky = failing(files, () =>
            trouble > 0 && next() < 0.15 ? (next() < 0.5 ? 'before' : 'after') : undefined,
          );
          const merging = {
            ...shaky,
            drop: (paths: readonly string[]) => shaky.drop(paths).then(() => void merges++),
          };
          const zone = zoneOf(timeZone);
          // A unit that moves has its facts in two regions.
          const waiting = all.flatMap((line) => {
            const region = REGIONS[next() < 0.8 ? 0 : 1] ?? '';
            return bodiesOf([{ unit: { companyId: COMPANY, unitId: 'u-17', region, zone }, lines: [line] }]);
          });
          while (waiting.length > 0) {
            const batch = Array.from({ length: 1 + Math.floor(next() * 8) }, () =>
              waiting.splice(Math.floor(next() * waiting.length), 1),
            ).flat();
            waiting.push(...(await archiveOnce(shaky, batch)));
            // At least once: what is done may be handed out again.
            if (trouble > 0 && next() < 0.1) waiting.push(...batch.slice(0, 2));
            if (next() < 0.2) await compact(merging, { log: noLog })().catch(() => {});
            trouble -= 1;
          }
          const expected = all.length === 0 ? {} : { 'u-17': [...new Set(all)].sort() };
          expect(await archivedLines(files, COMPANY)).toEqual(expected);

          await compact(files, { log: noLog })();
          expect(await archivedLines(files, COMPANY)).toEqual(expected);
          const folders = [...kept.keys()].map((path) => path.slice(0, path.lastIndexOf('/')));
          expect(new Set(folders).size).toBe(folders.length);
        },
      ),
      { numRuns: 40 },
    );
    expect(merges).toBeGreaterThan(5);
  });

  it('replays as the events do: alerts, forecasts, salt', async () => {
    const registry = registryOf(...records);
    const conflict = { ...smallEvents[5], type: 'brinebell.salt-level.v1', data: LEVEL };
    const sent = [...lines, ...lines.slice(3, 9), JSON.stringify(conflict), event({ id: 'late' })];
    const { files } = memoryFiles();
    const byUnit = [...registry.units.values()].flatMap((unit) =>
      sent.filter((line) => line.includes(`/units/${unit.unitId}"`)).map((line) => ({ unit, lines: [line] })),
    );
    for (const some of chunks(byUnit, 50)) expect(await archiveOnce(files, bodiesOf(some))).toEqual([]);
    await compact(files, { log: noLog })();
    const archived = Object.values(await archivedLines(files, COMPANY)).flat();
    const { duplicates: _, ...fromArchive } = replayLines(archived, registry);
    const { duplicates, ...fromEvents } = replayLines(sent, registry);
    expect(duplicates).toBe(6);
    expect(fromEvents.alerts.length).toBeGreaterThan(0);
    expect(fromEvents.rejected).toHaveLength(1);
    expect(fromArchive).toEqual(fromEvents);
  });

  it('reads of a range of units no more than the row groups that they are in', async () => {
    const { files, asked, kept } = memoryFiles();
    const zone = zoneOf('America/New_York');
    const unitIds = Array.from({ length: 400 }, (_, index) => `unit-${String(index).padStart(4, '0')}`);
    const march = smallEvents.filter(({ source, time }) => source.endsWith('u-17') && time >= '2026-03-02');
    const bodies = bodiesOf(
      unitIds.map((unitId) => ({
        unit: { companyId: COMPANY, unitId, region: 'alder-county', zone },
        lines: march.map((each) =>
          JSON.stringify({ ...each, source: `/companies/${COMPANY}/units/${unitId}` }),
        ),
      })),
    );
    expect(await archiveOnce(files, bodies)).toEqual([]);
    const [size = 0] = [...kept.values()].map(({ length }) => length);
    expect(kept.size).toBe(1);
    const range = { from: 'unit-0100', to: 'unit-0102' };
    asked.bytesRead = 0;
    const some = await archivedLines(files, COMPANY, range);
    expect(asked.bytesRead).toBeLessThan(size / 2);
    expect(Object.keys(some)).toEqual(['unit-0100', 'unit-0101', 'unit-0102']);
    const all = await archivedLines(files, COMPANY);
    expect(Object.keys(all)).toEqual(unitIds);
    expect(some['unit-0101']).toEqual(all['unit-0101']);
  });
});

describe('what is stored', () => {
  it('is sent to be archived, and comes back to be stored and sent again where that fails', async () => {
    const store = memoryStore();
    await store.putRecords(COMPANY, [...readRecords(JSON.stringify(records)).records.values()]);
    const pipeline = new Pipeline(
      store,
      () => 0.5,
      () => Date.UTC(2026, 4, 1),
    );
    let failures = 0;
    const { send } = pipeline.ports.queues.archive;
    const archive = {
      send: async (messages: readonly Outgoing[]) => {
        failures += 1;
        if (failures % 3 !== 0) throw new Error('the queue takes nothing');
        await send(messages);
      },
    };
    const handle = ingest({ ...pipeline.ports, queues: { ...pipeline.ports.queues, archive } });
    const bad = 'no event';
    let waiting = [bad, ...lines].map((line) => ({
      companyId: COMPANY,
      unitId: null,
      receivedAt: Date.UTC(2026, 4, 1),
      line,
    }));
    for (let round = 0; waiting.length > 0; round += 1) {
      expect(round).toBeLessThan(100);
      const batch = waiting.slice(0, 40);
      const { batchItemFailures } = await handle(
        sqsEvent(batch.map((message, index) => ({ id: String(index), body: JSON.stringify(message) }))),
      );
      const failed = new Set(batchItemFailures.map(({ itemIdentifier }) => Number(itemIdentifier)));
      if (round === 0) expect(failed.size).toBe(39);
      waiting = [...batch.filter((_, index) => failed.has(index)), ...waiting.slice(40)];
    }
    const { files } = memoryFiles();
    await archiveAll(files, pipeline.stored);
    const archived = await archivedLines(files, COMPANY);
    for (const { unitId } of records) {
      const facts = await store.facts({ companyId: COMPANY, unitId }, { limit: 1000 });
      expect(archived[unitId]).toEqual(facts.items.map(({ line }) => line).sort());
    }
    expect(Object.keys(archived)).toHaveLength(records.length);
    expect(
      pipeline.stored.flatMap(({ units }) => units.map(({ unitId, region }) => `${unitId} ${region}`)),
    ).toEqual(expect.arrayContaining(['u-17 alder-county', 'u-18 high-basin']));
  });
});

describe('merging', () => {
  it('touches nothing of partitions that are in one piece, however many there are', async () => {
    const { files, asked, kept } = memoryFiles();
    const zone = zoneOf('America/New_York');
    const unit = { companyId: COMPANY, unitId: 'u-17', region: 'alder-county', zone };
    const at = (month: number, day: number) =>
      event({ id: `e-${month}-${day}`, time: new Date(Date.UTC(2024, month, day, 12)).toISOString() });
    for (let month = 0; month < 12; month += 1) {
      await archiveOnce(files, bodiesOf([{ unit, lines: [at(month, 2)] }]));
    }
    asked.put = 0;
    await compact(files, { log: noLog })();
    expect(asked).toMatchObject({ put: 0, opened: 0 });
    await archiveOnce(files, bodiesOf([{ unit, lines: [at(3, 4), at(3, 2)] }]));
    asked.put = 0;
    await compact(files, { log: noLog })();
    expect(asked).toMatchObject({ put: 1, opened: 2 });
    expect(kept.size).toBe(12);
    expect([...kept.keys()].map(rowsIn).sort()).toEqual([1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 2]);
  });

  it('goes on with the others where a file cannot be read, and says so', async () => {
    const { files, kept } = memoryFiles();
    const zone = zoneOf('America/New_York');
    for (const region of REGIONS) {
      for (const id of ['a', 'b']) {
        const unit = { companyId: COMPANY, unitId: 'u-17', region, zone };
        await archiveOnce(files, bodiesOf([{ unit, lines: [event({ id })] }]));
      }
    }
    const [broken = ''] = kept.keys();
    kept.set(broken, new TextEncoder().encode('no Parquet at all'));
    await expect(compact(files, { log: noLog })()).rejects.toThrow('1 mergers failed');
    expect([...kept.keys()].filter((path) => path.includes('region=high-basin'))).toHaveLength(1);
    expect(kept.has(broken)).toBe(true);
  });
});

describe('messages to be archived', () => {
  it('are each small enough, of one company, and hold every line once', () => {
    const line = fc
      .tuple(fc.nat(65_000), fc.constantFrom('a', '"', '\\', 'é', '\t'))
      .map(([length, character]) => character.repeat(length).slice(0, 65_536));
    const unit = fc.record({
      companyId: fc.constantFrom('a', 'b'),
      unitId: fc.constantFrom('u-1', 'u-2', 'u-3'),
      region: fc.constant('r'),
      zone: fc.constant(zoneOf('America/New_York')),
    });
    fc.assert(
      fc.property(fc.array(fc.record({ unit, lines: fc.array(line, { maxLength: 4 }) })), (given) => {
        const bodies = bodiesOf(given);
        for (const body of bodies) expect(Buffer.byteLength(body)).toBeLessThan(256 * 1024);
        const named = (companyId: string, unitId: string, text: string) => `${companyId} ${unitId} ${text}`;
        const got = bodies.flatMap((body) => {
          const { companyId, units } = JSON.parse(body);
          return units.flatMap((each: { unitId: string; lines: string[] }) =>
            each.lines.map((text) => named(companyId, each.unitId, text)),
          );
        });
        const sent = given.flatMap((each) =>
          each.lines.map((text) => named(each.unit.companyId, each.unit.unitId, text)),
        );
        expect(got.sort()).toEqual(sent.sort());
      }),
      { numRuns: 50 },
    );
  });
});
