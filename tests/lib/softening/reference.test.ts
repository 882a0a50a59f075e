import { describe, expect, it } from 'vitest';
import * as brine from '../../../lib/softening/brine.ts';
import * as capacity from '../../../lib/softening/capacity.ts';
import { CHLORIDE_MASS_FRACTION, chlorideLb, chlorideMgPerL } from '../../../lib/softening/chloride.ts';
import { convertHardness as convert } from '../../../lib/softening/hardness.ts';
import {
  compensatedHardnessGpg,
  DEFAULT_IRON_ALLOWANCE_GPG_PER_MG_PER_L,
  IRON_EQUIVALENT_GPG_PER_MG_PER_L,
} from '../../../lib/softening/iron.ts';
import { daysBetweenRegenerations, gallonsPerCycle, saltLbPerDay } from '../../../lib/softening/sizing.ts';
import { ADDED_MG_PER_L_PER_GPG, addedMgPerL, mgPerGlass } from '../../../lib/softening/sodium.ts';
import * as stoichiometry from '../../../lib/softening/stoichiometry.ts';
import * as units from '../../../shared/units.ts';

interface Check {
  readonly what: string;
  readonly got: number;
  readonly want: number;
  /** Largest difference allowed: by default half of the last digit that `want` is printed with. */
  readonly within?: number;
  readonly source: string;
}

const COMPUTED =
  'computed by hand from the molar masses CaCO3 100.0869, NaCl 58.443, KCl 74.551, Na 22.98977, K 39.0983';
const UCUM = 'UCUM essence file (ucum-org/ucum, 2024)';
const ILLINOIS = '35 Ill. Adm. Code 604.805(c)';
const HANDBOOK = 'ion-exchange handbooks, from memory, unverified';
const EXAMPLE = 'worked by hand: 4 people x 60 gal x 20 gpg on 1 ft3 at 6 lb';

const bed = {
  capacityGrains: capacity.bedCapacityGrains({ resinCubicFeet: 1, saltDoseLb: 6 }),
  hardnessGpg: 20,
};
const family = { gallonsPerDay: 4 * 60, hardnessGpg: 20 };
const days = daysBetweenRegenerations({ ...bed, gallonsPerDay: 240, reserveGallons: 240 });
const chlorideAt = (grainsPerLb: number) => chlorideMgPerL({ hardnessGpg: 1, grainsPerLb });
const perCubicFoot = (eqPerL: number) => (eqPerL * stoichiometry.GRAINS_PER_CUBIC_FOOT_PER_EQ_PER_L) / 1_000;

const CHECKS: Record<string, Check[]> = {
  units: [
    {
      what: 'a US gallon is 231 in3',
      got: units.LITRES_PER_GALLON,
      want: 231 * 0.254 ** 3,
      within: 1e-12,
      source: UCUM,
    },
    {
      what: 'a cubic foot is 1,728 in3',
      got: units.LITRES_PER_CUBIC_FOOT,
      want: 1728 * 0.254 ** 3,
      within: 1e-11,
      source: UCUM,
    },
    {
      what: 'a pound is 7,000 gr of 64.79891 mg',
      got: units.KG_PER_LB,
      want: (7000 * 64.79891) / 1e6,
      within: 1e-12,
      source: UCUM,
    },
    {
      what: 'gallons in a cubic metre',
      got: units.GALLONS_PER_CUBIC_METRE,
      want: 264.172,
      source: '1,000 / 3.785411784',
    },
  ],
  hardness: [
    {
      what: '1 gpg in mg/L',
      got: convert(1, 'gpg', 'mg/L'),
      want: 17.11806,
      source: '64.79891 / 3.785411784',
    },
    {
      what: '1 gpg in whole mg/L',
      got: convert(1, 'gpg', 'mg/L'),
      want: 17,
      source: 'NDSU Extension WQ1031 (2017)',
    },
    { what: '1 gpg in mmol/L', got: convert(1, 'gpg', 'mmol/L'), want: 0.171032, source: COMPUTED },
    { what: '1 dH in mg/L', got: convert(1, 'dH', 'mg/L'), want: 17.848, source: '10 x 100.0869 / 56.0774' },
    {
      what: '1 dH in gpg',
      got: convert(1, 'dH', 'gpg'),
      want: 1.04264,
      source: '10 x 100.0869 / 56.0774 / 17.11806',
    },
    { what: '1 fH in mg/L', got: convert(1, 'fH', 'mg/L'), want: 10, within: 0, source: 'definition' },
    { what: '1 Clark in mg/L', got: convert(1, 'Clark', 'mg/L'), want: 14.254, source: '64.79891 / 4.54609' },
    { what: '1 mmol/L in mg/L', got: convert(1, 'mmol/L', 'mg/L'), want: 100.087, source: COMPUTED },
    { what: '1 gpg in dH', got: convert(1, 'gpg', 'dH'), want: 0.9591, source: COMPUTED },
    { what: '1 gpg in fH', got: convert(1, 'gpg', 'fH'), want: 1.71181, source: COMPUTED },
    { what: '1 mmol/L in gpg', got: convert(1, 'mmol/L', 'gpg'), want: 5.8469, source: COMPUTED },
    { what: '1 mmol/L in dH', got: convert(1, 'mmol/L', 'dH'), want: 5.6078, within: 1e-4, source: COMPUTED },
    { what: 'soft ends, gpg', got: convert(60, 'mg/L', 'gpg'), want: 3.505, source: '60 / 17.118' },
    {
      what: 'moderately hard ends, gpg',
      got: convert(120, 'mg/L', 'gpg'),
      want: 7.01,
      source: '120 / 17.118',
    },
    { what: 'hard ends, gpg', got: convert(180, 'mg/L', 'gpg'), want: 10.515, source: '180 / 17.118' },
    {
      what: 'chemistry of iron, gpg per mg/L',
      got: IRON_EQUIVALENT_GPG_PER_MG_PER_L,
      want: 0.105,
      source: '100.0869 / 55.845',
    },
    {
      what: 'chemistry of iron, mg/L per mg/L',
      got: convert(IRON_EQUIVALENT_GPG_PER_MG_PER_L, 'gpg', 'mg/L'),
      want: 1.792,
      source: '100.0869 / 55.845',
    },
    {
      what: 'allowance for iron by default, gpg per mg/L',
      got: DEFAULT_IRON_ALLOWANCE_GPG_PER_MG_PER_L,
      want: 4,
      within: 1,
      source: '3 to 5: common practice, no source',
    },
    {
      what: 'compensated hardness',
      got: compensatedHardnessGpg({ hardnessGpg: 18, ironMgPerL: 1.5 }),
      want: 24,
      within: 0,
      source: '18 + 1.5 x 4; the 4 is common practice, no source',
    },
  ],
  stoichiometry: [
    {
      what: 'ceiling, gr per lb NaCl',
      got: stoichiometry.CEILING_GRAINS_PER_LB.NaCl,
      want: 5993.9,
      within: 0.1,
      source: '7000 x 50.04345 / 58.443',
    },
    {
      what: 'ceiling, gr per lb KCl',
      got: stoichiometry.CEILING_GRAINS_PER_LB.KCl,
      want: 4698.9,
      within: 0.1,
      source: '7000 x 50.04345 / 74.551',
    },
    {
      what: 'KCl for the same equivalents',
      got: stoichiometry.KCL_LB_PER_LB_NACL,
      want: 1.27562,
      source: COMPUTED,
    },
    { what: 'sodium added, mg/L per gpg', got: ADDED_MG_PER_L_PER_GPG.NaCl, want: 7.864, source: COMPUTED },
    {
      what: 'sodium added, mg per mg CaCO3',
      got: addedMgPerL(convert(1, 'mg/L', 'gpg')),
      want: 0.4594,
      source: '22.98977 / 50.04345',
    },
    {
      what: 'potassium added, mg/L per gpg',
      got: ADDED_MG_PER_L_PER_GPG.KCl,
      want: 13.374,
      source: COMPUTED,
    },
    { what: 'sodium at 20 gpg, mg/L', got: addedMgPerL(20), want: 157.28, source: COMPUTED },
    {
      what: 'sodium at 20 gpg, mg in 8 US fl oz',
      got: mgPerGlass(addedMgPerL(20)),
      want: 37.2,
      source: '157.28 x 0.2365882',
    },
    {
      what: 'gpg that alone adds 20 mg/L of sodium',
      got: 20 / ADDED_MG_PER_L_PER_GPG.NaCl,
      want: 2.54,
      source: '20 / 7.864',
    },
    { what: 'chloride in NaCl', got: CHLORIDE_MASS_FRACTION.NaCl, want: 0.60663, source: '35.453 / 58.443' },
    { what: 'chloride in KCl', got: CHLORIDE_MASS_FRACTION.KCl, want: 0.47555, source: '35.453 / 74.551' },
    {
      what: '1 eq/L of resin, kgr/ft3',
      got: perCubicFoot(1),
      want: 21.8688,
      source: '28.3168 x 50.04345 / 0.06479891 / 1000',
    },
    {
      what: 'share of the ceiling at 3,350',
      got: stoichiometry.shareOfCeiling(3350),
      want: 0.559,
      source: '3,350 / 5,993.9',
    },
    {
      what: 'share of the ceiling at 4,000',
      got: stoichiometry.shareOfCeiling(4000),
      want: 0.667,
      source: '4,000 / 5,993.9',
    },
    {
      what: 'share of the ceiling at 2,850',
      got: stoichiometry.shareOfCeiling(2850),
      want: 0.475,
      within: 6e-4,
      source: '2,850 / 5,993.9',
    },
    {
      what: '3,350 gr/lb in g/kg',
      got: (3350 * units.GRAMS_PER_GRAIN) / units.KG_PER_LB,
      want: 477,
      within: 477 * 0.004,
      source: 'US DOE/PNNL Building America Solution Center, which rounds (exact: 478.57)',
    },
    {
      what: '5 gal per 1,000 gr in L per 64.8 g',
      got: 5 * units.LITRES_PER_GALLON,
      want: 18.9,
      source: 'US DOE/PNNL Building America Solution Center',
    },
  ],
  capacity: [
    {
      what: '6 lb/ft3 (0.3 lb per 1,000 gr)',
      got: capacity.capacityGrainsPerCubicFoot(20 * 0.3),
      want: 20_000,
      within: 1e-6,
      source: ILLINOIS,
    },
    {
      what: 'dose for 20,000 gr/ft3',
      got: capacity.doseForCapacity({ resinCubicFeet: 1, capacityGrains: 20_000 }),
      want: 6,
      within: 1e-9,
      source: ILLINOIS,
    },
    {
      what: 'efficiency at 6 lb/ft3',
      got: capacity.efficiencyGrainsPerLb(6),
      want: 3333,
      within: 0.5,
      source: '1,000 / 0.3',
    },
    {
      what: '8 lb/ft3',
      got: capacity.capacityGrainsPerCubicFoot(8),
      want: 23_000,
      within: 1_000,
      source: `22,000 to 24,000: ${HANDBOOK}`,
    },
    {
      what: '10 lb/ft3',
      got: capacity.capacityGrainsPerCubicFoot(10),
      want: 25_500,
      within: 1_500,
      source: `24,000 to 27,000: ${HANDBOOK}`,
    },
    {
      what: '15 lb/ft3',
      got: capacity.capacityGrainsPerCubicFoot(15),
      want: 30_000,
      within: 500,
      source: `about 30,000: ${HANDBOOK}`,
    },
    {
      what: '20 lb/ft3',
      got: capacity.capacityGrainsPerCubicFoot(20),
      want: 32_500,
      within: 500,
      source: `32,000 to 33,000: ${HANDBOOK}`,
    },
    {
      what: 'total, new gel resin at 1.9 eq/L',
      got: perCubicFoot(1.9),
      want: 41.55,
      source: `1.9 eq/L: ${HANDBOOK}`,
    },
    {
      what: 'total, new gel resin at 2.0 eq/L',
      got: perCubicFoot(2),
      want: 43.74,
      source: `2.0 eq/L: ${HANDBOOK}`,
    },
    {
      what: 'stoichiometric dose at 2.0 eq/L',
      got: (perCubicFoot(2) * 1_000) / stoichiometry.CEILING_GRAINS_PER_LB.NaCl,
      want: 7.3,
      source: COMPUTED,
    },
    {
      what: 'gross gallons of a cycle',
      got: gallonsPerCycle(bed),
      want: 1_000,
      within: 1e-6,
      source: EXAMPLE,
    },
    { what: 'days between regenerations', got: days, want: 3.17, source: `${EXAMPLE}, 240 gal held back` },
    { what: 'regenerations a year', got: 365 / days, want: 115.3, source: EXAMPLE },
    { what: 'salt a year, reserve wasted', got: (365 / days) * 6, want: 692, within: 0.5, source: EXAMPLE },
    {
      what: 'salt a year at 4,000 gr/lb',
      got: 365 * saltLbPerDay({ ...family, grainsPerLb: 4_000 }),
      want: 438,
      within: 1e-9,
      source: EXAMPLE,
    },
    {
      what: 'salt a day, 138 gal at 10 gpg',
      got: saltLbPerDay({ gallonsPerDay: 138, hardnessGpg: 10, grainsPerLb: 4_000 }),
      want: 0.345,
      within: 1e-9,
      source: '1,380 / 4,000',
    },
    {
      what: 'gallons of a 50 ft3 bed at 300 mg/L',
      got: gallonsPerCycle({ capacityGrains: 50 * 20_000, hardnessGpg: convert(300, 'mg/L', 'gpg') }),
      want: 57_060,
      within: 5,
      source: '1,000,000 / (300 / 17.11806)',
    },
  ],
  brine: [
    {
      what: 'saturation at 100 degrees, % by mass',
      got: brine.saltPercentFromSalometer(100),
      want: 26.395,
      source: '"The Salometer and How to Use It", salt-industry guide',
    },
    {
      what: '38 degrees (about 10 %), % by mass',
      got: brine.saltPercentFromSalometer(38),
      want: 10.03,
      source: '38 / 100 x 26.395, same guide',
    },
    {
      what: 'density, lb/gal',
      got: brine.BRINE_LB_PER_GALLON,
      want: 10.03,
      source: 'specific gravity 1.203, from memory, unverified',
    },
    {
      what: 'salt in a gallon of brine, lb',
      got: brine.SALT_LB_PER_GALLON_OF_BRINE,
      want: 2.65,
      source: '10.03 x 0.26395',
    },
    {
      what: 'salt to a gallon of water, lb',
      got: brine.SALT_LB_PER_GALLON_OF_WATER,
      want: 2.99,
      source: '8.338 x 0.26395 / 0.73605',
    },
    {
      what: 'brine from a gallon of water, gal',
      got: brine.BRINE_GALLONS_PER_GALLON_OF_WATER,
      want: 1.13,
      source: '(8.338 + 2.99) / 10.03',
    },
    {
      what: 'fill for 6 lb, gal',
      got: brine.fillGallonsForDose(6),
      want: 2,
      within: 0.05,
      source: '6 / 2.99',
    },
    {
      what: 'fill for 15 lb, gal',
      got: brine.fillGallonsForDose(15),
      want: 5,
      within: 0.05,
      source: '15 / 2.99',
    },
    {
      what: 'brine for 6 lb, gal',
      got: brine.brineGallonsForDose(6),
      want: 2.26,
      within: 0.01,
      source: '6 / 2.65',
    },
  ],
  chloride: [
    {
      what: 'per gpg at 4,000 gr/lb, mg/L',
      got: chlorideAt(4_000),
      want: 18.17,
      source: '0.606625 / 4000 x 453592.37 / 3.785412',
    },
    {
      what: 'per gpg at 3,350 gr/lb, mg/L',
      got: chlorideAt(3_350),
      want: 21.7,
      source: '0.606625 / 3350 x 453592.37 / 3.785412',
    },
    {
      what: 'per gpg at 2,000 gr/lb, mg/L',
      got: chlorideAt(2_000),
      want: 36.34,
      within: 0.01,
      source: '0.606625 / 2000 x 453592.37 / 3.785412',
    },
    { what: 'from 480 lb of NaCl, lb', got: chlorideLb(480), want: 291, source: '480 x 0.60663' },
  ],
};

/** Half of the last digit printed, and a little for the binary form of it. */
function halfLastDigit(printed: number): number {
  const decimals = String(printed).split('.')[1]?.length ?? 0;
  return 0.5 * 10 ** -decimals * (1 + 1e-9);
}

describe.each(Object.entries(CHECKS))('published and hand-worked figures: %s', (_, checks) => {
  it.each(checks)('$what = $want ($source)', ({ got, want, within = halfLastDigit(want) }) => {
    expect(Math.abs(got - want)).toBeLessThanOrEqual(within);
  });
});
