import { UnitHistory } from '../../lib/unit/history.ts';
import { type Episode, toAlert } from '../../lib/watch/episode.ts';
import { KINDS } from '../../lib/watch/kinds.ts';
import { rulesSchema } from '../../lib/watch/rules.ts';
import { watchUnit } from '../../lib/watch/watchUnit.ts';
import { admit } from '../../shared/admission.ts';
import type { Alert, AlertKind } from '../../shared/alerts.ts';
import type { WireEvent } from '../../shared/events.ts';
import type { Wire } from './events.ts';
import { registryOf, unitRecord } from './fleet.ts';

const rules = rulesSchema.parse({});

/** The alerts that one kind makes of events, each told at once and in its turn; no other kind is watched. */
export function episodesOf(
  kind: AlertKind,
  events: readonly (Wire | WireEvent)[],
  record: object = unitRecord(),
): Alert[] {
  const { units } = registryOf(record);
  const facts = events.map((event) => {
    const admission = admit(JSON.stringify(event), units);
    if (!admission.accepted) throw new Error(`${admission.reason}: ${admission.detail}`);
    return admission.fact;
  });
  const [unit] = units.values();
  if (!unit) throw new Error('the record is not one');
  const kinds = KINDS.filter((each) => each.kind === kind);
  const history = new UnitHistory(unit, rules.fold);
  const ended: Episode[] = [];
  let open: readonly Episode[] = [];
  for (const fact of facts.sort((a, b) => a.at - b.at)) {
    history.learn(fact);
    const watched = watchUnit(unit, history.state, open, fact.at, rules, kinds);
    open = watched.open;
    ended.push(...watched.ended);
  }
  return [...ended, ...open].map((episode) => toAlert(unit.unitId, episode));
}
