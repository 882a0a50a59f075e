import { type KeyboardEvent, type PointerEvent, useMemo } from 'react';
import type { Reading } from './drawing.ts';
import styles from './Figure.module.css';
import { nearest } from './nearest.ts';

interface ReadingCursorProps {
  readonly label: string;
  readonly frame: {
    readonly left: number;
    readonly right: number;
    readonly top: number;
    readonly bottom: number;
    /** Pixels from the left of the axes. */
    readonly x: (at: number) => number;
  };
  readonly readings: readonly Reading[];
  readonly cursor: number | undefined;
  readonly onCursor: (at: number | undefined) => void;
}

/** How far a page key goes, in readings. */
const A_PAGE = 7;

/** A line over the drawing that arrow keys and pointers move from reading to reading. */
export function ReadingCursor({ label, frame, readings, cursor, onCursor }: ReadingCursorProps) {
  const places = useMemo(() => readings.map(({ at }) => frame.x(at)), [readings, frame]);
  const last = readings.length - 1;
  const index = cursor === undefined ? undefined : nearest(readings, cursor);
  const reading = index === undefined ? undefined : readings[index];
  const onKeyDown = (event: KeyboardEvent) => {
    if (event.key === 'Escape') return onCursor(undefined);
    const next = nextIndex(event.key, index ?? last + 1, last);
    if (next === undefined) return;
    event.preventDefault();
    onCursor(readings[next]?.at);
  };
  const onPointer = ({ currentTarget, clientX }: PointerEvent) => {
    const x = clientX - currentTarget.getBoundingClientRect().left;
    onCursor(readings[nearestPlace(places, x)]?.at);
  };
  return (
    <div
      className={styles.cursor}
      style={{ left: frame.left, right: frame.right, top: frame.top, bottom: frame.bottom }}
      role="slider"
      tabIndex={0}
      aria-label={label}
      aria-valuemin={0}
      aria-valuemax={last}
      aria-valuenow={index ?? last}
      aria-valuetext={reading?.words ?? 'Nothing chosen yet'}
      onKeyDown={onKeyDown}
      onPointerMove={onPointer}
      onPointerDown={onPointer}
    >
      {index !== undefined && <div className={styles.line} style={{ left: places[index] }} />}
    </div>
  );
}

function nextIndex(key: string, index: number, last: number): number | undefined {
  const steps: Readonly<Record<string, number>> = {
    ArrowRight: index + 1,
    ArrowUp: index + 1,
    ArrowLeft: index - 1,
    ArrowDown: index - 1,
    PageUp: index + A_PAGE,
    PageDown: index - A_PAGE,
    Home: 0,
    End: last,
  };
  const next = steps[key];
  return next === undefined ? undefined : Math.min(Math.max(next, 0), last);
}

/** Pixels need not rise with the readings: a trade-off goes back and forth. */
function nearestPlace(places: readonly number[], x: number): number {
  let best = 0;
  for (const [index, place] of places.entries()) {
    if (Math.abs(place - x) < Math.abs((places[best] ?? 0) - x)) best = index;
  }
  return best;
}
