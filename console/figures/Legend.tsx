import styles from './Legend.module.css';

/** How a thing is drawn: each differs from all others by shape or dashes, not by colour alone. */
export type Sign =
  | 'bar'
  | 'line'
  | 'dashed'
  | 'fan'
  | 'hard'
  | 'missing'
  | 'drew'
  | 'did-not'
  | 'unsure'
  | 'exhaustion'
  | 'next'
  | 'measured'
  | 'inferred'
  | 'dose'
  | 'today-settings'
  | 'advised-settings'
  | 'frontier'
  | 'limit'
  | 'urgent'
  | 'soon'
  | 'routine'
  | 'visit-made'
  | 'visit-planned';

interface LegendProps {
  readonly items: readonly (readonly [Sign, string])[];
}

export function Legend({ items }: LegendProps) {
  return (
    <ul className={styles.legend}>
      {items.map(([sign, words]) => (
        <li key={sign}>
          <svg viewBox="0 0 24 14" width="24" height="14" aria-hidden="true">
            {SIGNS[sign]}
          </svg>
          {words}
        </li>
      ))}
    </ul>
  );
}

const triangle = 'M12 1.5 18 12.5H6Z';

const SIGNS = {
  bar: <rect x="9" y="2" width="6" height="12" fill="var(--accent)" />,
  line: <path d="M1 7H23" stroke="var(--accent)" strokeWidth="2.5" />,
  dashed: <path d="M1 7H23" stroke="var(--soon)" strokeWidth="2" strokeDasharray="5,3" />,
  fan: (
    <>
      <path d="M1 5 23 1V13L1 9Z" fill="var(--accent)" fillOpacity=".22" />
      <path d="M1 7H23" stroke="var(--accent)" strokeWidth="2" strokeDasharray="1.5,3" />
    </>
  ),
  hard: (
    <>
      <rect width="24" height="14" fill="var(--urgent-soft)" />
      <path d="M0 12H24" stroke="var(--urgent)" strokeWidth="4" />
    </>
  ),
  missing: <rect width="24" height="14" fill="url(#figure-hatch)" />,
  drew: <path d={triangle} fill="var(--ink)" />,
  'did-not': <path d="M7 2 17 12M17 2 7 12" stroke="var(--urgent)" strokeWidth="2.5" />,
  unsure: <circle cx="12" cy="7" r="4.6" fill="var(--panel)" stroke="var(--ink)" strokeWidth="1.8" />,
  exhaustion: (
    <>
      <path d="M2 7H22" stroke="var(--urgent)" strokeWidth="3" />
      <path d="M12 1 17 7 12 13 7 7Z" fill="var(--urgent)" />
    </>
  ),
  next: (
    <>
      <path d="M2 7H22" stroke="var(--ink)" strokeWidth="3" strokeDasharray="4,2" />
      <path d="M12 1 17 7 12 13 7 7Z" fill="var(--ink)" />
    </>
  ),
  measured: (
    <>
      <path d="M12 14V5" stroke="var(--accent)" strokeWidth="2" />
      <circle cx="12" cy="5" r="4.2" fill="var(--accent)" />
    </>
  ),
  inferred: (
    <>
      <path d="M12 14V7" stroke="var(--accent)" strokeWidth="1.5" strokeDasharray="2,2" />
      <circle cx="12" cy="5" r="3.6" fill="var(--panel)" stroke="var(--accent)" strokeWidth="1.8" />
    </>
  ),
  dose: <path d="M1 7H23" stroke="var(--ink-soft)" strokeWidth="1.5" strokeDasharray="6,3" />,
  'today-settings': <path d="M12 1 18 7 12 13 6 7Z" fill="var(--soon)" />,
  'advised-settings': <path d={triangle} fill="var(--good)" />,
  frontier: <circle cx="12" cy="7" r="3.4" fill="var(--panel)" stroke="var(--accent)" strokeWidth="1.6" />,
  limit: <path d="M1 7H23" stroke="var(--urgent)" strokeWidth="1.5" strokeDasharray="6,3" />,
  urgent: <path d={triangle} fill="var(--urgent)" />,
  soon: <circle cx="12" cy="7" r="5" fill="var(--soon)" />,
  routine: <circle cx="12" cy="7" r="4.4" fill="none" stroke="var(--routine)" strokeWidth="1.6" />,
  'visit-made': <path d="M12 1 17 7 12 13 7 7Z" fill="var(--good)" />,
  'visit-planned': (
    <path d="M12 1.5 16.5 7 12 12.5 7.5 7Z" fill="none" stroke="var(--good)" strokeWidth="1.8" />
  ),
} as const satisfies Record<Sign, React.ReactNode>;
