import { closeSync, openSync } from 'node:fs';
import { ALERT_KINDS, type Alert, type AlertKind, SEVERITIES, type Severity } from '../../shared/alerts.ts';
import { compareText } from '../../shared/compareText.ts';
import { recordOf } from '../../shared/records.ts';
import type { Instant } from '../../shared/time/instant.ts';
import type { Fleet } from './fleet.ts';
import { OutputFile } from './outputFile.ts';
import { readPart } from './readPart.ts';

/** An alert as its line of alerts.ndjson, with what is asked of it before it is written there. */
export interface AlertEntry {
  unitId: string;
  kind: AlertKind;
  severity: Severity;
  raisedAt: Instant;
  line: string;
  /** The alert itself, while it is active. */
  active: Alert | undefined;
}

/** How many alerts were raised, by kind and severity, and those that are active at the end. */
export interface AlertTally {
  raised: Readonly<Record<AlertKind, Readonly<Record<Severity, number>>>>;
  active: readonly Alert[];
}

/** The entry of an alert. */
export function entryOf(alert: Alert): AlertEntry {
  const { unitId, kind, severity, raisedAt, clearedAt } = alert;
  return {
    unitId,
    kind,
    severity,
    raisedAt: Date.parse(raisedAt),
    line: `${JSON.stringify(alert)}\n`,
    active: clearedAt === null ? alert : undefined,
  };
}

/**
 * The alerts of a fleet, in a file until they can be written in their order: the more days, the more of them. In memory
 * is only where each of them begins, and those that are active.
 */
export class AlertLog {
  readonly #fleet: Fleet;
  readonly #path: string;
  readonly #file: OutputFile;
  readonly #raisedAt: number[] = [];
  readonly #unitIds: string[] = [];
  readonly #starts: number[] = [];
  readonly #raised = recordOf(ALERT_KINDS, () => recordOf(SEVERITIES, () => 0));
  readonly #active: Alert[] = [];

  constructor(path: string, fleet: Fleet) {
    this.#path = path;
    this.#fleet = fleet;
    this.#file = new OutputFile(path);
  }

  add({ unitId, kind, severity, raisedAt, line, active }: AlertEntry): void {
    this.#raisedAt.push(raisedAt);
    // The registry's own text of it: of those that came from a thread each is another.
    this.#unitIds.push(this.#fleet.byId.get(unitId)?.unitId ?? unitId);
    this.#starts.push(this.#file.size);
    this.#file.add(line);
    this.#raised[kind][severity] += 1;
    if (active) this.#active.push(active);
  }

  /** Ends it and writes the alerts by the instant at which they were raised, then by unit. */
  writeTo(out: OutputFile): AlertTally {
    const end = this.#file.size;
    this.#file.close({ lasting: false });
    const descriptor = openSync(this.#path, 'r');
    try {
      for (const index of this.#inOrder()) {
        const start = this.#starts[index] ?? end;
        out.addBytes(readPart(descriptor, start, (this.#starts[index + 1] ?? end) - start));
      }
    } finally {
      closeSync(descriptor);
    }
    const active = this.#active.sort(
      (a, b) => compareText(a.raisedAt, b.raisedAt) || compareText(a.unitId, b.unitId),
    );
    return { raised: this.#raised, active };
  }

  #inOrder(): Uint32Array {
    const raisedAt = this.#raisedAt;
    const unitIds = this.#unitIds;
    return Uint32Array.from(raisedAt, (_, index) => index).sort(
      (a, b) =>
        (raisedAt[a] ?? 0) - (raisedAt[b] ?? 0) || compareText(unitIds[a] ?? '', unitIds[b] ?? '') || a - b,
    );
  }
}
