import type { Unit } from '../../shared/registry.ts';
import { groupBy } from '../groupBy.ts';
import type { StoredMessage } from '../messages.ts';
import type { Outgoing } from '../ports.ts';

/** The lines of a unit that have been stored. */
export interface StoredLines {
  readonly unit: Pick<Unit, 'companyId' | 'unitId' | 'region' | 'zone'>;
  readonly lines: readonly string[];
}

interface StoredLine {
  readonly unit: StoredLines['unit'];
  readonly line: string;
}

/** Bytes of a message, at most: a queue took 256 KiB for years, and not every one takes more. */
const MOST_BYTES = 240_000;
/** What may stand around a line, if it is the only one of its unit, bytes: two ids, a zone, names of members. */
const AROUND_BYTES = 300;

/** For the queue `archive`: lines have been stored. Few messages, each of one company. */
export function stored(all: readonly StoredLines[]): Outgoing[] {
  const byCompany = groupBy(all, ({ unit }) => unit.companyId);
  return [...byCompany].flatMap(([companyId, ofCompany]) => {
    const lines = ofCompany.flatMap(({ unit, lines }) => lines.map((line) => ({ unit, line })));
    return fitting(lines).map((some) => ({ body: JSON.stringify(messageOf(companyId, some)) }));
  });
}

/** Cuts lines into stretches that fit into a message. One line always does: at most 64 KiB, doubled by its quotes. */
function fitting(lines: readonly StoredLine[]): StoredLine[][] {
  const stretches: StoredLine[][] = [];
  let bytes = MOST_BYTES;
  for (const each of lines) {
    const added = Buffer.byteLength(JSON.stringify(each.line)) + AROUND_BYTES;
    bytes += added;
    const stretch = stretches.at(-1);
    if (stretch && bytes <= MOST_BYTES) {
      stretch.push(each);
    } else {
      stretches.push([each]);
      bytes = added;
    }
  }
  return stretches;
}

function messageOf(companyId: string, lines: readonly StoredLine[]): StoredMessage {
  const byUnit = groupBy(lines, ({ unit }) => unit.unitId);
  const units = [...byUnit].flatMap(([unitId, ofUnit]) => {
    const unit = ofUnit[0]?.unit;
    if (!unit) return [];
    const { region, zone } = unit;
    return [{ unitId, region, timeZone: zone.name, lines: ofUnit.map(({ line }) => line) }];
  });
  return { companyId, units };
}
