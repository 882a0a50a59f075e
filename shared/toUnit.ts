import { gpgOf, grainsOf, lbOf } from './quantity.ts';
import type { Unit, UnitRecord } from './registry.ts';
import { parseLocalDate } from './time/localDate.ts';
import { zoneNamed } from './time/zone.ts';

/** A record in the trade's units. */
export function toUnit(record: UnitRecord): Unit {
  const zone = zoneNamed(record.timeZone);
  const installedOn = parseLocalDate(record.installedOn);
  if (!zone || installedOn === undefined)
    throw new RangeError('a registry record must pass its schema first');
  return {
    unitId: record.unitId,
    companyId: record.companyId,
    siteId: record.siteId,
    region: record.region,
    formerRegions: (record.formerRegions ?? []).map(({ region, until }) => ({
      region,
      until: parseLocalDate(until) ?? 0,
    })),
    round: record.round,
    zone,
    installedOn,
    resinCubicFeet: record.resin.value,
    saltDoseLb: lbOf(record.saltDose),
    hardnessGpg: gpgOf(record.hardness),
    ironMgPerL: record.iron?.value ?? 0,
    programmed: {
      hardnessGpg: gpgOf(record.programmed.hardness),
      capacityGrains: grainsOf(record.programmed.capacity),
      regenerationHour: record.programmed.regenerationHour,
    },
    saltTankLb: record.saltTank && lbOf(record.saltTank),
    alternating: record.arrangement === 'alternating',
    senses: record.senses,
    occupants: record.occupants,
  };
}
