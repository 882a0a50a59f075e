/**
 * How well the three watched conditions are told on simulated fleets: the figures of the detection table in the README.
 *
 * usage: node bench/run.js detection [--units 300] [--days 365] [--seed 1] [--usage fixtures/daiad-alicante/daily.csv]
 */
import { readFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import type { Received } from '../lib/replay/received.ts';
import { replayUnit } from '../lib/replay/replayUnit.ts';
import { parseFaultMix } from '../lib/simulation/faultMix.ts';
import { planFleet } from '../lib/simulation/plan.ts';
import { simulateUnit } from '../lib/simulation/simulate.ts';
import type { Truth } from '../lib/simulation/truth.ts';
import { readUsage } from '../lib/simulation/usageSeries.ts';
import { rulesSchema } from '../lib/watch/rules.ts';
import { admit } from '../shared/admission.ts';
import type { Alert } from '../shared/alerts.ts';
import { readRegistry, type Unit } from '../shared/registry.ts';
import { parseInstant } from '../shared/time/instant.ts';
import { parseLocalDate } from '../shared/time/localDate.ts';

const { values } = parseArgs({
  options: {
    units: { type: 'string', default: '300' },
    days: { type: 'string', default: '365' },
    seed: { type: 'string', default: '1' },
    faults: { type: 'string', default: 'balanced' },
    usage: { type: 'string' },
    rules: { type: 'string', default: '{}' },
    verbose: { type: 'boolean', default: false },
  },
});

interface Scored {
  unit: Unit;
  truth: readonly Truth[];
  alerts: Alert[];
  /** Instants of the unit's regenerations, in order. */
  regenerations: number[];
}

const rules = rulesSchema.parse(JSON.parse(values.rules));
const usage = values.usage ? readUsage(readFileSync(values.usage, 'utf8')) : undefined;
const days = Number(values.days);
const plans = planFleet({
  units: Number(values.units),
  days,
  start: parseLocalDate('2025-01-01') ?? 0,
  seed: Number(values.seed),
  faults: parseFaultMix(values.faults),
  usage,
});
const scored = plans.map((plan): Scored => {
  const { record, events, truth } = simulateUnit(plan);
  const { units } = readRegistry(JSON.stringify([record]));
  const received = events.map((event, index): Received => {
    const raw = JSON.stringify(event);
    const admission = admit(raw, units);
    if (!admission.accepted) throw new Error(`${admission.reason}: ${admission.detail}`);
    return { line: index + 1, raw, fact: admission.fact };
  });
  const unit = units.get(record.unitId);
  if (!unit) throw new Error('no unit');
  const until = Math.max(...received.map(({ fact }) => fact.known));
  const { alerts } = replayUnit(unit, received, { rules, until, onForecast: () => {} });
  const regenerations = received.flatMap(({ fact }) => (fact.kind === 'regeneration' ? [fact.time] : []));
  return { unit, truth, alerts, regenerations };
});

const unitYears = (scored.length * days) / 365.25;
stalls();
salt();
overruns();

function stalls() {
  const delaysAsked: number[] = [];
  const delaysSent: number[] = [];
  let stalled = 0;
  let needless = 0;
  let falseTrips = 0;
  for (const { unit, truth, alerts } of scored) {
    const faults = truth.filter(({ what, kind }) => what === 'fault' && kind === 'no-flow');
    const spans = faults.map(({ from, to }) => ({ from: dayOf(from), to: to ? dayOf(to) : Infinity }));
    for (const alert of alerts.filter(({ kind }) => kind === 'no-flow')) {
      const raised = unit.zone.dateAt(at(alert.raisedAt));
      const real = spans.some(({ from, to }) => raised > from && raised <= to + 1);
      if (!real) needless += 1;
      if (!real && values.verbose)
        console.log(
          'needless',
          unit.unitId,
          alert.raisedAt.slice(0, 10),
          alert.probability,
          alert.clearedAt?.slice(0, 10),
          JSON.stringify(alert.evidence),
        );
      const sent = alert.history.find(({ severity }) => severity !== 'routine');
      if (
        sent &&
        !spans.some(
          ({ from, to }) => unit.zone.dateAt(at(sent.at)) > from && unit.zone.dateAt(at(sent.at)) <= to + 1,
        )
      ) {
        falseTrips += 1;
        if (values.verbose) console.log('false trip', unit.unitId, alert.raisedAt, alert.evidence);
      }
    }
    for (const { from, to } of spans) {
      if (to - from < 21) continue;
      stalled += 1;
      const mine = alerts.filter(
        ({ kind, clearedAt }) =>
          kind === 'no-flow' && (clearedAt === null || unit.zone.dateAt(at(clearedAt)) > from),
      );
      const asked = mine
        .map((alert) => unit.zone.dateAt(at(alert.raisedAt)) - from)
        .find((delay) => delay <= to - from);
      const sent = mine
        .flatMap(({ history }) => history.filter(({ severity }) => severity !== 'routine'))
        .map((step) => unit.zone.dateAt(at(step.at)) - from)
        .sort((a, b) => a - b)[0];
      if (asked !== undefined) delaysAsked.push(Math.max(0, asked));
      if (sent !== undefined) delaysSent.push(sent);
      if (values.verbose && (sent === undefined || sent > 21))
        console.log('late', unit.unitId, sent, mine[0]?.evidence);
    }
  }
  console.log(`stalled meters that last 21 days or more: ${stalled}`);
  show('sent for by day 21', share(delaysSent.filter((delay) => delay <= 21).length, stalled), '>= 0.95');
  show('false trips a unit-year', falseTrips / unitYears, '<= 0.05');
  show('household asked on day, median', median(delaysAsked), '<= 5');
  show('needless questions a unit-year', needless / unitYears, '<= 0.2');
}

function salt() {
  const groups = new Map<string, number[]>();
  let falseAlarms = 0;
  for (const { unit, truth, alerts, regenerations } of scored) {
    const mine = alerts.filter(({ kind }) => kind === 'no-salt-draw');
    const faults = truth.filter(({ what, kind }) => what === 'fault' && kind === 'no-salt-draw');
    const short = truth
      .filter(({ what }) => what === 'regeneration-without-salt')
      .map(({ detail }) => at(String(detail.at)));
    for (const alert of mine) {
      if (
        short.some(
          (instant) => Math.abs(instant - at(alert.raisedAt)) < 12 * 864e5 && instant <= at(alert.raisedAt),
        )
      )
        continue;
      falseAlarms += 1;
      if (values.verbose) console.log('false no-salt', unit.unitId, alert.raisedAt, alert.evidence);
    }
    for (const fault of faults) {
      const sensed = telling(unit, String(fault.cause));
      const first = short[0];
      if (first === undefined) continue;
      const raised = mine.map(({ raisedAt }) => at(raisedAt)).find((instant) => instant >= first);
      const nth =
        raised === undefined
          ? Infinity
          : regenerations.filter((instant) => instant >= first && instant <= raised).length;
      const key = `${sensed}`;
      // A spell that ends before there was anything to go by is not counted.
      if (short.length < (sensed === 'level only' ? 8 : 2)) continue;
      groups.set(key, [...(groups.get(key) ?? []), nth]);
      if (values.verbose && sensed !== 'nothing' && nth > 8)
        console.log('late no-salt', unit.unitId, fault.cause, short.length, nth, unit.senses);
    }
  }
  for (const [sensed, nths] of groups) {
    console.log(`regenerations without salt, ${sensed}: ${nths.length} spells`);
    show('told at all', share(nths.filter((nth) => nth < Infinity).length, nths.length), '>= 0.95');
    show(
      'told by the 2nd / 8th',
      `${share(nths.filter((nth) => nth <= 2).length, nths.length)} / ${share(nths.filter((nth) => nth <= 8).length, nths.length)}`,
      sensed === 'brine' ? '>= 0.95 by the 2nd' : '>= 0.95 by the 8th',
    );
    show('regeneration at which, median', median(nths), '');
  }
  show('false no-salt alarms a unit-year', falseAlarms / unitYears, '');
}

/** What the unit senses that can tell this cause. */
function telling({ senses }: Unit, cause: string): string {
  if (cause === 'brine-not-drawn' && senses.includes('brine-draw')) return 'brine';
  return senses.includes('salt-level') ? 'level only' : 'nothing';
}

function overruns() {
  let real = 0;
  let told = 0;
  let explained = 0;
  let falseAlarms = 0;
  const causes = new Map<string, number>();
  for (const { unit, truth, alerts } of scored) {
    const spells = truth.filter(({ what }) => what === 'overrun');
    const mine = alerts.filter(({ kind }) => kind === 'overrun');
    const roots = alerts.filter(({ kind, severity }) => kind !== 'overrun' && severity !== 'routine');
    for (const { from, to, cause, detail } of spells) {
      if (Number(detail.percent) < 15) continue;
      const covers = (alert: Alert) =>
        unit.zone.dateAt(at(alert.raisedAt)) <= (to ? dayOf(to) + 2 : Infinity) &&
        (alert.clearedAt === null || unit.zone.dateAt(at(alert.clearedAt)) >= dayOf(from));
      if (cause === 'meter-fault') continue;
      if (cause === 'no-salt-draw' && !unit.senses.some((sense) => sense === 'salt-level')) continue;
      real += 1;
      const alert = mine.find(covers);
      if (alert) {
        told += 1;
        const key = `${cause} told as ${alert.cause}`;
        causes.set(key, (causes.get(key) ?? 0) + 1);
      } else if (roots.some(covers)) explained += 1;
      else if (values.verbose)
        console.log('missed overrun', unit.unitId, cause, from, to, detail, unit.senses, unit.alternating);
    }
    for (const alert of mine) {
      const raised = unit.zone.dateAt(at(alert.raisedAt));
      if (spells.some(({ from, to }) => raised >= dayOf(from) && raised <= (to ? dayOf(to) + 12 : Infinity)))
        continue;
      falseAlarms += 1;
      if (values.verbose)
        console.log('false overrun', unit.unitId, alert.raisedAt, alert.summary, alert.evidence);
    }
  }
  console.log(`overruns of 15 % or more: ${real}`);
  show('told, or explained by their cause', share(told + explained, real), '>= 0.90');
  show('of them explained', share(explained, real), '');
  show('false overrun alarms a unit-year', falseAlarms / unitYears, '');
  for (const [key, count] of [...causes].sort()) console.log(`    ${key}: ${count}`);
}

function show(what: string, got: number | string, asked: string) {
  const text = typeof got === 'number' ? got.toFixed(3) : got;
  console.log(`  ${what.padEnd(40)} ${text.padStart(16)}   ${asked}`);
}

function share(part: number, whole: number): number {
  return whole === 0 ? 1 : Math.round((part / whole) * 1000) / 1000;
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)] ?? Number.NaN;
}

function at(text: string): number {
  return parseInstant(text) ?? Number.NaN;
}

function dayOf(text: string): number {
  return parseLocalDate(text) ?? Number.NaN;
}
