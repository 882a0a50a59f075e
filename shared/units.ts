/**
 * The physical constants and conversion factors of water softening. Pure numbers: what is defined exactly is
 * kept exact and everything else is computed from it, so nothing here is rounded.
 *
 * Sources: grain, pound, inch and gallon from the UCUM essence file (ucum-org/ucum, 2024); they are exact by
 * definition. Molar masses in g/mol from the standard atomic weights.
 */

/** Milligrams in a grain (UCUM `[gr]`, exact). */
export const MG_PER_GRAIN = 64.79891;

/** Grams in a grain (exact). */
export const GRAMS_PER_GRAIN = MG_PER_GRAIN / 1_000;

/** Grains in an avoirdupois pound (UCUM `[lb_av]`, exact). */
export const GRAINS_PER_LB = 7_000;

/** Kilograms in an avoirdupois pound: 7,000 grains, 0.45359237 kg (exact). */
export const KG_PER_LB = 0.45359237;

/** Litres in a US gallon: 231 cubic inches of 2.54 cm (UCUM `[gal_us]`, exact). */
export const LITRES_PER_GALLON = 3.785411784;

/** US gallons in a cubic metre. */
export const GALLONS_PER_CUBIC_METRE = 1_000 / LITRES_PER_GALLON;

/** Litres in a cubic foot (UCUM `[cft_i]`): 1,728 cubic inches of 2.54 cm (exact). */
export const LITRES_PER_CUBIC_FOOT = 28.316846592;

/** Litres in an imperial gallon, in which the Clark degree counts a grain (UCUM `[gal_br]`, exact). */
export const LITRES_PER_IMPERIAL_GALLON = 4.54609;

/** Molar mass of calcium carbonate, in which hardness is counted, g/mol. */
const CACO3_GRAMS_PER_MOL = 100.0869;

/** Grams of calcium carbonate to one equivalent of exchange: calcium carries two charges. */
export const CACO3_GRAMS_PER_EQUIVALENT = CACO3_GRAMS_PER_MOL / 2;

/** Molar mass of sodium chloride, g/mol. */
export const NACL_GRAMS_PER_MOL = 58.443;

/** Molar mass of potassium chloride, g/mol. */
export const KCL_GRAMS_PER_MOL = 74.551;

/** Molar mass of sodium, g/mol. */
export const NA_GRAMS_PER_MOL = 22.98977;

/** Molar mass of potassium, g/mol. */
export const K_GRAMS_PER_MOL = 39.0983;

/** Molar mass of chlorine, g/mol. */
export const CL_GRAMS_PER_MOL = 35.453;

/** Molar mass of iron, g/mol. */
export const FE_GRAMS_PER_MOL = 55.845;

/** Molar mass of calcium oxide, in which the German degree counts hardness, g/mol. */
export const CAO_GRAMS_PER_MOL = 56.0774;

/** mg/L in one grain per US gallon (gpg): 17.11806, often printed as 17.1. */
export const MG_PER_L_PER_GPG = MG_PER_GRAIN / LITRES_PER_GALLON;

/** mg/L as calcium carbonate in 1 mmol/L of calcium and magnesium, or of any other ion with two charges: 100.0869. */
export const MG_PER_L_CACO3_PER_MMOL_PER_L = CACO3_GRAMS_PER_MOL;
