import { describe, expect, it } from 'vitest';
import { formatLocalDate } from '../../../shared/time/localDate.ts';
import { type Wire, wire, zoneOf } from '../../support/events.ts';
import { registryOf, unitRecord } from '../../support/fleet.ts';
import { FIRST_DATE, linesOf, play, type Script } from '../../support/household.ts';
import { replayLines } from '../../support/replayLines.ts';

const registry = registryOf(unitRecord());
const zone = zoneOf('America/New_York');
const STALLS = 100;
/** A household with a little life in it, whose meter stalls. */
const stalled: Script = {
  days: 140,
  gallons: (day) => 160 + 40 * Math.sin(day * 1.7) + 30 * Math.cos(day * 0.9),
  registers: (day) => (day < STALLS ? 1 : 0),
};

function noFlowOf(more: readonly Wire[] = [], script = stalled) {
  const { alerts } = replayLines(linesOf([...play(script), ...more]), registry);
  return alerts.filter(({ kind }) => kind === 'no-flow');
}

/** At three in the afternoon of a day of the run, which begins on day 0. */
function at(day: number, type: string, data: Record<string, unknown>): Wire {
  const time = zone.startOf(FIRST_DATE + STALLS + day) + 15 * 3_600_000;
  return wire(type, `${type}-${day}`, time, data, time);
}

const visit = (day: number, findings: string[], work: string[] = []) =>
  at(day, 'service-visit', { technician: 'tech-1', findings, work });

const said = (kind: 'away' | 'at-home', on: number, from: number, to: number) =>
  at(on, kind, {
    from: formatLocalDate(FIRST_DATE + STALLS + from),
    to: formatLocalDate(FIRST_DATE + STALLS + to),
  });

const gallons = (value: number) => ({ value, unit: '[gal_us]' });

/** The day of the run on which an instant lies. */
const dayOf = (instant = '') => zone.dateAt(Date.parse(instant)) - FIRST_DATE - STALLS;

/** The days of the run on which a technician was sent, once an alert. */
function sentOn(more: readonly Wire[] = [], script = stalled): number[] {
  return noFlowOf(more, script).flatMap(({ history }) => {
    const step = history.find(({ severity }) => severity !== 'routine');
    return step ? [dayOf(step.at)] : [];
  });
}

describe('a run of zero days', () => {
  it('is asked about, then sent for within three weeks, and over when water is counted', () => {
    const isMended = (day: number) => day > STALLS + 30;
    const script = { ...stalled, registers: (day: number) => (day < STALLS || isMended(day) ? 1 : 0) };
    const [alert, ...others] = noFlowOf([], script);
    expect(others).toEqual([]);
    expect(alert?.history[0]?.severity).toBe('routine');
    expect(dayOf(alert?.raisedAt)).toBeLessThanOrEqual(5);
    expect(dayOf(alert?.clearedAt ?? '')).toBe(32);
    const probabilities = alert?.history.map(({ probability }) => probability) ?? [];
    expect(probabilities).toEqual([...probabilities].sort((a, b) => a - b));
    expect(sentOn([], script).every((day) => day <= 21)).toBe(true);
  });

  it('of a meter that was found stalled and mended is over, and comes back where nothing flows after', () => {
    const mended = visit(10, ['meter-stalled'], ['meter replaced']);
    // It flows again that afternoon.
    const flowing = { ...stalled, registers: (day: number) => (day < STALLS || day >= STALLS + 10 ? 1 : 0) };
    const [over, ...others] = noFlowOf([mended], flowing);
    expect([others, dayOf(over?.clearedAt ?? '')]).toEqual([[], 10]);
    // It does not, which is doubted within two days, and sent for again.
    const again = (came: Wire) => {
      const [alert] = noFlowOf([came]);
      const after = alert?.history.filter((step) => dayOf(step.at) > 10) ?? [];
      expect(alert?.evidence).toMatchObject({ reopened: { times: 1 }, foundStalledOn: expect.any(String) });
      expect(after[0]?.severity).toBe('routine');
      return dayOf(after.find(({ severity }) => severity === 'soon')?.at);
    };
    expect(again(mended)).toBeLessThanOrEqual(31);
    // Sooner where nobody says that anything was done about it.
    expect(again(visit(10, ['meter-stalled']))).toBeLessThan(again(mended));
  });

  it('is hardly of a stalled meter any more where a technician found nothing', () => {
    const last = (more: readonly Wire[]) => noFlowOf(more)[0]?.history.at(-1)?.probability ?? 0;
    const [without = Infinity] = sentOn();
    const [nothing = Infinity] = sentOn([visit(5, ['nothing-found'])]);
    expect(nothing).toBeGreaterThan(without);
    expect(last([visit(6, ['nothing-found'])])).toBeLessThan(last([]));
    // What else he writes names no cause of this.
    expect(sentOn([visit(5, ['scale on the aerator'], ['salt delivered'])])).toEqual(sentOn());
  });

  it('is sent for at once when the household says that it is there, and left alone while it is away', () => {
    expect(sentOn([said('at-home', 4, 0, 4)])).toEqual([4]);
    expect(dayOf(noFlowOf([said('away', 6, 0, 20)])[0]?.clearedAt ?? '')).toBe(6);
    const [sent = Infinity] = sentOn([said('away', 6, 0, 20)]).filter((day) => day > 6);
    expect(sent).toBeGreaterThan(21);
    expect(sent).toBeLessThanOrEqual(37);
    // Of two words the later one holds.
    expect(sentOn([said('away', 3, 0, 20), said('at-home', 5, 0, 5)])).toEqual([5]);
    const takenBack = sentOn([said('at-home', 4, 0, 4), said('away', 5, 0, 25)]);
    expect(takenBack.filter((day) => day > 4 && day < 26)).toEqual([]);
  });

  it('is weighed by what is not answered, though little', () => {
    const asked = at(4, 'question', { step: 'asked' });
    const unsure = at(5, 'question', { step: 'not-sure' });
    const lastOf = (more: readonly Wire[]) =>
      noFlowOf(more, { ...stalled, days: STALLS + 12 })[0]?.history.at(-1)?.probability ?? 0;
    // The silence of those away is a little more usual than that of those at home by the rules.
    expect(lastOf([asked])).toBeLessThan(lastOf([]));
    expect(lastOf([asked])).toBeGreaterThan(lastOf([]) - 0.15);
    expect(sentOn([asked, unsure])).toEqual(sentOn());
  });

  it('is none of a stalled meter whose running total or control goes on counting', () => {
    const counting = play(stalled).map((event, index): Wire => {
      const isFlow = event.type === 'brinebell.flow-day.v1';
      return isFlow ? { ...event, data: { ...event.data, register: gallons(50_000 + 20 * index) } } : event;
    });
    const { alerts } = replayLines(linesOf(counting), registry);
    expect(alerts.filter(({ kind }) => kind === 'no-flow')).toEqual([]);
    const regenerated = (day: number, trigger: string, since: number) =>
      at(day, 'regeneration', { trigger, volumeSince: gallons(since) });
    expect(sentOn([regenerated(2, 'metered', 1000), regenerated(6, 'metered', 900)])).toEqual([]);
    // One by hand that counted next to nothing tells nothing.
    expect(sentOn([regenerated(6, 'manual', 0)])).toEqual(sentOn());
  });

  it('is never sent for at a meter that has not registered water yet, but where somebody is there', () => {
    const dead: Script = { ...stalled, registers: () => 0 };
    expect(sentOn([], dead)).toEqual([]);
    const from = -STALLS;
    expect(sentOn([said('at-home', from + 20, from + 10, from + 20)], dead)).toEqual([from + 20]);
  });
});
