import type { ReactNode } from 'react';
import type { UnitSystem } from '../../lib/brief/inUnits.ts';
import { sheetOf } from '../../lib/brief/sheet.ts';
import type { Brief } from '../unit/types.ts';
import { BriefChart } from './BriefChart.tsx';
import styles from './BriefSheet.module.css';

/** The brief itself, in the same words as its PDF and its mail. Printed, it is one sheet. */
export function BriefSheet({ brief, system }: { brief: Brief; system: UnitSystem }) {
  const sheet = sheetOf(brief, system);
  const length = JSON.stringify(sheet).length;
  return (
    <article
      className={styles.sheet}
      data-length={length > 6_000 ? 'long' : length > 4_400 ? 'longish' : 'usual'}
    >
      <p className={styles.title}>{sheet.title}</p>
      {sheet.address && (
        <p>
          <bdi>{sheet.address}</bdi>
        </p>
      )}
      <dl className={styles.facts}>
        {sheet.facts.map(({ label, value }) => (
          <div key={label}>
            <dt>{label}</dt>
            <dd>
              <bdi>{value}</bdi>
            </dd>
          </div>
        ))}
      </dl>
      {sheet.reason && (
        <p className={styles.reason}>
          <b>Reason:</b> <bdi>{sheet.reason}</bdi>
        </p>
      )}
      <div className={styles.columns}>
        <div>
          <Part heading="Why">
            <ul className={styles.why}>
              {sheet.why.map(({ severity, sentence, detail }) => (
                <li key={sentence} data-severity={severity}>
                  {sentence} <small>{detail}</small>
                </li>
              ))}
            </ul>
            {sheet.harm && (
              <p>
                <b>{sheet.harm}</b>
              </p>
            )}
          </Part>
          <Part heading="What the meter says">
            <BriefChart chart={brief.chart} system={system} />
          </Part>
          {sheet.causes.length > 0 && (
            <Part heading="Causes, the likeliest first">
              <ol className={styles.causes}>
                {sheet.causes.map(({ words, percent, howSure, remedy }) => (
                  <li key={words}>
                    <b>{percent}</b>
                    <span>
                      <b>{words}</b> <small>{howSure}</small>
                      <br />
                      {remedy}
                    </span>
                  </li>
                ))}
              </ol>
            </Part>
          )}
        </div>
        <div>
          {sheet.checks.length > 0 && (
            <Part heading="Checks">
              <p>
                <small>{sheet.checksNote}</small>
              </p>
              <ol>
                {sheet.checks.map(({ task, telling }) => (
                  <li key={task}>
                    {task} <small>{telling}</small>
                  </li>
                ))}
              </ol>
            </Part>
          )}
          <Part heading="Parts to carry">
            <dl className={styles.pairs}>
              {sheet.parts.map(({ because, parts }) => (
                <div key={because}>
                  <dt>{because}</dt>
                  <dd>{parts}</dd>
                </div>
              ))}
            </dl>
          </Part>
          <Part heading="Settings">
            <p>
              <small>{sheet.settingsNote}</small>
            </p>
            <dl className={styles.pairs}>
              {sheet.settings.map(({ name, now, set }) => (
                <div key={name}>
                  <dt>{name}</dt>
                  <dd>
                    {now}
                    {set !== null && <b> → set {set}</b>}
                  </dd>
                </div>
              ))}
            </dl>
          </Part>
          <Part heading="Before you leave">
            <ul className={styles.boxes}>
              {sheet.beforeLeaving.map((line) => (
                <li key={line}>{line}</li>
              ))}
              {sheet.record.map((line) => (
                <li key={line} className={styles.onPaper}>
                  {line}
                </li>
              ))}
            </ul>
          </Part>
        </div>
      </div>
      <Part heading="Cautions">
        <ul className={styles.cautions}>
          {sheet.cautions.map(({ label, value }) => (
            <li key={label}>
              <b>{label}.</b> {value}
            </li>
          ))}
        </ul>
      </Part>
      <p className={styles.foot}>
        <bdi>{sheet.foot}</bdi>
      </p>
    </article>
  );
}

function Part({ heading, children }: { heading: string; children: ReactNode }) {
  return (
    <section className={styles.part}>
      <h2>{heading}</h2>
      {children}
    </section>
  );
}
