import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { peopleQuery } from '../api/queries.ts';
import { amount, whole } from '../show/amounts.ts';
import { Bidi } from '../show/Bidi.tsx';
import { type Column, DataTable } from '../show/DataTable.tsx';
import { day, daysBetween } from '../show/dates.ts';
import { type Likings, useLikings } from '../show/Likings.tsx';
import { UnitLink } from '../show/UnitLink.tsx';
import { days, plain } from '../show/words.ts';
import styles from './Deliveries.module.css';
import type { DatedUnit, Deliveries, Week } from './types.ts';
import { bags, levelWords, roundWords, units, weekWords } from './words.ts';

/** So many units of a week are put on the page at once. */
const AT_ONCE = 200;
/** A unit that was heard within so many days is not called silent. */
const QUIET_DAYS = 3;

interface DatedUnitsProps {
  readonly deliveries: Deliveries;
  readonly today: string;
}

/** The units of each week, the earliest first. */
export function DatedUnits({ deliveries, today }: DatedUnitsProps) {
  const weeks = deliveries.weeks.map((week) => ({
    week,
    rows: deliveries.dated.filter((unit) => unit.week === week.week),
  }));
  return weeks.map(({ week, rows }) =>
    rows.length === 0 ? null : (
      <WeekOfUnits key={week.week} week={week} rows={rows} bagLb={deliveries.bagLb} today={today} />
    ),
  );
}

interface WeekOfUnitsProps {
  readonly week: Week;
  readonly rows: readonly DatedUnit[];
  readonly bagLb: number;
  readonly today: string;
}

function WeekOfUnits({ week, rows, bagLb, today }: WeekOfUnitsProps) {
  const likings = useLikings();
  const { data: people = [] } = useQuery(peopleQuery);
  const [isWhole, setWhole] = useState(false);
  const shown = isWhole ? rows : rows.slice(0, AT_ONCE);
  const nameOf = (id: string) => people.find(({ personId }) => personId === id)?.name ?? id;
  const words = weekWords(week, likings, today);
  const sum = rows.reduce((all, unit) => all + unit.bags, 0);
  return (
    <>
      <DataTable
        caption={
          <>
            <strong className={styles.caption}>{words}</strong>: {units(rows.length, likings)},{' '}
            {bags(sum, likings)}, {amount(sum * bagLb, 'lb', likings)}
          </>
        }
        columns={columnsOf(likings, today, nameOf)}
        rows={shown}
        keyOf={({ unitId }) => unitId}
        wideName={`Units, ${words}`}
      />
      {shown.length < rows.length && (
        <button type="button" className={styles.plain} onClick={() => setWhole(true)}>
          Show all {whole(rows.length, likings)} units of {words}
        </button>
      )}
    </>
  );
}

function columnsOf(
  likings: Likings,
  today: string,
  nameOf: (personId: string) => string,
): readonly Column<DatedUnit>[] {
  const dated = (date: string | null) => (date === null ? 'beyond a year' : day(date, likings.locale, today));
  return [
    {
      header: 'Unit',
      cell: ({ unitId, siteId, siteName, address }) => (
        <>
          <UnitLink unitId={unitId}>
            <Bidi>{siteName ?? siteId}</Bidi>
          </UnitLink>
          {address !== null && address !== siteName && (
            <span className={`soft small ${styles.under}`}>
              <Bidi>{address}</Bidi>
            </span>
          )}
        </>
      ),
    },
    { header: 'Bring by', isTight: true, cell: ({ by, isEmpty }) => (isEmpty ? 'now' : dated(by)) },
    { header: 'Bags', isNumber: true, cell: (unit) => whole(unit.bags, likings) },
    {
      header: 'Runs out',
      cell: ({ runsOut: { p10, p50, p90 } }) => (
        <div>
          {dated(p50)}
          <span className={`soft small ${styles.under}`}>
            80 %: {dated(p10)} – {dated(p90)}
          </span>
        </div>
      ),
    },
    {
      header: 'In the tank',
      cell: (unit) => {
        const { level, how } = levelWords(unit, likings);
        return (
          <div>
            {level}
            {how !== undefined && <span className={`soft small ${styles.under}`}>{how}</span>}
            {unit.roomLb === null && (
              <span className={`soft small ${styles.under}`}>the tank’s size is not on record</span>
            )}
            <Quiet lastReported={unit.lastReported} today={today} />
          </div>
        );
      },
    },
    {
      header: 'Round',
      cell: ({ round, region }) => (
        <div>
          {roundWords(round)}
          <span className={`soft small ${styles.under}`}>{plain(region)}</span>
        </div>
      ),
    },
    {
      header: 'Visit planned',
      cell: ({ visits }) =>
        visits.length === 0 ? (
          '–'
        ) : (
          <ul className={styles.visits}>
            {visits.map(({ visitId, date, technician }) => (
              <li key={visitId}>
                {dated(date)}, <Bidi>{nameOf(technician)}</Bidi>
              </li>
            ))}
          </ul>
        ),
    },
  ];
}

function Quiet({ lastReported, today }: { lastReported: string | null; today: string }) {
  const ago = lastReported === null ? undefined : daysBetween(lastReported, today);
  if (ago === undefined || ago <= QUIET_DAYS) return null;
  return <span className={`soft small ${styles.under}`}>no report for {days(ago)}</span>;
}
