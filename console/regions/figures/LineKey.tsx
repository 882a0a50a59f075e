import { dot, line, plot } from '@observablehq/plot';
import { useLayoutEffect, useRef } from 'react';
import styles from './Key.module.css';
import { type LineLook, lineLook } from './lineLooks.ts';

interface LineKeyProps {
  readonly names: readonly string[];
  readonly hasParts: boolean;
}

/** Which line is whose. */
export function LineKey({ names, hasParts }: LineKeyProps) {
  return (
    <ul className={styles.key}>
      {names.map((name, index) => (
        <li key={name}>
          <Sample look={lineLook(index)} />
          {name}
        </li>
      ))}
      {hasParts && <li>An empty mark is not of the whole month.</li>}
    </ul>
  );
}

/** Drawn by what draws the figure, so that both look the same. */
function Sample({ look: { stroke, symbol, dashes } }: { look: LineLook }) {
  const ref = useRef<HTMLSpanElement>(null);
  useLayoutEffect(() => {
    const sample = plot({
      width: 38,
      height: 16,
      margin: 0,
      x: { domain: [0, 2], axis: null },
      y: { domain: [-1, 1], axis: null },
      marks: [
        line([0, 2], { x: (at: number) => at, y: () => 0, stroke, strokeWidth: 2, strokeDasharray: dashes }),
        dot([1], { x: (at: number) => at, y: () => 0, symbol, r: 4.5, stroke, fill: stroke }),
      ],
    });
    ref.current?.replaceChildren(sample);
  }, [stroke, symbol, dashes]);
  return <span ref={ref} aria-hidden="true" />;
}
