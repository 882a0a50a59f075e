import type { Severity } from '../../shared/alerts.ts';
import type { Unit } from '../../shared/registry.ts';
import { formatInstant } from '../../shared/time/instant.ts';
import { shareBefore } from '../demand/dayShare.ts';
import type { Clock, ClockReading } from '../unit/memory/clock.ts';
import type { UnitState } from '../unit/state.ts';
import { type RankedCause, ranked, type WatchedKind } from './kind.ts';
import type { ClockOffRules } from './rules/clockOff.ts';

/**
 * The control's clock is off, told from the hours at which regenerations start and from what it showed in settings
 * events; the likelihood is in lib/unit/memory/clockBelief.ts. A summer-time hour is none, and another hour that was
 * programmed and not reported is weighed against it.
 */
export const clockOff: WatchedKind<ClockOffRules> = {
  kind: 'clock-off',
  consequenceOf: [],
  heeds: ['regeneration', 'settings', 'service-visit', 'power'],
  look(unit, state, rules) {
    const { clock } = state.memories;
    if (!clock.belief) return null;
    const { twelve, drift } = clock.belief;
    const off = Math.min(1, twelve + drift);
    if (off < rules.clear) return null;
    const last = clock.wrong.at(-1);
    if (!last) return null;
    const causes = ranked({ 'twelve-hours': twelve, drift });
    const hour = (state.programmed.regenerationHour - last.fastHours + 24) % 24;
    return {
      probability: off,
      causes,
      severity: off >= rules.raise ? severity(unit, hour, rules) : null,
      lasts: true,
      summary: () => summary(state, last, hour, causes),
      evidence: () => evidence(state, clock, last, hour),
    };
  },
};

/** A single bed is bypassed while it regenerates: what is drawn then is hard. Of a pair the other one treats. */
function severity(unit: Unit, hour: number, rules: ClockOffRules): Severity {
  if (unit.alternating) return 'routine';
  const end = hour + rules.regenerationHours;
  const drawn = shareBefore(end) - shareBefore(hour) + shareBefore(end - 24);
  return drawn >= rules.soonShare ? 'soon' : 'routine';
}

function summary(
  { programmed }: UnitState,
  { by, fastHours }: ClockReading,
  hour: number,
  causes: readonly RankedCause[],
): string {
  const hours = `${Math.abs(fastHours).toFixed(1)} hours ${fastHours < 0 ? 'slow' : 'fast'}`;
  const swapped = causes[0]?.cause === 'twelve-hours';
  const started = `about ${timeOf(hour)} instead of ${timeOf(programmed.regenerationHour)}`;
  const why = swapped ? 'has morning and evening swapped' : `is ${hours}`;
  if (by === 'start') return `Regenerations start at ${started}: the control's clock probably ${why}.`;
  return `The control's clock ${why} by its own report: it regenerates at ${started}.`;
}

function timeOf(hour: number): string {
  const minutes = Math.round(hour * 60) % 1440;
  const two = (value: number) => String(value).padStart(2, '0');
  return `${two(Math.floor(minutes / 60))}:${two(minutes % 60)}`;
}

function evidence({ programmed }: UnitState, clock: Clock, last: ClockReading, hour: number) {
  const [first] = clock.wrong;
  const report = clock.wrong.findLast(({ by }) => by === 'report');
  return {
    clockFastHours: last.fastHours,
    programmedHour: programmed.regenerationHour,
    startsAt: timeOf(hour),
    wrongReadings: clock.wrongCount,
    wrongStarts: clock.wrong
      .filter(({ by }) => by === 'start')
      .map(({ at, fastHours }) => `${formatInstant(at)} (${fastHours.toFixed(1)} h)`)
      .join(', '),
    clockReadAt: report ? formatInstant(report.at) : null,
    clockReadFastHours: report ? report.fastHours : null,
    movedHours: first && first !== last ? last.fastHours - first.fastHours : null,
    powerFailedAt: clock.failureBefore ? formatInstant(clock.failureBefore.at) : null,
    settingsKept: clock.failureBefore?.settingsKept ?? null,
    probabilityTwelveHours: clock.belief?.twelve ?? null,
    probabilityDrift: clock.belief?.drift ?? null,
    probabilityHourChanged: clock.belief?.changed ?? null,
  };
}
