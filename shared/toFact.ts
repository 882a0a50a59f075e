import type { WireEvent } from './events.ts';
import type { Fact } from './facts.ts';
import { gallonsOf, gpgOf, gpmOf, grainsOf, lbOf, type Quantity } from './quantity.ts';
import { type Instant, parseInstant } from './time/instant.ts';
import { type LocalDate, parseLocalDate } from './time/localDate.ts';
import type { Zone } from './time/zone.ts';

/**
 * Turns an event that its schemas have let through into a fact in the trade's units, placed in the story of a unit
 * whose site keeps `zone`.
 */
export function toFact(event: WireEvent, zone: Zone): Fact {
  const time = instantOf(event.time);
  const known = event.recordedtime ? instantOf(event.recordedtime) : time;
  const accepted = { id: event.id, time, known, at: time };
  switch (event.type) {
    case 'brinebell.flow-day.v1': {
      const { data } = event;
      const date = dateOf(data.date);
      return {
        kind: 'flow-day',
        ...accepted,
        at: zone.startOf(date + 1),
        date,
        gallons: gallonsOf(data.volume),
        peakGpm: optional(data.peakFlow, gpmOf),
        flowHours: data.flowHours,
        longestFlowMinutes: data.longestFlowMinutes,
        registerGallons: optional(data.register, gallonsOf),
      };
    }
    case 'brinebell.regeneration.v1': {
      const { data } = event;
      return {
        kind: 'regeneration',
        ...accepted,
        trigger: data.trigger,
        durationMinutes: data.durationMinutes,
        saltBeforeLb: optional(data.saltBefore, lbOf),
        saltAfterLb: optional(data.saltAfter, lbOf),
        brineGallons: optional(data.brineDrawn, gallonsOf),
        waterGallons: optional(data.water, gallonsOf),
        gallonsSince: optional(data.volumeSince, gallonsOf),
      };
    }
    case 'brinebell.settings.v1': {
      const { data } = event;
      return {
        kind: 'settings',
        ...accepted,
        hardnessGpg: gpgOf(data.hardness),
        capacityGrains: grainsOf(data.capacity),
        regenerationHour: data.regenerationHour,
        clockMinutes: optional(data.clock, minutesOf),
        saltDoseLb: optional(data.saltDose, lbOf),
        mode: data.mode,
      };
    }
    case 'brinebell.salt-level.v1':
      return { kind: 'salt-level', ...accepted, lb: lbOf(event.data.mass) };
    case 'brinebell.power.v1': {
      const { data } = event;
      return {
        kind: 'power',
        ...accepted,
        lostAt: instantOf(data.lostAt),
        restoredAt: instantOf(data.restoredAt),
        settingsKept: data.settingsKept,
      };
    }
    case 'brinebell.service-visit.v1': {
      const { data } = event;
      return {
        kind: 'service-visit',
        ...accepted,
        technician: data.technician,
        findings: data.findings,
        work: data.work,
        parts: data.parts,
        saltAddedLb: optional(data.saltAdded, lbOf),
        rawHardnessGpg: optional(data.rawHardness, gpgOf),
        coldHardnessGpg: optional(data.coldHardness, gpgOf),
        hotHardnessGpg: optional(data.hotHardness, gpgOf),
        notes: data.notes,
      };
    }
    case 'brinebell.away.v1':
      return { kind: 'away', ...accepted, from: dateOf(event.data.from), to: dateOf(event.data.to) };
    case 'brinebell.at-home.v1':
      return { kind: 'at-home', ...accepted, from: dateOf(event.data.from), to: dateOf(event.data.to) };
    case 'brinebell.alert-act.v1': {
      const { act, by, alertId, until } = event.data;
      return { kind: 'alert-act', ...accepted, act, by, alertId, until: optional(until, instantOf) };
    }
    case 'brinebell.question.v1':
      return { kind: 'question', ...accepted, step: event.data.step };
  }
}

function optional<Wire extends Quantity | string>(value: Wire | undefined, convert: (value: Wire) => number) {
  return value === undefined ? undefined : convert(value);
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
