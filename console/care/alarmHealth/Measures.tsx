import type { MeasureName } from '../../../lib/alarms/targets.ts';
import { DataTable } from '../../show/DataTable.tsx';
import { useLikings } from '../../show/Likings.tsx';
import styles from './AlarmHealthPage.module.css';
import { Met, type Verdict } from './Met.tsx';
import { MEASURE_WORDS, measured } from './measureWords.ts';
import type { Health } from './query.ts';

type Measure = NonNullable<Health['measures'][MeasureName]>;
type Row = Measure & { readonly name: MeasureName };

/** Each figure beside the target that is published for it. */
export function Measures({ measures }: Pick<Health, 'measures'>) {
  const likings = useLikings();
  return (
    <DataTable
      caption="As if all alerts went to one person. Targets are met at or below the value."
      columns={[
        {
          header: 'Measure',
          cell: ({ name }) => (
            <>
              {MEASURE_WORDS[name].label}
              <span className={`soft small ${styles.about}`}>{MEASURE_WORDS[name].about}</span>
            </>
          ),
        },
        { header: 'Here', isNumber: true, cell: ({ name, value }) => measured(name, value, likings) },
        {
          header: 'Target',
          isNumber: true,
          cell: ({ name, target: { most, manageable } }) => (
            <span>
              {measured(name, most, likings)}
              {manageable !== undefined && (
                <>
                  <br />
                  <span className="soft small">at the very most {measured(name, manageable, likings)}</span>
                </>
              )}
            </span>
          ),
        },
        { header: 'Met?', cell: (row) => <Met verdict={verdictOf(row)} /> },
        { header: 'Source', cell: ({ target }) => <span className="soft small">{target.source}</span> },
      ]}
      rows={rowsOf(measures)}
      keyOf={({ name }) => name}
    />
  );
}

function rowsOf(measures: Health['measures']): readonly Row[] {
  const rows: Row[] = [];
  for (const name of namesOf(MEASURE_WORDS)) {
    const measure = measures[name];
    if (measure) rows.push({ ...measure, name });
  }
  return rows;
}

function namesOf(words: typeof MEASURE_WORDS): readonly MeasureName[] {
  return Object.keys(words).filter((name): name is MeasureName => Object.hasOwn(words, name));
}

function verdictOf({ met, value, target: { manageable } }: Row): Verdict {
  if (met === null) return 'not-judged';
  if (met) return 'met';
  return manageable !== undefined && value <= manageable ? 'manageable' : 'not-met';
}
