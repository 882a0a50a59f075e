import gammaCdf from '@stdlib/stats-base-dists-gamma-cdf';
import normalCdf from '@stdlib/stats-base-dists-normal-cdf';

/*
 * The gamma distribution of mean 1, given by its coefficient of variation. A fleet's history asks for it tens of
 * times a unit-day, so @stdlib's cdf is laid down once in a table. Its knots lie evenly in the coefficient of
 * variation and in the deviate of the square root, along which a gamma is nearly normal (Fisher; from memory,
 * unverified: it only places the knots, the tests hold the values to @stdlib).
 */
const CV_STEP = 0.05;
const CV_MAX = 1.5;
const ROWS = Math.round(CV_MAX / CV_STEP) + 1;
const Z_STEP = 0.1;
const Z_MAX = 4;
const COLUMNS = Math.round((2 * Z_MAX) / Z_STEP) + 1;

let table: Float64Array | undefined;

function build(): Float64Array {
  const cells = new Float64Array(ROWS * COLUMNS);
  for (let row = 0; row < ROWS; row++) {
    const cv = row * CV_STEP;
    for (let column = 0; column < COLUMNS; column++) {
      const z = column * Z_STEP - Z_MAX;
      cells[column * ROWS + row] = row === 0 ? normalCdf(z, 0, 1) : exactCdf(atDeviate(z, cv), cv);
    }
  }
  return cells;
}

function exactCdf(x: number, cv: number): number {
  const shape = 1 / (cv * cv);
  return gammaCdf(x, shape, shape);
}

function atDeviate(z: number, cv: number): number {
  return Math.max(1 - (cv * cv) / 8 + (z * cv) / 2, 0) ** 2;
}

/** Where a gamma of a mean and a coefficient of variation lies in the table: see `place`. */
export const PLACE_WIDTH = 4;

/**
 * Finds a gamma's place in the table, once for many questions, and writes it to `places` from `at` on.
 * `mean` > 0 in any unit; `cv` > 0, the coefficient of variation.
 */
export function place(places: Float64Array, at: number, mean: number, cv: number): void {
  // The column of x is slope * sqrt(x) + shift; the row is the same for all x.
  places[at] = 2 / (cv * Z_STEP * Math.sqrt(mean));
  places[at + 1] = (cv / 4 - 2 / cv + Z_MAX) / Z_STEP;
  places[at + 2] = cv / CV_STEP;
  places[at + 3] = mean;
}

/** P(X <= x) of the gamma placed there; `root` is the square root of x >= 0. */
export function placedCdf(places: Float64Array, at: number, root: number): number {
  const column = (places[at] as number) * root + (places[at + 1] as number);
  const rows = places[at + 2] as number;
  if (rows >= ROWS - 1) return exactCdf((root * root) / (places[at + 3] as number), rows * CV_STEP);
  if (!(column > 0 && root > 0)) return 0;
  if (column >= COLUMNS - 1) return 1;
  table ??= build();
  const left = Math.floor(column);
  const row = Math.floor(rows);
  const cell = left * ROWS + row;
  const share = rows - row;
  const below = (table[cell] as number) * (1 - share) + (table[cell + 1] as number) * share;
  const above = (table[cell + ROWS] as number) * (1 - share) + (table[cell + ROWS + 1] as number) * share;
  return below + (column - left) * (above - below);
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
  const column = (z + Z_MAX) / Z_STEP;
  if (!(column > 0)) return 0;
  if (column >= COLUMNS - 1) return 1;
  table ??= build();
  const left = Math.floor(column);
  const below = table[left * ROWS] as number;
  return below + (column - left) * ((table[(left + 1) * ROWS] as number) - below);
}

/** What lies beyond a point, for a gamma variable X of mean 1. */
export class UnitGammaTail {
  private readonly places = new Float64Array(2 * PLACE_WIDTH);

  constructor(cv: number) {
    place(this.places, 0, 1, cv);
    // Weighted by its size, a gamma is a gamma again, its shape greater by 1.
    place(this.places, PLACE_WIDTH, 1 + cv * cv, cv / Math.sqrt(1 + cv * cv));
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
  table ??= build();
  const rows = Math.min(cv / CV_STEP, ROWS - 1.001);
  const row = Math.floor(rows);
  const share = rows - row;
  let left = 0;
  let right = COLUMNS - 1;
  while (right - left > 1) {
    const middle = (left + right) >> 1;
    if (cell(table, row, middle, share) < p) left = middle;
    else right = middle;
  }
  const below = cell(table, row, left, share);
  const step = cell(table, row, right, share) - below;
  const within = step > 0 ? Math.min(Math.max((p - below) / step, 0), 1) : 0;
  return atDeviate((left + within) * Z_STEP - Z_MAX, cv);
}

/** The table between two rows. */
function cell(cells: Float64Array, row: number, column: number, share: number): number {
  const at = column * ROWS + row;
  const upper = cells[at] as number;
  return upper + share * ((cells[at + 1] as number) - upper);
}
