import { type EventType, isEventType } from '../../shared/events.ts';
import { lbOf } from '../../shared/quantity.ts';
import { massReadingSchema } from '../../shared/quantitySchemas.ts';
import { partsOfSource } from '../../shared/source.ts';
import { type Instant, parseInstant } from '../../shared/time/instant.ts';
import { type LocalDate, parseLocalDate } from '../../shared/time/localDate.ts';

/** Local days, both included. */
export interface Days {
  readonly from: LocalDate;
  readonly to: LocalDate;
}

/** What the events of a unit say that a score goes by. */
export interface UnitSeen {
  /** Whether water was registered, by local day; a day that was never reported is missing. */
  readonly drew: ReadonlyMap<LocalDate, boolean>;
  /** When anything of the unit was received, in order. */
  readonly heard: readonly Instant[];
  /** Absences that the household announced, and days on which it said that it was there. */
  readonly away: readonly Days[];
  readonly atHome: readonly Days[];
  /** Starts of its regenerations, and readings of the salt in its tank, by when they were. */
  readonly regenerations: readonly Instant[];
  readonly levels: readonly { readonly at: Instant; readonly lb: number }[];
}

interface Kept {
  readonly days: Map<LocalDate, { drew: boolean; time: Instant; id: string }>;
  readonly heard: Instant[];
  readonly away: Days[];
  readonly atHome: Days[];
  /** By the id of the event: one may come twice. */
  readonly regenerations: Map<string, Instant>;
  readonly levels: { at: Instant; lb: number }[];
}

/**
 * Takes in a fleet's events line by line, in any order, and keeps what scores go by. Lines that are no events of these
 * units are passed over; a replay judges them in full, which takes several times as long.
 */
export class SeenLog {
  readonly #units: Map<string, Kept>;

  constructor(unitIds: Iterable<string>) {
    this.#units = new Map([...unitIds].map((unitId) => [unitId, nothingKept()]));
  }

  add(line: string): void {
    const event = parsed(line);
    if (!isRecord(event) || !isRecord(event.data)) return;
    const { source, type, id, data } = event;
    if (typeof source !== 'string' || typeof type !== 'string' || !isEventType(type)) return;
    const kept = this.#units.get(partsOfSource(source).unitId);
    const time = instantOf(event.time);
    if (!kept || time === undefined) return;
    keep(kept, type, data, { time, id: String(id) });
    kept.heard.push(instantOf(event.recordedtime) ?? time);
  }

  /** What was seen of a unit; undefined of one that was not asked for. */
  of(unitId: string): UnitSeen | undefined {
    const kept = this.#units.get(unitId);
    return (
      kept && {
        drew: new Map([...kept.days].sort(([a], [b]) => a - b).map(([date, { drew }]) => [date, drew])),
        heard: [...kept.heard].sort((a, b) => a - b),
        away: [...kept.away].sort((a, b) => a.from - b.from || a.to - b.to),
        atHome: [...kept.atHome].sort((a, b) => a.from - b.from || a.to - b.to),
        regenerations: [...kept.regenerations.values()].sort((a, b) => a - b),
        levels: [...kept.levels].sort((a, b) => a.at - b.at || a.lb - b.lb),
      }
    );
  }
}

function nothingKept(): Kept {
  return { days: new Map(), heard: [], away: [], atHome: [], regenerations: new Map(), levels: [] };
}

function keep(
  kept: Kept,
  type: EventType,
  data: Record<string, unknown>,
  { time, id }: { time: Instant; id: string },
): void {
  switch (type) {
    case 'brinebell.flow-day.v1': {
      const date = dateOf(data.date);
      const gallons = isRecord(data.volume) ? data.volume.value : undefined;
      if (date === undefined || typeof gallons !== 'number' || gallons < 0) return;
      const before = kept.days.get(date);
      // Of two flow days of one date the later stands, then the greater id: section 1 of the contract.
      const stands = !before || time > before.time || (time === before.time && id > before.id);
      if (stands) kept.days.set(date, { drew: gallons > 0, time, id });
      return;
    }
    case 'brinebell.away.v1':
    case 'brinebell.at-home.v1': {
      const from = dateOf(data.from);
      const to = dateOf(data.to);
      if (from === undefined || to === undefined) return;
      (type === 'brinebell.away.v1' ? kept.away : kept.atHome).push({ from, to });
      return;
    }
    case 'brinebell.regeneration.v1':
      if (typeof data.trigger === 'string') kept.regenerations.set(id, time);
      return;
    case 'brinebell.salt-level.v1': {
      const mass = massReadingSchema().safeParse(data.mass);
      if (mass.success) kept.levels.push({ at: time, lb: lbOf(mass.data) });
      return;
    }
    default:
      return;
  }
}

function parsed(line: string): unknown {
  try {
    return JSON.parse(line);
  } catch {
    return undefined;
  }
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null;
}

function instantOf(value: unknown): Instant | undefined {
  return typeof value === 'string' ? parseInstant(value) : undefined;
}

function dateOf(value: unknown): LocalDate | undefined {
  return typeof value === 'string' ? parseLocalDate(value) : undefined;
}
