import type { EventData } from '../../shared/events.ts';
import { formatInstant, type Instant, parseInstant } from '../../shared/time/instant.ts';
import type { Chance } from './chance.ts';
import type { Sent } from './wire.ts';

const HOUR = 3_600_000;

/** A line of a stream, and when the service received it. */
export interface Line {
  readonly recorded: Instant;
  readonly text: string;
}

/** How often each thing went wrong on the way. */
export interface UntidyCounts {
  /** Sent again as it was, or received late: hours to 10 days after. */
  duplicate: number;
  late: number;
  /** Flow days that never arrived, and such as were cut short and corrected by a second one. */
  missing: number;
  corrected: number;
  /** Lines that cannot be accepted, beside the event that they were made of. */
  malformed: number;
}

/** Sends events on, a share of them not as they should be. Counts what it did. */
export class Untidiness {
  readonly counts: UntidyCounts = { duplicate: 0, late: 0, missing: 0, corrected: 0, malformed: 0 };
  readonly #share: number;
  readonly #chance: Chance;

  /** @param share of the events to which something happens, 0 to 1 */
  constructor(share: number, chance: Chance) {
    this.#share = share;
    this.#chance = chance;
  }

  /** The lines by which one event arrives: one as a rule. */
  lines(sent: Sent): Line[] {
    if (!this.#chance.happens(this.#share)) return [lineOf(sent)];
    const kind = this.#chance.uniform();
    if (kind < 0.3) return this.#late(sent);
    if (kind < 0.55) return this.#duplicate(sent);
    if (kind < 0.7) return this.#malformed(sent);
    const { event } = sent;
    if (event.type !== 'brinebell.flow-day.v1') return this.#late(sent);
    if (kind < 0.85) {
      this.counts.missing += 1;
      return [];
    }
    return this.#corrected(sent, event.data);
  }

  #late(sent: Sent): Line[] {
    this.counts.late += 1;
    // Mostly hours, now and then up to 10 days.
    return [lineOf(delayed(sent, Math.min(240, Math.max(2, this.#chance.gamma(20, 1.5)))))];
  }

  #duplicate(sent: Sent): Line[] {
    this.counts.duplicate += 1;
    return [lineOf(sent), lineOf(delayed(sent, this.#chance.uniform(0, 30)))];
  }

  #corrected(sent: Sent, data: EventData<'brinebell.flow-day.v1'>): Line[] {
    this.counts.corrected += 1;
    const { event } = sent;
    const share = this.#chance.uniform(0.2, 0.9);
    const value = Math.round(data.volume.value * share * 10) / 10;
    const short = { ...sent, event: { ...event, data: { ...data, volume: { ...data.volume, value } } } };
    const later = this.#chance.uniform(1, 20);
    const time = formatInstant((parseInstant(event.time) ?? sent.recorded) + later * HOUR);
    const correction = delayed({ ...sent, event: { ...event, id: `${event.id}-corrected`, time } }, later);
    return [{ recorded: short.recorded, text: JSON.stringify(short.event) }, lineOf(correction)];
  }

  #malformed(sent: Sent): Line[] {
    this.counts.malformed += 1;
    const line = lineOf(sent);
    const { event } = sent;
    const id = `${event.id}-odd`;
    const odd = this.#chance.pick([
      line.text.slice(0, this.#chance.whole(20, line.text.length - 1)),
      JSON.stringify({ ...event, id, source: '/companies/larkwater/units/unit-unheard-of' }),
      JSON.stringify({ ...event, id, type: 'brinebell.water-quality.v1' }),
      JSON.stringify({ ...event, id, data: { date: '2025-02-30', volume: { value: -1, unit: 'pint' } } }),
    ]);
    return [line, { recorded: line.recorded, text: odd }];
  }
}

function lineOf({ recorded, event }: Sent): Line {
  return { recorded, text: JSON.stringify(event) };
}

function delayed({ recorded, event }: Sent, hours: number): Sent {
  const later = recorded + Math.round(hours * 3600) * 1000;
  return { recorded: later, event: { ...event, recordedtime: formatInstant(later) } };
}
