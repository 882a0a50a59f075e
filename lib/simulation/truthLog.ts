import type { AlertCause } from '../../shared/alerts.ts';
import { formatInstant, type Instant } from '../../shared/time/instant.ts';
import { formatLocalDate, type LocalDate } from '../../shared/time/localDate.ts';
import type { Overrun } from './bed.ts';
import type { Confounder } from './confounders.ts';
import { faultNamed } from './faults.ts';
import type { UnitPlan } from './plan.ts';
import { SHORTEST_ABSENCE_DAYS, type Truth } from './truth.ts';
import { runsOf, type Span } from './waterUse.ts';

/** Writes down what is true of one unit while its days are lived through. */
export class TruthLog {
  /** The day on which the fault first made a difference. */
  shownOn: LocalDate | undefined;
  readonly #plan: UnitPlan;
  readonly #entries: Truth[] = [];
  #begunOn: LocalDate | undefined;
  #mendedOn: LocalDate | undefined;

  constructor(plan: UnitPlan) {
    this.#plan = plan;
    for (const { first, last } of plan.use.absences) {
      if (last - first + 1 < SHORTEST_ABSENCE_DAYS) continue;
      const to = last === plan.days - 1 ? null : plan.start + last;
      this.#add({ what: 'absence', kind: null, cause: null, from: plan.start + first, to, detail: {} });
    }
    const { use, confounders, outage, days } = plan;
    for (const { name, ...span } of use.events ?? []) this.confounder(name, span);
    if (confounders.batches) this.confounder('batches', { first: 0, last: days - 1 });
    const unreported = Array.from({ length: days }, (_, day) => use.unreported.has(day));
    for (const gap of runsOf(unreported)) if (gap.last > gap.first) this.confounder('record-gap', gap);
    if (outage) this.confounder('outage', outage);
  }

  /** Something harmless that lasts for some days, or to the end where that is the last day. */
  confounder(name: Confounder['name'], { first, last }: Span): void {
    const { start, days } = this.#plan;
    const to = last === days - 1 ? null : start + last;
    const detail = { confounder: name };
    this.#add({ what: 'confounder', kind: null, cause: null, from: start + first, to, detail });
  }

  /** What is in the tank would not last for long. */
  saltLow(from: LocalDate, to: LocalDate | null): void {
    this.#add({ what: 'salt-low', kind: null, cause: null, from, to, detail: {} });
  }

  begun(date: LocalDate): void {
    this.#begunOn = date;
  }

  /** The fault makes a difference to a day; which nobody can know if nothing of that day ever arrives. */
  shown(date: LocalDate): void {
    const { confounders, start, fault } = this.#plan;
    if (confounders.missing.has(date - start) && fault?.name !== 'silent') return;
    this.shownOn ??= date;
  }

  mended(date: LocalDate): void {
    this.#mendedOn = date;
  }

  /** A regeneration that drew less than its dose. */
  short(date: LocalDate, at: Instant, saltLb: number): void {
    const detail = { at: formatInstant(at), saltLb: rounded(saltLb), doseLb: this.#plan.profile.saltDoseLb };
    this.#add({ what: 'regeneration-without-salt', ...this.#naming(), from: date, to: date, detail });
  }

  /**
   * @param to the day on which it ended, null if it lasts
   * @param innocent its cause where the fault has no part in it
   */
  overrun({ since, percent }: Overrun, to: LocalDate | null, innocent: AlertCause): void {
    const { fault } = this.#plan;
    const faulty =
      fault &&
      this.#begunOn !== undefined &&
      this.#begunOn <= (to ?? Infinity) &&
      since <= (this.#mendedOn ?? Infinity) &&
      this.shownOn !== undefined;
    const cause = faulty ? faultNamed(fault.name).overrun : innocent;
    this.#add({
      what: 'overrun',
      kind: 'overrun',
      cause,
      from: since,
      to,
      detail: { percent: rounded(percent) },
    });
  }

  /** Everything, once the days are over. */
  all(): Truth[] {
    const { fault } = this.#plan;
    const from = fault?.name === 'tank-empty' ? this.shownOn : this.#begunOn;
    if (fault && from !== undefined) {
      const dwindling = fault.dwindlingDays > 0;
      const detail = {
        fault: fault.name,
        shownOn: this.shownOn === undefined ? null : formatLocalDate(this.shownOn),
        also: [
          ...faultNamed(fault.name).also,
          ...(dwindling ? [{ kind: 'low-registration', cause: 'meter-obstructed' }] : []),
        ],
        ...(dwindling && { dwindlingFrom: formatLocalDate(from - fault.dwindlingDays) }),
      };
      this.#add({ what: 'fault', ...this.#naming(), from, to: this.#mendedOn ?? null, detail });
    }
    return this.#entries;
  }

  #naming() {
    const { fault } = this.#plan;
    return fault ? faultNamed(fault.name).named(fault.strength) : { kind: null, cause: null };
  }

  #add(entry: Omit<Truth, 'unitId' | 'from' | 'to'> & { from: LocalDate; to: LocalDate | null }): void {
    const { what, kind, cause, detail } = entry;
    const from = formatLocalDate(entry.from);
    const to = entry.to === null ? null : formatLocalDate(entry.to);
    this.#entries.push({ unitId: this.#plan.profile.unitId, what, kind, cause, from, to, detail });
  }
}

function rounded(value: number): number {
  return Math.round(value * 10) / 10;
}
