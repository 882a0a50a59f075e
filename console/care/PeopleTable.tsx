import { Button } from '@mantine/core';
import type { Person } from '../api/types.ts';
import { useMe } from '../app/Me.ts';
import { ROLE_WORDS } from '../show/words.ts';
import styles from './PeopleTable.module.css';

interface PeopleTableProps {
  readonly people: readonly Person[];
  readonly onChange?: (person: Person) => void;
  readonly onDrop?: (person: Person) => void;
}

export function PeopleTable({ people, onChange, onDrop }: PeopleTableProps) {
  const { person: me } = useMe();
  return (
    <table className={styles.table}>
      <thead>
        <tr>
          <th scope="col">Name</th>
          <th scope="col">Role</th>
          <th scope="col">Mail</th>
          <th scope="col">Telephone</th>
          {onChange && <th scope="col">Acts</th>}
        </tr>
      </thead>
      <tbody>
        {people.map((person) => (
          <tr key={person.personId}>
            <th scope="row">
              <bdi>{person.name}</bdi>
              {person.personId === me?.personId && <span className="soft"> (you)</span>}
              <br />
              <span className="soft small">{person.personId}</span>
            </th>
            <td data-label="Role">{ROLE_WORDS[person.role]}</td>
            <td data-label="Mail">{person.mail}</td>
            <td data-label="Telephone">{person.sms ?? 'None'}</td>
            {onChange && onDrop && (
              <td>
                <div className={styles.acts}>
                  <Button variant="default" size="xs" onClick={() => onChange(person)}>
                    Change
                    <span className="hidden"> {person.name}</span>
                  </Button>
                  {person.personId !== me?.personId && (
                    <Button variant="default" size="xs" onClick={() => onDrop(person)}>
                      Take off
                      <span className="hidden"> {person.name}</span>
                    </Button>
                  )}
                </div>
              </td>
            )}
          </tr>
        ))}
      </tbody>
    </table>
  );
}
