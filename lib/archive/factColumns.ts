import type { Column } from '../table/column.ts';
import type { FactRow } from './factRow.ts';
import { KIND_COLUMNS } from './kindColumns.ts';

/** What every fact has. */
export const COMMON_COLUMNS: readonly Column<FactRow>[] = [
  { name: 'unit_id', type: 'text', about: 'the unit', always: true, of: ({ unitId }) => unitId },
  { name: 'event_id', type: 'text', about: 'the event’s id', always: true, of: ({ fact }) => fact.id },
  {
    ...{ name: 'kind', type: 'text', always: true },
    about: 'flow-day, regeneration, settings, salt-level, power, service-visit, away, at-home, ...',
    of: ({ kind }) => kind,
  },
  {
    ...{ name: 'happened_at', type: 'timestamp', always: true },
    about: 'when it happened, UTC; of a flow day, when that day closed',
    of: ({ fact }) => fact.time,
  },
  {
    ...{ name: 'recorded_at', type: 'timestamp', always: true },
    about: 'when the service first knew of it, UTC',
    of: ({ fact }) => fact.known,
  },
  {
    ...{ name: 'local_date', type: 'date', always: true },
    about: 'the day that a flow day is of; else the date at the site when it happened',
    of: ({ localDate }) => localDate,
  },
];

/** Text of whole events. */
const WHOLE: readonly Column<FactRow>[] = [
  {
    ...{ name: 'content', type: 'text', always: true, long: true },
    about: 'type, time and data as canonical JSON, by which copies of one id are compared',
    of: ({ content }) => content,
  },
  {
    ...{ name: 'event', type: 'text', always: true, long: true },
    about: 'the line as it was accepted',
    of: ({ line }) => line,
  },
];

/** The columns of files of facts, beside those of their partition. */
export const FACT_COLUMNS: readonly Column<FactRow>[] = [
  ...COMMON_COLUMNS,
  ...Object.values(KIND_COLUMNS).flat(),
  ...WHOLE,
];
