import { expect, it } from 'vitest';
import { byKnown, follow } from '../../../lib/live/follow.ts';
import { newHead } from '../../../lib/live/head.ts';
import type { Received } from '../../../lib/replay/received.ts';
import { settle } from '../../../lib/replay/standing.ts';
import { rulesSchema } from '../../../lib/watch/rules.ts';
import { readmit } from '../../../shared/readmit.ts';
import { flowDay, regeneration, type Wire, zoneOf } from '../../support/events.ts';
import { registryOf, unitRecord } from '../../support/fleet.ts';
import { FollowedUnit } from '../../support/keptPast.ts';
import { lastHeard } from '../../support/replayed.ts';

it('takes back what a copy raised that another of the same instant stands against', async () => {
  const rules = rulesSchema.parse({});
  const [unit] = registryOf(unitRecord()).units.values();
  if (!unit) throw new Error('the record is none');
  const zone = zoneOf('America/New_York');
  const events: Wire[] = [];
  let counted = 0;
  for (let day = 20500; day < 20560; day++) {
    if (counted >= 850) {
      events.push(regeneration(zone, day, 2));
      counted = 0;
    }
    events.push(flowDay(zone, day, 140));
    counted += 140;
  }
  const lines = events.map((e) => JSON.stringify(e));
  const rec = (raw: string, i: number): Received => ({ line: i + 1, raw, fact: readmit(raw, unit) });
  // The copy that is received first says that the bed ran over by far; another, as early known and canonically less, does not.
  const at = 40;
  const bad = { ...events[at], data: { ...events[at]?.data, volume: { value: 2500, unit: '[gal_us]' } } };
  const list = lines.map((l, i) => (i === at ? JSON.stringify(bad) : l));
  const live = new FollowedUnit(unit);
  for (const [i, l] of list.entries()) await live.receive([rec(l, i)]);

  const overruns = Object.entries(lastHeard(live.told)).filter(([alertId]) => alertId.startsWith('overrun'));
  expect(overruns.map(([, heard]) => heard)).toEqual(['cleared urgent']);
  await live.receive([rec(lines[at] ?? '', 999)]);
  const all = [...list.map(rec), rec(lines[at] ?? '', 999)];
  const facts = settle(all)
    .standing.map(({ fact }) => fact)
    .sort(byKnown);
  const whole = follow(unit, newHead(unit, rules.fold), facts, { rules });

  expect(lastHeard(live.told)).toEqual(lastHeard(whole.transitions));
});
