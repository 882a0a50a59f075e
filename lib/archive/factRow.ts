import { canonicalContent } from '../../shared/canonicalContent.ts';
import { compareText } from '../../shared/compareText.ts';
import type { Fact } from '../../shared/facts.ts';
import type { LocalDate } from '../../shared/time/localDate.ts';
import { type Zone, zoneNamed } from '../../shared/time/zone.ts';
import { toFact } from '../../shared/toFact.ts';
import { ArchiveError } from './errors.ts';
import { filedDate } from './partition.ts';

/** What is kept of a fact; all other columns of its row follow from it. */
export interface ArchivedFact {
  readonly unitId: string;
  /** The day that a flow day is of; of any other fact the date at its site when it happened. */
  readonly localDate: LocalDate;
  /** The line as it was accepted, with its `recordedtime`. */
  readonly line: string;
}

/** A row, as its columns are taken from it. */
export interface FactRow extends ArchivedFact {
  /** That of the fact, here because every column asks for it. */
  readonly kind: Fact['kind'];
  readonly fact: Fact;
  /** By which copies of one id are compared. */
  readonly content: string;
}

/** Of a row the zone does not matter: what depends on it is no column, or is kept. */
const ANY_ZONE = 'UTC';

/**
 * A line to be archived, of a unit whose site keeps that time.
 *
 * @param line one that `admit` has let through, with the `recordedtime` that it was given
 * @throws ArchiveError if the runtime knows no such zone
 */
export function toArchived(unitId: string, timeZone: string, line: string): ArchivedFact {
  const zone = zoneOf(timeZone);
  const fact = toFact(JSON.parse(line), zone);
  const localDate = fact.kind === 'flow-day' ? fact.date : zone.dateAt(fact.time);
  return { unitId, localDate: filedDate(localDate), line };
}

/** The rows of facts: exact duplicates once, by unit and then by when they happened. */
export function factRows(archived: Iterable<ArchivedFact>): FactRow[] {
  const zone = zoneOf(ANY_ZONE);
  const byLine = new Map<string, ArchivedFact>();
  for (const each of archived) byLine.set(`${each.unitId} ${each.localDate} ${each.line}`, each);
  return [...byLine.values()]
    .map((each) => {
      const fact = toFact(JSON.parse(each.line), zone);
      return { ...each, kind: fact.kind, fact, content: canonicalContent(each.line) };
    })
    .sort(
      (a, b) =>
        compareText(a.unitId, b.unitId) ||
        a.fact.time - b.fact.time ||
        a.localDate - b.localDate ||
        compareText(a.line, b.line),
    );
}

function zoneOf(name: string): Zone {
  const zone = zoneNamed(name);
  if (!zone) throw new ArchiveError('partition-impossible', `there is no time zone ${name}`);
  return zone;
}
