import { NativeSelect } from '@mantine/core';
import { plain } from '../show/words.ts';
import type { Choice } from './choice.ts';
import styles from './Deliveries.module.css';
import type { Deliveries } from './types.ts';

interface ChoicesProps {
  readonly regions: Deliveries['regions'];
  readonly choice: Choice;
  readonly onChange: (choice: Choice) => void;
}

/** What a round's select shows for all rounds, and for none: no round can be called so. */
const ALL = ' ';
const NONE = '';

/** Filters by region and by round; the rounds are those of the region. */
export function Choices({ regions, choice, onChange }: ChoicesProps) {
  const { region, round } = choice;
  const within = regions.filter((each) => region === undefined || each.region === region);
  const rounds = [...new Set(within.flatMap((each) => each.rounds))];
  const named = rounds.filter((each) => each !== null).sort();
  return (
    <search className={styles.choices}>
      <NativeSelect
        label="Region"
        data={[
          { value: '', label: 'All regions' },
          ...regions.map((each) => ({ value: each.region, label: plain(each.region) })),
        ]}
        value={region ?? ''}
        onChange={({ currentTarget: { value } }) => onChange(value === '' ? {} : { region: value })}
      />
      <NativeSelect
        label="Round"
        data={[
          { value: ALL, label: 'All rounds' },
          ...named.map((each) => ({ value: each, label: plain(each) })),
          ...(rounds.includes(null) ? [{ value: NONE, label: 'No round' }] : []),
        ]}
        value={round ?? ALL}
        onChange={({ currentTarget: { value } }) =>
          onChange({ ...(region !== undefined && { region }), ...(value !== ALL && { round: value }) })
        }
      />
    </search>
  );
}
