import { Button } from '@mantine/core';
import type { Person } from '../api/types.ts';
import { useMe } from '../app/Me.ts';
import { type Column, DataTable } from '../show/DataTable.tsx';
import { ROLE_WORDS } from '../show/words.ts';
import styles from './PeopleTable.module.css';

interface PeopleTableProps {
  readonly people: readonly Person[];
  readonly onChange?: (person: Person) => void;
  readonly onDrop?: (person: Person) => void;
}

export function PeopleTable({ people, onChange, onDrop }: PeopleTableProps) {
  const { person: me } = useMe();
  const isMe = ({ personId }: Person) => personId === me?.personId;
  const columns: Column<Person>[] = [
    { header: 'Name', cell: (person) => <NameCell person={person} isMe={isMe(person)} /> },
    { header: 'Role', cell: ({ role }) => ROLE_WORDS[role] },
    { header: 'Mail', cell: ({ mail }) => <span className={styles.mail}>{mail}</span> },
    { header: 'Telephone', cell: ({ sms }) => sms ?? 'None' },
  ];
  if (onChange && onDrop) {
    columns.push({
      header: 'Acts',
      cell: (person) => (
        <span className={styles.acts}>
          <Button variant="default" size="xs" onClick={() => onChange(person)}>
            Change
            <span className="hidden"> {person.name}</span>
          </Button>
          {!isMe(person) && (
            <Button variant="default" size="xs" onClick={() => onDrop(person)}>
              Take off
              <span className="hidden"> {person.name}</span>
            </Button>
          )}
        </span>
      ),
    });
  }
  return (
    <DataTable
      caption={people.length === 1 ? 'One person' : `${people.length} people`}
      columns={columns}
      rows={people}
      keyOf={({ mail }) => mail}
    />
  );
}

function NameCell({ person: { name, personId }, isMe }: { person: Person; isMe: boolean }) {
  return (
    <>
      <bdi>{name}</bdi>
      {isMe && <span className="soft"> (you)</span>}
      <br />
      <span className="soft small">{personId}</span>
    </>
  );
}
