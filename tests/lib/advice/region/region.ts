import type { Imagined } from '../../../../lib/advice/region/imagined.ts';
import { regionsWhatIf } from '../../../../lib/advice/region/regionsWhatIf.ts';
import { unitWhatIf } from '../../../../lib/advice/region/unitWhatIf.ts';
import { regenerationWater } from '../../../../lib/advice/settings/regenerationWater.ts';
import { newUnitState } from '../../../../lib/unit/state.ts';
import { rulesSchema } from '../../../../lib/watch/rules.ts';
import { unitRecordSchema } from '../../../../shared/registry.ts';
import { toUnit } from '../../../../shared/toUnit.ts';
import { unitRecord } from '../../../support/fleet.ts';
import { useOf } from '../settings/plain.ts';

const rules = rulesSchema.parse({});

interface Home {
  /** ft3. */
  readonly resin: number;
  /** gpg, and so it is set. */
  readonly hardness: number;
  readonly gallons: readonly number[];
}

/** What a region of such homes is told, whose single beds are all at 9 lb a cubic foot, and set to 20,000 grains for each. */
export function regionOf(homes: readonly Home[], imagined: Imagined) {
  const asked = homes.map(({ resin, hardness, gallons }) => {
    const record = unitRecord({
      resin: { value: resin, unit: '[cft_i]' },
      saltDose: { value: 9 * resin, unit: '[lb_av]' },
      hardness: { value: hardness, unit: '[gr]/[gal_us]' },
      iron: undefined,
      arrangement: 'single',
      programmed: {
        hardness: { value: hardness, unit: '[gr]/[gal_us]' },
        capacity: { value: 20_000 * resin, unit: '[gr]' },
        regenerationHour: 2,
      },
    });
    const unit = toUnit(unitRecordSchema().parse(record));
    const state = newUnitState(unit, rules.fold);
    const { resinCubicFeet, alternating } = unit;
    const replay = {
      site: { resinCubicFeet, alternating, compensatedHardnessGpg: state.compensatedHardnessGpg },
      use: useOf(gallons),
      water: regenerationWater([], state.bed.saltDoseLb, resinCubicFeet),
    };
    const answer = unitWhatIf(unit, { state, replay }, imagined, rules['setting-mismatch']);
    return { region: 'alder-county', lastYear: undefined, answer };
  });
  return regionsWhatIf(asked, rules.salt);
}
