import { briefOf } from '../lib/brief/brief.ts';
import type { Brief } from '../lib/brief/briefSchema.ts';
import { newHead } from '../lib/live/head.ts';
import type { Person } from '../lib/store/person.ts';
import type { UnitRef, Visit } from '../lib/store/store.ts';
import type { UnitRecord } from '../shared/registry.ts';
import { toUnit } from '../shared/toUnit.ts';
import type { Ports } from './ports.ts';
import { rulesOf } from './rulesOf.ts';
import { standingFacts } from './unitFacts.ts';

/** A unit of a company with what is asked about it. */
interface Asked {
  readonly ref: UnitRef;
  readonly record: UnitRecord;
  readonly visit: Visit | null;
}

/** Makes the brief of a unit, as its facts stand now. */
export async function visitBrief(
  { store, now }: Pick<Ports, 'store' | 'now'>,
  { ref, record, visit }: Asked,
): Promise<Brief> {
  const unit = toUnit(record);
  const [company, { stored }, facts, people] = await Promise.all([
    store.company(ref.companyId),
    store.unit(ref, { fresh: true }),
    standingFacts(store, ref, unit),
    visit ? store.people(ref.companyId) : [],
  ]);
  const rules = await rulesOf(company);
  return briefOf({
    record,
    companyName: company?.name ?? ref.companyId,
    head: stored?.head ?? newHead(unit, rules.fold),
    facts,
    visit: visit && { ...visit, technician: nameOf(visit.technician, people) },
    at: now(),
    rules,
  });
}

/** The name of somebody; the id itself where nobody has it. */
function nameOf(personId: string, people: readonly Person[]): string {
  return people.find((person) => person.personId === personId)?.name ?? personId;
}
