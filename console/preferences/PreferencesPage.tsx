import {
  Button,
  type MantineColorScheme,
  NativeSelect,
  TextInput,
  useMantineColorScheme,
} from '@mantine/core';
import { useQueryClient } from '@tanstack/react-query';
import { type FormEvent, useState } from 'react';
import { service } from '../api/client.ts';
import { meQuery } from '../api/queries.ts';
import { useServiceNow } from '../api/useServiceNow.ts';
import { messageOf } from '../app/failure.ts';
import { useMe } from '../app/Me.ts';
import { PageHead } from '../app/PageHead.tsx';
import { useTell } from '../app/status.tsx';
import { amount } from '../show/amounts.ts';
import { moment } from '../show/dates.ts';
import { localeNamed, ZONES, zoneNamed } from './known.ts';
import styles from './PreferencesPage.module.css';

/** How somebody likes figures and times shown. */
export function Page() {
  const { person } = useMe();
  return (
    <>
      <PageHead title="Preferences" />
      <Appearance />
      {person ? (
        <Shown units={person.units} timeZone={person.timeZone ?? ''} locale={person.locale ?? ''} />
      ) : (
        <p className="soft">
          You came with a key of the company, which has no preferences. Sign in to have some.
        </p>
      )}
    </>
  );
}

/** Kept by this browser, and put to use at once. */
function Appearance() {
  const { colorScheme, setColorScheme } = useMantineColorScheme();
  return (
    <div className={styles.form}>
      <NativeSelect
        label="Appearance"
        description="On this device."
        data={[
          { value: 'auto', label: 'As the device has it' },
          { value: 'light', label: 'Light' },
          { value: 'dark', label: 'Dark' },
        ]}
        value={colorScheme}
        onChange={({ currentTarget }) => setColorScheme(schemeNamed(currentTarget.value))}
      />
    </div>
  );
}

interface Wishes {
  readonly units: 'us' | 'metric';
  /** Empty: as the browser has it. */
  readonly timeZone: string;
  readonly locale: string;
}

function Shown(before: Wishes) {
  const client = useQueryClient();
  const tell = useTell();
  const now = useServiceNow();
  const [wishes, setWishes] = useState<Wishes>(before);
  const [error, setError] = useState<string>();
  const [isBusy, setBusy] = useState(false);
  const { units, timeZone, locale } = wishes;
  const set = (changed: Partial<Wishes>) => setWishes({ ...wishes, ...changed });
  const zone = zoneNamed(timeZone);
  const language = localeNamed(locale);
  const submit = async (event: FormEvent) => {
    event.preventDefault();
    setBusy(true);
    setError(undefined);
    try {
      const body = { units, ...(timeZone && { timeZone }), ...(locale && { locale }) };
      await service.PUT('/v1/me', { body });
      await client.invalidateQueries({ queryKey: meQuery.queryKey });
      tell({ text: 'Your preferences are kept.' });
    } catch (reason) {
      setError(messageOf(reason));
    } finally {
      setBusy(false);
    }
  };
  return (
    <form className={styles.form} onSubmit={(event) => void submit(event)}>
      <NativeSelect
        label="Units"
        data={[
          { value: 'us', label: 'US: gallons, pounds, grains' },
          { value: 'metric', label: 'Metric: litres, kilograms, mg/L' },
        ]}
        value={units}
        onChange={({ currentTarget }) => set({ units: currentTarget.value === 'metric' ? 'metric' : 'us' })}
      />
      <TextInput
        label="Time zone"
        description="For times that belong to no site; what happens at a site is told in its own time. Empty: as the browser has it."
        list="zones"
        placeholder="America/Denver"
        value={timeZone}
        error={zone === undefined && 'There is no such zone: choose one of the list.'}
        onChange={({ currentTarget }) => set({ timeZone: currentTarget.value.trim() })}
      />
      <datalist id="zones">
        {ZONES.map((name) => (
          <option key={name} value={name} />
        ))}
      </datalist>
      <TextInput
        label="Language of dates and numbers"
        description="A language tag, such as en-US or es-MX. Empty: as the browser has it."
        placeholder="en-US"
        value={locale}
        error={language === undefined && 'There is no such language tag.'}
        onChange={({ currentTarget }) => set({ locale: currentTarget.value.trim() })}
      />
      {zone !== undefined && language !== undefined && (
        <p className="soft">
          So it looks: {moment(now, { locale: language, timeZone: zone, named: true })};{' '}
          {amount(1234.5, 'gallons', { units, locale: language })} of water,{' '}
          {amount(9.5, 'lb', { units, locale: language })} of salt.
        </p>
      )}
      {error && <p role="alert">{error}</p>}
      <Button type="submit" loading={isBusy} disabled={zone === undefined || language === undefined}>
        Keep
      </Button>
    </form>
  );
}

function schemeNamed(value: string): MantineColorScheme {
  return value === 'light' || value === 'dark' ? value : 'auto';
}
