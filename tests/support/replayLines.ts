import type { Received } from '../../lib/replay/received.ts';
import { replayUnit } from '../../lib/replay/replayUnit.ts';
import { RegionMonths } from '../../lib/salt/regionMonths.ts';
import { rulesSchema } from '../../lib/watch/rules.ts';
import { admit } from '../../shared/admission.ts';
import type { Forecast } from '../../shared/forecasts.ts';
import type { Registry } from '../../shared/registry.ts';

/** Replays lines in memory, without the command: for fleets of a few units. */
export function replayLines(lines: readonly string[], { units }: Registry, rules: unknown = {}) {
  const parsed = rulesSchema.parse(rules);
  const received = new Map<string, Received[]>([...units.keys()].map((id) => [id, []]));
  const rejected: { raw: string; reason: string }[] = [];
  lines.forEach((raw, index) => {
    const admission = admit(raw, units);
    if (admission.accepted)
      received.get(admission.unit.unitId)?.push({ line: index + 1, raw, fact: admission.fact });
    else rejected.push({ raw, reason: admission.reason });
  });
  const all = [...received.values()].flat();
  const until = Math.max(...all.map(({ fact }) => fact.known));
  const accounts = new RegionMonths(until);
  const forecasts: Forecast[] = [];
  const replays = [...units.values()].map((unit) => {
    const onForecast = (forecast: Forecast) => forecasts.push(forecast);
    const replay = replayUnit(unit, received.get(unit.unitId) ?? [], { rules: parsed, until, onForecast });
    accounts.add(unit, replay.months, replay.firstDate);
    rejected.push(...replay.conflicts.map(({ raw }) => ({ raw, reason: 'conflicting-duplicate' })));
    return replay;
  });
  return {
    accepted: replays.reduce((sum, { accepted }) => sum + accepted, 0),
    duplicates: replays.reduce((sum, { duplicates }) => sum + duplicates, 0),
    alerts: replays.flatMap(({ alerts }) => alerts),
    salt: accounts.rows(),
    forecasts,
    rejected,
  };
}
