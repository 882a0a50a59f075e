import gammaCdf from '@stdlib/stats-base-dists-gamma-cdf';
import cells from './gammaTable.json';

/*
 * The gamma distribution of mean 1, given by its coefficient of variation. A fleet's history asks for it tens of
 * times a unit-day, so @stdlib's cdf is laid down in a table, and that in a file: to work it out takes 25 ms, which is much of
 * the start of a function. The test of it holds it to @stdlib, and writes it anew with `--update`. Its knots lie evenly in the coefficient of
 * variation and in the deviate of the square root, along which a gamma is nearly normal (Fisher; from memory,
 * unverified: it only places the knots, the tests hold the values to @stdlib).
 */
export const ROWS_A_UNIT = 20;
const CV_MAX = 1.5;
export const ROWS = Math.round(CV_MAX * ROWS_A_UNIT) + 1;
export const COLUMNS_A_DEVIATION = 10;
export const Z_MAX = 4;
export const COLUMNS = Math.round(2 * Z_MAX * COLUMNS_A_DEVIATION) + 1;

const table = Float64Array.from(cells.flat());

/** P(X <= x) by @stdlib. */
export function exactCdf(x: number, cv: number): number {
  const shape = 1 / (cv * cv);
  return gammaCdf(x, shape, shape);
}

/** Where a deviate of the square root stands. */
export function atDeviate(z: number, cv: number): number {
  const root = Math.max(1 - (cv * cv) / 8 + (z * cv) / 2, 0);
  return root * root;
}

/** Where a gamma of a mean and a standard deviation lies in the table: see `place`. */
export const PLACE_WIDTH = 5;

/**
 * Finds a gamma's place in the table, once for many questions, and writes it to `places` from `at` on: `mean` and
 * `deviation` above 0, in one unit.
 */
export function place(places: Float64Array, at: number, mean: number, deviation: number): void {
  // One division for both: it is done for tens of gammas a unit-day.
  const both = 1 / (mean * deviation);
  const inverse = both * mean;
  const cv = both * deviation * deviation;
  // The column of x is slope * sqrt(x) + shift; the row, and how far it is from there to the next, are the same for all x.
  places[at] = 2 * COLUMNS_A_DEVIATION * Math.sqrt(mean) * inverse;
  places[at + 1] = (cv / 4 - 2 * mean * inverse + Z_MAX) * COLUMNS_A_DEVIATION;
  const rows = cv * ROWS_A_UNIT;
  const row = Math.floor(rows);
  places[at + 2] = row;
  places[at + 3] = rows - row;
  places[at + 4] = mean;
}

/** P(X <= x) of the gamma placed there; `root` is the square root of x >= 0. */
export function placedCdf(places: Float64Array, at: number, root: number): number {
  const row = (places[at + 2] as number) | 0;
  const share = places[at + 3] as number;
  if (row >= ROWS - 1)
    return exactCdf((root * root) / (places[at + 4] as number), (row + share) / ROWS_A_UNIT);
  const column = (places[at] as number) * root + (places[at + 1] as number);
  if (!(column > 0 && root > 0)) return 0;
  if (column >= COLUMNS - 1) return 1;
  const left = column | 0;
  const cell = left * ROWS + row;
  const below = between(cell, share);
  return below + (column - left) * (between(cell + ROWS, share) - below);
}

/** The table between a cell and that of the next row. */
function between(cell: number, share: number): number {
  const upper = table[cell] as number;
  return upper + share * ((table[cell + 1] as number) - upper);
}

/**
 * P(X <= x) of a gamma variable of mean 1 and coefficient of variation `cv` > 0. Within 0.001 of @stdlib's from a `cv`
 * of 0.05 to 1, and within 0.01 beyond. Below, the table goes to the normal, while @stdlib's own is off by up to 0.05
 * (at a `cv` of 0.03, x of 0.9553: 0.0186, where the Wilson-Hilferty approximation gives 0.0664).
 */
export function unitGammaCdf(x: number, cv: number): number {
  place(unit, 0, 1, cv);
  return placedCdf(unit, 0, Math.sqrt(x));
}

const unit = new Float64Array(PLACE_WIDTH);

/** P(Z <= z) of a standard normal variable, which is where the gamma goes as its coefficient of variation falls. */
export function normalProbability(z: number): number {
  const column = (z + Z_MAX) * COLUMNS_A_DEVIATION;
  if (!(column > 0)) return 0;
  if (column >= COLUMNS - 1) return 1;
  const left = Math.floor(column);
  const below = table[left * ROWS] as number;
  return below + (column - left) * ((table[(left + 1) * ROWS] as number) - below);
}

/** What lies beyond a point, for a gamma variable X of mean 1: of the coefficient of variation last told. */
export class UnitGammaTail {
  private readonly places = new Float64Array(2 * PLACE_WIDTH);

  /** @param cv coefficient of variation, above 0 */
  begin(cv: number): void {
    place(this.places, 0, 1, cv);
    // Weighted by its size, a gamma is a gamma again, its shape greater by 1.
    place(this.places, PLACE_WIDTH, 1 + cv * cv, cv * Math.sqrt(1 + cv * cv));
  }

  /** P(X > x). */
  probability(x: number): number {
    return 1 - placedCdf(this.places, 0, Math.sqrt(x));
  }

  /** E max(X - x, 0). */
  excess(x: number): number {
    const root = Math.sqrt(x);
    return 1 - placedCdf(this.places, PLACE_WIDTH, root) - x * (1 - placedCdf(this.places, 0, root));
  }
}

/** The x that such a variable stays below with probability `p` (0 to 1). `cv` beyond 1.5 counts as 1.5. */
export function unitGammaQuantile(p: number, cv: number): number {
  const rows = Math.min(cv * ROWS_A_UNIT, ROWS - 1.001);
  const row = Math.floor(rows);
  const share = rows - row;
  let left = 0;
  let right = COLUMNS - 1;
  while (right - left > 1) {
    const middle = (left + right) >> 1;
    if (between(middle * ROWS + row, share) < p) left = middle;
    else right = middle;
  }
  const below = between(left * ROWS + row, share);
  const step = between(right * ROWS + row, share) - below;
  const within = step > 0 ? Math.min(Math.max((p - below) / step, 0), 1) : 0;
  return atDeviate((left + within) / COLUMNS_A_DEVIATION - Z_MAX, cv);
}
