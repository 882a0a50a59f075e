import {
  GALLONS_PER_CUBIC_METRE,
  GRAMS_PER_GRAIN,
  KG_PER_LB,
  LITRES_PER_GALLON,
  MG_PER_L_PER_GPG,
} from '../../shared/units.ts';
import type { Likings } from './Likings.tsx';

type How = Pick<Likings, 'units' | 'locale'>;

interface Quantity {
  readonly us: string;
  readonly metric: string;
  /** What one of ours is in the metric unit. */
  readonly factor: number;
}

/** What is measured, and the units in which the trade counts it. The API speaks US units throughout. */
const QUANTITIES = {
  gallons: { us: 'gal', metric: 'L', factor: LITRES_PER_GALLON },
  /** Water of many households together. */
  bulkGallons: { us: 'gal', metric: 'm³', factor: 1 / GALLONS_PER_CUBIC_METRE },
  lb: { us: 'lb', metric: 'kg', factor: KG_PER_LB },
  /** Exchange capacity, as calcium carbonate. */
  grains: { us: 'grains', metric: 'g', factor: GRAMS_PER_GRAIN },
  /** Hardness, as calcium carbonate. */
  gpg: { us: 'gpg', metric: 'mg/L', factor: MG_PER_L_PER_GPG },
  /** How much hardness a weight of salt takes out. */
  grainsPerLb: { us: 'grains/lb', metric: 'g/kg', factor: GRAMS_PER_GRAIN / KG_PER_LB },
} as const satisfies Record<string, Quantity>;

export type QuantityName = keyof typeof QUANTITIES;

/** Such as `1,234 gal` or `4,671 L`. `value` is in US units. */
export function amount(value: number, of: QuantityName, how: How): string {
  return `${count(convert(value, of, how), how)}\u00a0${unitOf(of, how)}`;
}

/** The number alone, in the units that are liked: for axes and fields. */
export function convert(value: number, of: QuantityName, { units }: Pick<How, 'units'>): number {
  return units === 'us' ? value : value * QUANTITIES[of].factor;
}

/** Back from the units that are liked to those of the API. */
export function convertBack(value: number, of: QuantityName, { units }: Pick<How, 'units'>): number {
  return units === 'us' ? value : value / QUANTITIES[of].factor;
}

export function unitOf(of: QuantityName, { units }: Pick<How, 'units'>): string {
  return QUANTITIES[of][units];
}

/** A number with as many digits as matter: none after the point from 100 on, one from 10, two below. */
export function count(value: number, { locale }: Pick<How, 'locale'>): string {
  const size = Math.abs(value);
  const maximumFractionDigits = size >= 100 ? 0 : size >= 10 ? 1 : 2;
  return numberFormat(locale, { maximumFractionDigits }).format(value);
}

/** A number without a fraction. */
export function whole(value: number, { locale }: Pick<How, 'locale'>): string {
  return numberFormat(locale, { maximumFractionDigits: 0 }).format(value);
}

/** A share from 0 to 1, as whole percent; never 0 % or 100 % of what is not quite so. */
export function percent(share: number, { locale }: Pick<How, 'locale'>): string {
  const near = share > 0 && share < 0.01 ? 0.01 : share < 1 && share > 0.99 ? 0.99 : share;
  return numberFormat(locale, { style: 'percent' }).format(near);
}

const formats = new Map<string, Intl.NumberFormat>();

/** A format of numbers; to make one takes a hundred times longer than to use it. */
export function numberFormat(locale: string, options: Intl.NumberFormatOptions): Intl.NumberFormat {
  const key = `${locale} ${JSON.stringify(options)}`;
  const format = formats.get(key) ?? new Intl.NumberFormat(locale, options);
  formats.set(key, format);
  return format;
}
