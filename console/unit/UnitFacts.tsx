import { Button } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { Link } from '@tanstack/react-router';
import type { ReactNode } from 'react';
import { LITRES_PER_CUBIC_FOOT } from '../../shared/units.ts';
import { useMe } from '../app/Me.ts';
import { useOpenActs } from '../attention/acts/OpenActs.tsx';
import { amount } from '../show/amounts.ts';
import { Bidi } from '../show/Bidi.tsx';
import { day, daysBetween, moment } from '../show/dates.ts';
import { useLikings } from '../show/Likings.tsx';
import { days, plain } from '../show/words.ts';
import { can } from '../signIn/can.ts';
import { outOfServiceQuery } from './queries.ts';
import { targetOf } from './targetOf.ts';
import type { Story } from './types.ts';
import styles from './UnitFacts.module.css';

/** What the unit is and how it stands, in a few figures, and what can be done with it. */
export function UnitFacts({ story, today }: { story: Story; today: string }) {
  const likings = useLikings();
  const open = useOpenActs();
  const me = useMe();
  const { data: outOfService = null } = useQuery(outOfServiceQuery(story.unit.unitId));
  const { unit, forecast, lastReported } = story;
  const ago = lastReported === null ? null : daysBetween(lastReported, today);
  const date = (localDate: string | null | undefined) =>
    localDate ? day(localDate, likings.locale, today) : 'not in sight';
  return (
    <section aria-label="The unit">
      <p className="soft">
        {unit.address && (
          <>
            <Bidi>{unit.address}</Bidi> ·{' '}
          </>
        )}
        <Bidi>{unit.unitId}</Bidi> · {plain(unit.region)} ·{' '}
        {unit.round !== null && <>round {plain(unit.round)} · </>}
        {unit.arrangement === 'single' ? 'single bed' : 'two beds in turn'}
      </p>
      {outOfService && (
        <p className={styles.out}>
          Out of service since {moment(outOfService.at, { locale: likings.locale, timeZone: unit.timeZone })}{' '}
          by <Bidi>{outOfService.by}</Bidi>
          {outOfService.until !== null &&
            `, until ${moment(outOfService.until, { locale: likings.locale, timeZone: unit.timeZone })}`}
          : nothing is raised of it.
        </p>
      )}
      {!unit.inService && <p className={styles.out}>The control stands in its set-up mode.</p>}
      <dl className={styles.facts}>
        <Fact name="Last report" note={ago === null ? undefined : ago <= 0 ? 'today' : `${days(ago)} ago`}>
          {lastReported === null ? 'never' : date(lastReported)}
        </Fact>
        <Fact
          name="Left in the bed"
          note={forecast ? `reserve ${amount(forecast.reserve, 'gallons', likings)}` : undefined}
        >
          {!forecast
            ? 'not known'
            : forecast.remaining < 0
              ? `overrun by ${amount(-forecast.remaining, 'gallons', likings)}`
              : amount(forecast.remaining, 'gallons', likings)}
        </Fact>
        <Fact name="Regenerates next">{date(forecast?.nextRegeneration.p50)}</Fact>
        <Fact name={forecast && forecast.remaining <= 0 ? 'Ran out' : 'Would run out'}>
          {date(forecast?.exhaustion.p50)}
        </Fact>
        <Fact name="Resin">{cubicFeet(unit.resinCubicFeet, likings)}</Fact>
        <Fact name="Water" note="with its iron allowance">
          {amount(unit.hardnessGpg, 'gpg', likings)}
        </Fact>
      </dl>
      <div className={styles.acts}>
        {can(me, 'field') && (
          <Button aria-haspopup="dialog" onClick={() => open(targetOf(story, null, outOfService))}>
            Act on this unit
          </Button>
        )}
        <Link to="/units/$unitId/brief" params={{ unitId: unit.unitId }}>
          Brief for a visit
        </Link>
      </div>
    </section>
  );
}

function Fact({ name, note, children }: { name: string; note?: string | undefined; children: ReactNode }) {
  return (
    <div className={styles.fact}>
      <dt>{name}</dt>
      <dd>
        {children}
        {note && <span className="soft small"> {note}</span>}
      </dd>
    </div>
  );
}

function cubicFeet(value: number, { units, locale }: { units: 'us' | 'metric'; locale: string }): string {
  const format = new Intl.NumberFormat(locale, { maximumFractionDigits: 2 });
  return units === 'us'
    ? `${format.format(value)}\u00a0cu ft`
    : `${format.format(value * LITRES_PER_CUBIC_FOOT)}\u00a0L`;
}
