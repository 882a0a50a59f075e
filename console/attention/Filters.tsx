import { NativeSelect, TextInput } from '@mantine/core';
import { useMemo } from 'react';
import { KIND_WORDS, plain, SEVERITY_WORDS } from '../show/words.ts';
import styles from './Filters.module.css';
import { type Filter, filterOf } from './filter.ts';
import type { Row } from './rows.ts';

interface FiltersProps {
  readonly rows: readonly Row[];
  readonly filter: Filter;
  readonly onChange: (filter: Filter) => void;
}

const HANDLING = [
  { value: '', label: 'Handled or not' },
  { value: 'not-handled', label: 'Not handled yet' },
  { value: 'handled', label: 'Handled' },
];

/** Search and filters of the list; only what occurs in it is offered. */
export function Filters({ rows, filter, onChange }: FiltersProps) {
  const regions = useMemo(() => [...new Set(rows.map(({ region }) => region))].sort(), [rows]);
  const kinds = useMemo(() => new Set(rows.map(({ kind }) => kind)), [rows]);
  const set = (change: Readonly<Record<string, string>>) => onChange(filterOf({ ...filter, ...change }));
  return (
    <search className={styles.filters}>
      <TextInput
        className={styles.search}
        label="Search"
        type="search"
        placeholder="Site, unit or words"
        value={filter.search ?? ''}
        onChange={({ currentTarget }) => set({ search: currentTarget.value })}
      />
      <NativeSelect
        label="Region"
        data={[
          { value: '', label: 'All regions' },
          ...withChosen(regions, filter.region).map((region) => ({ value: region, label: plain(region) })),
        ]}
        value={filter.region ?? ''}
        onChange={({ currentTarget }) => set({ region: currentTarget.value })}
      />
      <NativeSelect
        label="Kind"
        data={[
          { value: '', label: 'All kinds' },
          ...Object.entries(KIND_WORDS)
            .filter(([kind]) => kind === filter.kind || [...kinds].some((each) => each === kind))
            .map(([value, label]) => ({ value, label })),
        ]}
        value={filter.kind ?? ''}
        onChange={({ currentTarget }) => set({ kind: currentTarget.value })}
      />
      <NativeSelect
        label="Severity"
        data={[
          { value: '', label: 'All severities' },
          ...Object.entries(SEVERITY_WORDS).map(([value, label]) => ({ value, label })),
        ]}
        value={filter.severity ?? ''}
        onChange={({ currentTarget }) => set({ severity: currentTarget.value })}
      />
      <NativeSelect
        label="Handling"
        data={HANDLING}
        value={filter.handling ?? ''}
        onChange={({ currentTarget }) => set({ handling: currentTarget.value })}
      />
    </search>
  );
}

function withChosen(offered: readonly string[], chosen: string | undefined): readonly string[] {
  return chosen === undefined || offered.includes(chosen) ? offered : [...offered, chosen];
}
