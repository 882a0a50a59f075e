import { SofteningError } from './errors.ts';

/** A smooth curve through given points, and the way back. */
export interface ConcaveCurve {
  /** The height at x, for x between the first and the last point. */
  readonly at: (x: number) => number;
  /** The x at which the curve has the height y, for y between the first and the last point. */
  readonly inverseAt: (y: number) => number;
}

/** A point the curve goes through. */
type Point = readonly [x: number, y: number];

/** From x on, until the next piece: y + slope * dx + bend * dx². */
interface Piece {
  readonly x: number;
  readonly y: number;
  readonly slope: number;
  readonly bend: number;
}

/**
 * Draws a curve that rises and flattens wherever its points do: Schumaker's shape-preserving quadratic spline
 * (SIAM J. Numer. Anal. 20(4), 1983, pp. 854-864). Between two points it is two parabolas. They join where the
 * tangents at the points cross, and there the curve runs parallel to the chord; so its slope falls all the way,
 * and its inverse is the root of a quadratic.
 *
 * Takes at least three [x, y], ascending in both; throws `curve-not-concave` unless each chord is less steep than
 * the one before it.
 */
export function concaveCurve(points: readonly Point[]): ConcaveCurve {
  const chords = chordsOf(points);
  const pieces = chords.flatMap((chord, i): Piece[] => {
    const { x, y, width, slope } = chord;
    const before = chords[i - 1];
    const after = chords[i + 1];
    const left = before ? tangentSlope(before, chord) : endSlope(chord, after ?? chord);
    const right = after ? tangentSlope(chord, after) : Math.max(0, endSlope(chord, before ?? chord));
    if (!(left > slope && slope > right)) {
      throw new SofteningError(
        'curve-not-concave',
        slope,
        `the points from x = ${x} on do not rise and flatten`,
      );
    }
    const knot = (width * (slope - right)) / (left - right);
    return [
      { x, y, slope: left, bend: (slope - left) / (2 * knot) },
      {
        x: x + knot,
        y: y + (knot * (left + slope)) / 2,
        slope,
        bend: (right - slope) / (2 * (width - knot)),
      },
    ];
  });
  const [start] = pieces;
  if (!start)
    throw new SofteningError('curve-not-concave', points.length, 'a curve needs three points or more');

  return {
    at(x) {
      const piece = pieces.findLast((each) => each.x <= x) ?? start;
      const dx = x - piece.x;
      return piece.y + dx * (piece.slope + dx * piece.bend);
    },
    inverseAt(y) {
      const piece = pieces.findLast((each) => each.y <= y) ?? start;
      const dy = y - piece.y;
      // The root in the form that does not cancel; where the curve levels off, rounding may dip below 0.
      const slopeThere = Math.sqrt(Math.max(0, piece.slope ** 2 + 4 * piece.bend * dy));
      return piece.x + (2 * dy) / (piece.slope + slopeThere);
    },
  };
}

/** The straight line from a point to the next. */
interface Chord {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly slope: number;
}

function chordsOf(points: readonly Point[]): Chord[] {
  const chords: Chord[] = [];
  let from: Point | undefined;
  for (const to of points) {
    if (from) {
      const [x, y] = from;
      const width = to[0] - x;
      chords.push({ x, y, width, slope: (to[1] - y) / width });
    }
    from = to;
  }
  return chords;
}

/** The slope at a point between two chords: their harmonic mean, weighted by width (Fritsch and Butland, as in PCHIP). */
function tangentSlope(a: Chord, b: Chord): number {
  const weightA = a.width + 2 * b.width;
  const weightB = 2 * a.width + b.width;
  return (weightA + weightB) / (weightA / a.slope + weightB / b.slope);
}

/** The slope at an end: that of the parabola through the three points nearest it. */
function endSlope(last: Chord, next: Chord): number {
  return last.slope + ((last.slope - next.slope) * last.width) / (last.width + next.width);
}
