import { plot } from '@observablehq/plot';
import { type ReactNode, useLayoutEffect, useMemo, useRef, useState } from 'react';
import { useLikings } from '../show/Likings.tsx';
import type { Draw, FigureTable, Reading } from './drawing.ts';
import styles from './Figure.module.css';
import { FigureTableView } from './FigureTableView.tsx';
import { nearest } from './nearest.ts';
import { ReadingCursor } from './ReadingCursor.tsx';
import { useWidth } from './useWidth.ts';

interface FigureProps {
  readonly title: string;
  /** What it shows in a sentence or two, for whoever does not see it. */
  readonly summary: string;
  readonly legend: ReactNode;
  readonly draw: Draw;
  readonly readings: readonly Reading[];
  readonly table: () => FigureTable;
  /** Where the cursor stands, in the axis's numbers; several figures may share it. */
  readonly cursor: number | undefined;
  readonly onCursor: (at: number | undefined) => void;
}

/** Where the drawing has its axes, pixels, and where on it a reading stands. */
interface Drawn {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
  readonly x: (at: number) => number;
}

const NARROW_PX = 560;

/**
 * A drawing that can be read: with a pointer, with arrow keys, and as a table. The drawing itself is one picture to a
 * screen reader; the values are read by the cursor, which is a slider to it.
 */
export function Figure({ title, summary, legend, draw, readings, table, cursor, onCursor }: FigureProps) {
  const likings = useLikings();
  const [ref, width] = useWidth();
  const picture = useRef<HTMLDivElement>(null);
  const [drawn, setDrawn] = useState<Drawn>();
  const [isTable, setTable] = useState(false);
  const words = cursor === undefined ? undefined : readings[nearest(readings, cursor)]?.words;
  const options = useMemo(
    () => (width > 0 ? { width, ...draw({ width, isNarrow: width < NARROW_PX, likings }) } : undefined),
    [draw, width, likings],
  );
  useLayoutEffect(() => {
    if (!options) return;
    const chart = plot(options);
    chart.setAttribute('aria-hidden', 'true');
    picture.current?.replaceChildren(chart);
    const scale = chart.scale('x');
    const { marginLeft = 40, marginRight = 20, marginTop = 20, marginBottom = 30 } = options;
    setDrawn({
      left: marginLeft,
      right: marginRight,
      top: marginTop,
      bottom: marginBottom,
      x: (at) => Number(scale?.apply(at) ?? 0) - marginLeft,
    });
  }, [options]);
  return (
    <figure className={styles.figure}>
      <figcaption className={styles.head}>
        <h3 className={styles.title}>{title}</h3>
        <button
          type="button"
          className={styles.toggle}
          aria-expanded={isTable}
          onClick={() => setTable(!isTable)}
        >
          {isTable ? 'Hide the table' : 'Show as a table'}
          <span className="hidden">: {title}</span>
        </button>
      </figcaption>
      {legend}
      <p className={styles.reading} aria-hidden="true">
        {words ?? <span className="soft">Point here, or press ← and →, to read values.</span>}
      </p>
      <div ref={ref} className={styles.place}>
        <div ref={picture} className={styles.drawing} role="img" aria-label={`${title}. ${summary}`} />
        {drawn && readings.length > 0 && (
          <ReadingCursor
            label={`${title}: read the values with the arrow keys`}
            frame={drawn}
            readings={readings}
            cursor={cursor}
            onCursor={onCursor}
          />
        )}
      </div>
      {isTable && <FigureTableView title={title} table={table()} />}
    </figure>
  );
}
