import { type Drawing, drawingOf, type Mark } from '../../lib/brief/chart/drawing.ts';
import { LOOKS } from '../../lib/brief/chart/look.ts';
import { inUnits, type UnitSystem } from '../../lib/brief/inUnits.ts';
import { TEXT_SIZE, TRIANGLE } from '../../lib/chart/look.ts';
import type { Brief } from '../unit/types.ts';
import styles from './BriefChart.module.css';

interface BriefChartProps {
  readonly chart: Brief['chart'];
  readonly system: UnitSystem;
}

/** The one chart of a brief, the same picture as on paper; it needs nothing that would have to be loaded. */
export function BriefChart({ chart, system }: BriefChartProps) {
  const { width, height, title, description, marks }: Drawing = drawingOf(chart, inUnits(system));
  return (
    <svg
      className={styles.chart}
      viewBox={`0 0 ${width} ${height}`}
      role="img"
      aria-label={`${title}. ${description}`}
      fontSize={TEXT_SIZE}
    >
      {marks.map((mark, index) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: a drawing is drawn anew, its marks never move.
        <Drawn key={index} mark={mark} />
      ))}
    </svg>
  );
}

function Drawn({ mark }: { mark: Mark }) {
  if (mark.kind === 'text') {
    const { x, y, anchor, bold, text } = mark;
    return (
      <text x={x} y={y} textAnchor={anchor} fontWeight={bold ? 600 : 400}>
        {text}
      </text>
    );
  }
  const { width, dash } = LOOKS[mark.style];
  const look = { className: styles[mark.style], strokeWidth: width, strokeDasharray: dash?.join(' ') };
  switch (mark.kind) {
    case 'rect':
      return <rect x={mark.x} y={mark.y} width={mark.width} height={mark.height} {...look} />;
    case 'path':
      return (
        <polyline points={mark.points.map((point) => point.join(',')).join(' ')} fill="none" {...look} />
      );
    case 'triangle': {
      const { x, y } = mark;
      const base = y + TRIANGLE.height;
      return (
        <polygon points={`${x},${y} ${x + TRIANGLE.half},${base} ${x - TRIANGLE.half},${base}`} {...look} />
      );
    }
  }
}
