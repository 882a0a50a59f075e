import { Button } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { peopleQuery } from '../api/queries.ts';
import type { Person } from '../api/types.ts';
import { Empty } from '../app/Empty.tsx';
import { ErrorState } from '../app/ErrorPage.tsx';
import { useMe } from '../app/Me.ts';
import { PageHead } from '../app/PageHead.tsx';
import { Progress } from '../app/Progress.tsx';
import { can } from '../signIn/can.ts';
import { DropPerson } from './DropPerson.tsx';
import styles from './PeoplePage.module.css';
import { PeopleTable } from './PeopleTable.tsx';
import { PersonForm } from './PersonForm.tsx';

type Open = { form: 'add' } | { form: 'change' | 'drop'; person: Person };

/** Who works for the company. All may see them; the owner adds, changes and takes off. */
export function Page() {
  const mayChange = can(useMe(), 'owner');
  const { data: people, error, refetch } = useQuery(peopleQuery);
  const [open, setOpen] = useState<Open>();
  const close = () => setOpen(undefined);
  return (
    <>
      <PageHead title="People">
        {mayChange && people && <Button onClick={() => setOpen({ form: 'add' })}>Add somebody</Button>}
      </PageHead>
      <p className={`soft ${styles.intro}`}>
        Dispatchers watch the list and plan visits, technicians go there, analysts read the regions, owners do
        all of it and look after people.
      </p>
      {!people && error && <ErrorState error={error} retry={() => void refetch()} />}
      {!people && !error && <Progress what="Reading who there is" />}
      {people?.length === 0 && (
        <Empty title="Nobody yet">
          <p>
            Add the people of your company with the mail address by which they sign in. Until then only a key
            of the company can see anything.
          </p>
        </Empty>
      )}
      {people && people.length > 0 && (
        <PeopleTable
          people={people}
          {...(mayChange && {
            onChange: (person) => setOpen({ form: 'change', person }),
            onDrop: (person) => setOpen({ form: 'drop', person }),
          })}
        />
      )}
      {open?.form === 'add' && <PersonForm people={people ?? []} onClose={close} />}
      {open?.form === 'change' && <PersonForm people={people ?? []} person={open.person} onClose={close} />}
      {open?.form === 'drop' && <DropPerson person={open.person} onClose={close} />}
    </>
  );
}
