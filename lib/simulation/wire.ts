import type { EventData, EventType, WireEvent } from '../../shared/events.ts';
import type { Programmed, UnitRecord } from '../../shared/registry.ts';
import { formatInstant, type Instant } from '../../shared/time/instant.ts';
import { formatLocalDate } from '../../shared/time/localDate.ts';
import { GRAMS_PER_GRAIN, KG_PER_LB, LITRES_PER_GALLON, MG_PER_L_PER_GPG } from '../../shared/units.ts';
import type { UnitProfile } from './profile.ts';

/** Writes quantities as one kind of unit sends them. */
export interface Quantities {
  volume(gallons: number): { value: number; unit: 'L' | '[gal_us]' };
  flow(gpm: number): { value: number; unit: 'L/min' | '[gal_us]/min' };
  mass(lb: number): { value: number; unit: 'kg' | '[lb_av]' };
  hardness(gpg: number): { value: number; unit: 'mg/L' | '[gr]/[gal_us]' };
  capacity(grains: number): { value: number; unit: 'g' | '[gr]' };
}

const METRIC: Quantities = {
  volume: (gallons) => ({ value: rounded(gallons * LITRES_PER_GALLON, 1), unit: 'L' }),
  flow: (gpm) => ({ value: rounded(gpm * LITRES_PER_GALLON, 1), unit: 'L/min' }),
  mass: (lb) => ({ value: rounded(lb * KG_PER_LB, 2), unit: 'kg' }),
  hardness: (gpg) => ({ value: rounded(gpg * MG_PER_L_PER_GPG, 1), unit: 'mg/L' }),
  capacity: (grains) => ({ value: rounded(grains * GRAMS_PER_GRAIN, 2), unit: 'g' }),
};

const CUSTOMARY: Quantities = {
  volume: (gallons) => ({ value: rounded(gallons, 1), unit: '[gal_us]' }),
  flow: (gpm) => ({ value: rounded(gpm, 2), unit: '[gal_us]/min' }),
  mass: (lb) => ({ value: rounded(lb, 1), unit: '[lb_av]' }),
  hardness: (gpg) => ({ value: rounded(gpg, 2), unit: '[gr]/[gal_us]' }),
  capacity: (grains) => ({ value: rounded(grains, 0), unit: '[gr]' }),
};

/** How a unit writes quantities. */
export function quantitiesOf({ metric }: UnitProfile): Quantities {
  return metric ? METRIC : CUSTOMARY;
}

/** What the registry says of a unit. */
export function recordOf(profile: UnitProfile): UnitRecord {
  const write = quantitiesOf(profile);
  return {
    unitId: profile.unitId,
    companyId: profile.companyId,
    siteId: profile.siteId,
    region: profile.region,
    ...(profile.round !== undefined && { round: profile.round }),
    timeZone: profile.zone.name,
    installedOn: formatLocalDate(profile.installedOn),
    resin: { value: profile.resinCubicFeet, unit: '[cft_i]' },
    saltDose: write.mass(profile.saltDoseLb),
    hardness: write.hardness(profile.hardnessGpg),
    ...(profile.ironMgPerL > 0 && { iron: { value: profile.ironMgPerL, unit: 'mg/L' as const } }),
    programmed: {
      ...programmedOf(write, profile.programmed),
      regenerationHour: profile.programmed.regenerationHour,
    },
    ...(profile.saltTankLb !== undefined && { saltTank: write.mass(profile.saltTankLb) }),
    arrangement: profile.alternating ? 'alternating' : 'single',
    senses: [...profile.senses],
    ...(profile.occupants !== undefined && { occupants: profile.occupants }),
  };
}

/** What is programmed on a control, as it travels, without the hour. */
export function programmedOf(write: Quantities, { hardnessGpg, capacityGrains }: Programmed) {
  return { hardness: write.hardness(hardnessGpg), capacity: write.capacity(capacityGrains) };
}

/** An event and when the service first received it. */
export interface Sent {
  readonly recorded: Instant;
  readonly event: WireEvent;
}

/** Writes one event of a unit. */
export function eventOf<Type extends EventType>(
  profile: UnitProfile,
  id: string,
  type: Type,
  when: { time: Instant; recorded: Instant },
  data: EventData<Type>,
): Sent {
  const event = {
    specversion: '1.0',
    id,
    source: `/companies/${profile.companyId}/units/${profile.unitId}`,
    type,
    time: formatInstant(when.time),
    recordedtime: formatInstant(when.recorded),
    data,
  } as WireEvent;
  return { recorded: when.recorded, event };
}

function rounded(value: number, digits: number): number {
  const scale = 10 ** digits;
  return Math.round(value * scale) / scale;
}
