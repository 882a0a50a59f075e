import fc from 'fast-check';
import { accountsOf } from '../../../console/regions/months.ts';
import type { ToldMonth } from '../../../console/regions/toldMonths.ts';
import { cellsOf } from '../../../lib/salt/account/accountsFile.ts';
import type { SaltAccount } from '../../../lib/salt/account/saltAccount.ts';
import { WASTE_CAUSES } from '../../../lib/salt/waste.ts';
import { chlorideLb } from '../../../lib/softening/chloride.ts';
import { SODIUM_MASS_FRACTION } from '../../../lib/softening/sodium.ts';
import { recordOf } from '../../../shared/records.ts';
import { formatInstant } from '../../../shared/time/instant.ts';

/** To a hundredth: smaller ones there are none. */
const amount = fc.nat(1_000_000_000).map((hundredths) => hundredths / 100);

/** A month, `YYYY-MM`. */
export const month = fc
  .tuple(fc.integer({ min: 1970, max: 2400 }), fc.integer({ min: 1, max: 12 }))
  .map(([year, number]) => `${year}-${String(number).padStart(2, '0')}`);

/** An account of a region: its parts make up its salt, and its bounds lie about its values. */
export const account = fc
  .record({
    region: fc.constantFrom('north', 'south', 'west'),
    month,
    days: fc.record({ counted: fc.nat(31_000), imputed: fc.nat(3_000), missing: fc.nat(3_000) }),
    units: fc.nat(1_000),
    // Noise of level sensors can make a small sum negative.
    measured: fc.integer({ min: -5_000, max: 100_000_000 }).map((hundredths) => hundredths / 100),
    inferred: amount,
    imputed: amount,
    spread: fc.double({ min: 0, max: 0.5, noNaN: true }),
    water: amount,
    grains: amount,
    wasted: fc.array(amount, { minLength: WASTE_CAUSES.length, maxLength: WASTE_CAUSES.length }),
  })
  .map(({ region, month: name, days, measured, inferred, imputed, spread, ...given }): SaltAccount => {
    const salt = measured + inferred + imputed;
    const about = (value: number) => ({
      value,
      low: value - spread * Math.abs(value),
      high: value + spread * Math.abs(value),
    });
    const judged = { judged: given.units, nsf44: 0, california2002: 0 };
    return {
      ...{ region, month: name, asOf: 0, units: given.units, unitsReporting: given.units, unitsMeasured: 0 },
      daysExpected: days.counted + days.imputed + days.missing,
      ...{ daysCounted: days.counted, daysImputed: days.imputed, regenerations: 0, regenerationsImputed: 0 },
      ...{ treatedGallons: given.water, imputedGallons: 0, waterGallons: about(given.water) },
      ...{ measuredSaltLb: measured, inferredSaltLb: inferred, imputedSaltLb: imputed },
      ...{ saltLb: about(salt), drawnShare: about(1), deliveredSaltLb: 0 },
      ...{ regenerationGallons: 0, inferredRegenerationGallons: 0 },
      ...{ grainsRemoved: given.grains, imputedGrains: 0 },
      grainsPerLb: salt > 0 ? about(given.grains / salt) : null,
      chlorideLb: about(chlorideLb(Math.max(0, salt))),
      sodiumLb: about(Math.max(0, salt) * SODIUM_MASS_FRACTION),
      ...{ sodiumInWaterLb: 0, hardGallons: 0, hardDays: 0, asSet: judged, inUse: judged },
      wastedLb: recordOf(WASTE_CAUSES, (cause) => given.wasted[WASTE_CAUSES.indexOf(cause)] ?? 0),
    };
  });

/** As it comes from the service. */
export function toldOver(told: SaltAccount): ToldMonth & { readonly region: string } {
  return JSON.parse(JSON.stringify(cellsOf(told)));
}

/** The accounts of a company, and how the console takes them; what is told of all regions is told of the first of each month. */
export const companies = fc
  .uniqueArray(account, { selector: (each) => `${each.region} ${each.month}`, maxLength: 40 })
  .map((items) => {
    const told = items.map(toldOver);
    return { items, accounts: accountsOf({ asOf: formatInstant(0), items: told, totals: told }) };
  });
