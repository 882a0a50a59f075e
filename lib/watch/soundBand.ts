import normalCdf from '@stdlib/stats-base-dists-normal-cdf';

/**
 * Where the logarithm of a sound setting lies: anywhere from `low` to `high`, blurred at both ends by `spread`. A wrong
 * one lies about the middle of that, as a normal of the spread that it is given.
 */
export interface SoundBand {
  readonly low: number;
  readonly high: number;
  readonly spread: number;
}

/** No band is narrower: settings are whole numbers. */
const NARROWEST = 0.02;
/** Far out both kinds vanish; there a setting is wrong. */
const VANISHING = 1e-12;

/** How much denser wrong settings lie at a place than sound ones. */
export function wrongRatio(at: number, band: SoundBand, wrongSpread: number): number {
  const { low, high } = widened(band);
  const z = (at - (low + high) / 2) / wrongSpread;
  const wrong = Math.exp(-0.5 * z * z) / (wrongSpread * Math.sqrt(2 * Math.PI));
  const sound = (cdf(at - low, band) - cdf(at - high, band)) / (high - low);
  return (wrong + VANISHING) / Math.max(sound, VANISHING);
}

/** The same for a setting of which no more is known than that it lies from `from` to `to`. */
export function wrongRatioWithin(from: number, to: number, band: SoundBand, wrongSpread: number): number {
  if (to - from < 1e-6) return wrongRatio(from, band, wrongSpread);
  const { low, high } = widened(band);
  const middle = (low + high) / 2;
  const wrong = normalCdf(to, middle, wrongSpread) - normalCdf(from, middle, wrongSpread);
  const sound = (area(to, low, high, band) - area(from, low, high, band)) / (high - low);
  return (wrong + VANISHING) / Math.max(sound, VANISHING);
}

function widened({ low, high }: SoundBand) {
  const lack = Math.max(0, NARROWEST - (high - low)) / 2;
  return { low: low - lack, high: high + lack };
}

function cdf(x: number, { spread }: SoundBand): number {
  return normalCdf(x, 0, spread);
}

/** Integral of the blurred band up to a place: that of a normal's distribution is x Φ(x) + φ(x). */
function area(at: number, low: number, high: number, { spread }: SoundBand): number {
  const integral = (x: number) => {
    const z = x / spread;
    return spread * (z * normalCdf(z, 0, 1) + Math.exp(-0.5 * z * z) / Math.sqrt(2 * Math.PI));
  };
  return integral(at - low) - integral(at - high);
}
