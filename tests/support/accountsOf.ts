import type { Received } from '../../lib/replay/received.ts';
import { replayUnit, type UnitReplay } from '../../lib/replay/replayUnit.ts';
import type { KnownMonths } from '../../lib/salt/knownMonths.ts';
import { type UnitMonth, unitMonths } from '../../lib/salt/unitMonths.ts';
import { rulesSchema } from '../../lib/watch/rules.ts';
import { admit } from '../../shared/admission.ts';
import type { Registry } from '../../shared/registry.ts';
import type { Instant } from '../../shared/time/instant.ts';

/** What a replay of lines knows of each unit's months until an instant, through admission as everything. */
export function knownOf(
  lines: readonly string[],
  { units }: Registry,
  until: Instant,
  rules: unknown = {},
): (KnownMonths & Pick<UnitReplay, 'conflicts' | 'duplicates'>)[] {
  const parsed = rulesSchema.parse(rules);
  const received = new Map<string, Received[]>([...units.keys()].map((id) => [id, []]));
  lines.forEach((raw, index) => {
    const admission = admit(raw, units);
    if (!admission.accepted) throw new Error(`${admission.reason}: ${admission.detail}`);
    received.get(admission.unit.unitId)?.push({ line: index + 1, raw, fact: admission.fact });
  });
  return [...units.values()].map((unit) => {
    const replay = replayUnit(unit, received.get(unit.unitId) ?? [], { rules: parsed, until });
    return { unit, ...replay, firstDate: replay.firstDate };
  });
}

/** The months of all units, as regions add them up. */
export function monthsOf(known: readonly KnownMonths[], until: Instant): UnitMonth[] {
  return known.flatMap((each) => unitMonths(each, until));
}
