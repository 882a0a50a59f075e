import type { EventContent, WireEvent } from './events.ts';
import type { Fact } from './facts.ts';
import { gallonsOf, gpgOf, gpmOf, grainsOf, lbOf } from './quantity.ts';
import { type Instant, parseInstant } from './time/instant.ts';
import { type LocalDate, parseLocalDate } from './time/localDate.ts';
import type { Zone } from './time/zone.ts';

/**
 * Turns an event that its schemas have let through into a fact in the trade's units, placed in the story of a unit
 * whose site keeps `zone`.
 */
export function toFact(event: WireEvent, zone: Zone): Fact {
  const time = instantOf(event.time);
  return factOf(event, event.id, time, event.recordedtime ? instantOf(event.recordedtime) : time, zone);
}

/**
 * As {@link toFact}, of an event whose envelope has been read already.
 *
 * @param known when the service first knew of it
 */
export function factOf(event: EventContent, id: string, time: Instant, known: Instant, zone: Zone): Fact {
  // Named one by one, those that are left out too: a spread costs twenty times as much, and facts of a kind are alike.
  switch (event.type) {
    case 'brinebell.flow-day.v1': {
      const { data } = event;
      const date = dateOf(data.date);
      return {
        kind: 'flow-day',
        id,
        time,
        known,
        at: zone.startOf(date + 1),
        date,
        gallons: gallonsOf(data.volume),
        peakGpm: data.peakFlow && gpmOf(data.peakFlow),
        flowHours: data.flowHours,
        longestFlowMinutes: data.longestFlowMinutes,
        registerGallons: data.register && gallonsOf(data.register),
      };
    }
    case 'brinebell.regeneration.v1': {
      const { data } = event;
      return {
        kind: 'regeneration',
        id,
        time,
        known,
        at: time,
        trigger: data.trigger,
        durationMinutes: data.durationMinutes,
        saltBeforeLb: data.saltBefore && lbOf(data.saltBefore),
        saltAfterLb: data.saltAfter && lbOf(data.saltAfter),
        brineGallons: data.brineDrawn && gallonsOf(data.brineDrawn),
        waterGallons: data.water && gallonsOf(data.water),
        gallonsSince: data.volumeSince && gallonsOf(data.volumeSince),
      };
    }
    case 'brinebell.settings.v1': {
      const { data } = event;
      return {
        kind: 'settings',
        id,
        time,
        known,
        at: time,
        hardnessGpg: gpgOf(data.hardness),
        capacityGrains: grainsOf(data.capacity),
        regenerationHour: data.regenerationHour,
        clockMinutes: data.clock === undefined ? undefined : minutesOf(data.clock),
        saltDoseLb: data.saltDose && lbOf(data.saltDose),
        mode: data.mode,
      };
    }
    case 'brinebell.salt-level.v1':
      return { kind: 'salt-level', id, time, known, at: time, lb: lbOf(event.data.mass) };
    case 'brinebell.power.v1': {
      const { data } = event;
      return {
        kind: 'power',
        id,
        time,
        known,
        at: time,
        lostAt: instantOf(data.lostAt),
        restoredAt: instantOf(data.restoredAt),
        settingsKept: data.settingsKept,
      };
    }
    case 'brinebell.service-visit.v1': {
      const { data } = event;
      return {
        kind: 'service-visit',
        id,
        time,
        known,
        at: time,
        technician: data.technician,
        findings: data.findings,
        work: data.work,
        parts: data.parts,
        saltAddedLb: data.saltAdded && lbOf(data.saltAdded),
        rawHardnessGpg: data.rawHardness && gpgOf(data.rawHardness),
        coldHardnessGpg: data.coldHardness && gpgOf(data.coldHardness),
        hotHardnessGpg: data.hotHardness && gpgOf(data.hotHardness),
        notes: data.notes,
      };
    }
    case 'brinebell.away.v1':
    case 'brinebell.at-home.v1': {
      const kind = event.type === 'brinebell.away.v1' ? 'away' : 'at-home';
      return { kind, id, time, known, at: time, from: dateOf(event.data.from), to: dateOf(event.data.to) };
    }
    case 'brinebell.alert-act.v1': {
      const { act, by, alertId, until } = event.data;
      return {
        kind: 'alert-act',
        id,
        time,
        known,
        at: time,
        act,
        by,
        alertId,
        until: until === undefined ? undefined : instantOf(until),
      };
    }
    case 'brinebell.question.v1':
      return { kind: 'question', id, time, known, at: time, step: event.data.step };
  }
}

function minutesOf(clock: string): number {
  return Number(clock.slice(0, 2)) * 60 + Number(clock.slice(3));
}

function instantOf(text: string): Instant {
  return checked(parseInstant(text), text);
}

function dateOf(text: string): LocalDate {
  return checked(parseLocalDate(text), text);
}

function checked(value: number | undefined, text: string): number {
  if (value === undefined)
    throw new RangeError(`${text} is no time: check the event against its schema first`);
  return value;
}
