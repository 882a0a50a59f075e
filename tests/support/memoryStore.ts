import { isDeepStrictEqual } from 'node:util';
import { type DoneAct, handlingOf } from '../../lib/live/alertActs.ts';
import type { Head } from '../../lib/live/head.ts';
import type { MonthAccount } from '../../lib/salt/monthAccount.ts';
import { alertOrder } from '../../lib/store/alertOrder.ts';
import type { Attention } from '../../lib/store/attention.ts';
import type { Claim } from '../../lib/store/claim.ts';
import type { Company } from '../../lib/store/company.ts';
import { decodeCursor, encodeCursor } from '../../lib/store/cursor.ts';
import { StoreError } from '../../lib/store/errors.ts';
import { factsOf } from '../../lib/store/factKey.ts';
import type { Person } from '../../lib/store/person.ts';
import type { Principal } from '../../lib/store/principal.ts';
import { quarantinedAs } from '../../lib/store/quarantinedAs.ts';
import type {
  Audited,
  Page,
  PageRequest,
  Quarantined,
  Store,
  StoredAlert,
  StoredHead,
  UnitRef,
  Visit,
} from '../../lib/store/store.ts';
import type { Alert } from '../../shared/alerts.ts';
import type { UnitRecord } from '../../shared/registry.ts';
import type { Instant } from '../../shared/time/instant.ts';
import { formatLocalDate } from '../../shared/time/localDate.ts';

/** A store that forgets: for tests that ask nothing of a table. What goes in and out is copied. */
export function memoryStore(): Store {
  const facts = new Shelf<string>();
  const records = new Shelf<UnitRecord>();
  const heads = new Shelf<StoredHead & { version: number }>();
  const checkpoints = new Shelf<Head>();
  /** Without an alert where it was dropped. */
  const alerts = new Shelf<{ alert: Alert | null; version: number }>();
  const acts = new Shelf<readonly DoneAct[]>();
  /** Alerts that people are told of. */
  const told = new Set<string>();
  /** Without an account where it was dropped. */
  const months = new Shelf<{ account: MonthAccount | null; version: number }>();
  const visits = new Shelf<Visit>();
  const quarantine = new Shelf<Quarantined>();
  const principals = new Shelf<Principal>();
  const claims = new Shelf<Claim>();
  const companies = new Shelf<Company>();
  /** Without a row where it was dropped. */
  const attention = new Shelf<{ row: Attention | null; version: number }>();
  const audit = new Shelf<Audited>();
  const people = new Shelf<{ companyId: string; person: Person }>();
  const revisions = new Map<string, number>();
  const swept = new Map<string, Instant>();

  const moveOn = (companyId: string) => revisions.set(companyId, (revisions.get(companyId) ?? 0) + 1);
  const alertsIn = (place: string): StoredAlert[] =>
    alerts.list(place).flatMap(([alertId, { alert }]) => {
      if (!alert) return [];
      const done = acts.get(place, alertId) ?? [];
      return [{ alertId, alert, acts: done, ...handlingOf(done) }];
    });

  return {
    async putFacts(ofUnits) {
      for (const { unit, facts: stored } of ofUnits) {
        for (const { key, line } of stored) facts.put(at(unit), key, line);
      }
    },
    async copies(unit, wanted) {
      const all = facts.list(at(unit)).map(([key, line]) => ({ key, line }));
      return wanted.map(({ id }) => all.filter(({ key }) => key.startsWith(factsOf(id))));
    },
    async facts(unit, page) {
      const { items, next } = pageOf(facts.list(at(unit)), `facts#${at(unit)}`, page);
      return { items: items.map(([key, line]) => ({ key, line })), next };
    },

    async unit(unit) {
      const { version = 0, ...stored } = heads.get(at(unit), '') ?? {};
      return {
        record: records.get(unit.companyId, unit.unitId),
        stored: 'head' in stored ? stored : undefined,
        version,
      };
    },
    async putHead(unit, version, stored) {
      if ((heads.get(at(unit), '')?.version ?? 0) !== version) {
        throw new StoreError('conflict', `the head is no longer at version ${version}`);
      }
      heads.put(at(unit), '', { ...stored, version: version + 1 });
    },
    async clearOutbox(unit, version) {
      const stored = heads.get(at(unit), '');
      if (stored?.version === version) heads.put(at(unit), '', { ...stored, outbox: null });
    },
    async putCheckpoints(unit, some) {
      for (const { key, head } of some) checkpoints.put(at(unit), key, head);
    },
    async checkpoint(unit, key) {
      return checkpoints.get(at(unit), key);
    },

    async putAlert(unit, version, alertId, alert) {
      const stands = alerts.get(at(unit), alertId);
      if (!stands || stands.version <= version) alerts.put(at(unit), alertId, { alert, version });
    },
    async dropAlert(unit, version, alertId) {
      const stands = alerts.get(at(unit), alertId);
      if (stands && stands.version > version) return;
      alerts.put(at(unit), alertId, { alert: null, version });
      acts.drop(at(unit), alertId);
    },
    async putActs(unit, version, alertId, done) {
      const stands = alerts.get(at(unit), alertId);
      if (!stands?.alert || stands.version > version) return;
      alerts.put(at(unit), alertId, { ...stands, version });
      acts.put(at(unit), alertId, done);
    },
    async putTold(unit, alertId) {
      told.add(`${at(unit)}/${alertId}`);
    },
    async wasTold(unit, alertId) {
      return told.has(`${at(unit)}/${alertId}`);
    },
    async alert(unit, alertId) {
      return alertsIn(at(unit)).find((stored) => stored.alertId === alertId);
    },
    async alertsOf(unit) {
      return alertsIn(at(unit));
    },
    async alerts(companyId, open, page) {
      const listed = alerts
        .places()
        .filter((place) => place.startsWith(`${companyId}/`))
        .flatMap(alertsIn)
        .filter(({ alert }) => (alert.clearedAt === null) === open)
        .map((stored): [string, StoredAlert] => [alertOrder(stored.alertId, stored.alert), stored]);
      return valuesOf(pageOf(sorted(listed), `alerts#${open}#${companyId}`, page, !open));
    },

    async putMonth(unit, version, account) {
      const first = formatLocalDate(account.from);
      const stands = months.get(at(unit), first);
      if (!stands || stands.version <= version) months.put(at(unit), first, { account, version });
    },
    async dropMonth(unit, version, from) {
      const first = formatLocalDate(from);
      const stands = months.get(at(unit), first);
      if (!stands || stands.version <= version) months.put(at(unit), first, { account: null, version });
    },
    async months(unit) {
      return months.list(at(unit)).flatMap(([, { account }]) => account ?? []);
    },

    async putRecords(companyId, some) {
      if (some.some((record) => record.companyId !== companyId)) {
        throw new StoreError('refused', 'a record of another company');
      }
      for (const record of some) records.put(companyId, record.unitId, record);
      moveOn(companyId);
    },
    async records(companyId, page) {
      return valuesOf(pageOf(records.list(companyId), `units#${companyId}`, page));
    },
    async revision(companyId) {
      return String(revisions.get(companyId) ?? '');
    },

    async rounds() {
      const known = new Set([...revisions.keys(), ...swept.keys()]);
      return [...known].sort().map((companyId) => ({
        companyId,
        revision: String(revisions.get(companyId) ?? ''),
        sweptUntil: swept.get(companyId) ?? null,
      }));
    },
    async putSwept(companyId, until) {
      swept.set(companyId, until);
    },

    async putQuarantined(messages) {
      for (const message of messages) {
        const { key, kept } = quarantinedAs(message);
        quarantine.put(message.companyId, key, kept);
      }
    },
    async dropQuarantined(messages) {
      for (const message of messages) quarantine.drop(message.companyId, quarantinedAs(message).key);
    },
    async quarantined(companyId, page) {
      return valuesOf(pageOf(quarantine.list(companyId), `quarantine#${companyId}`, page, true));
    },

    async putVisit(unit, visit) {
      visits.put(at(unit), visit.visitId, visit);
    },
    async dropVisit(unit, visitId) {
      return visits.drop(at(unit), visitId);
    },
    async visits(unit) {
      return visits.list(at(unit)).map(([, visit]) => visit);
    },
    async visitsOn(companyId, from, to) {
      const planned = visits
        .places()
        .filter((place) => place.startsWith(`${companyId}/`))
        .flatMap((place) => {
          const unitId = place.slice(companyId.length + 1);
          return visits.list(place).map(([, visit]) => ({ unitId, visit }));
        })
        .filter(({ visit }) => visit.date >= from && visit.date <= to);
      return sorted(
        planned.map((each): [string, typeof each] => [`${each.visit.date}#${each.visit.visitId}`, each]),
      ).map(([, each]) => each);
    },

    async putAttention(unit, version, row) {
      const stands = attention.get(unit.companyId, unit.unitId);
      if (!stands || stands.version <= version) attention.put(unit.companyId, unit.unitId, { row, version });
    },
    async dropAttention(unit, version) {
      const stands = attention.get(unit.companyId, unit.unitId);
      if (!stands || stands.version <= version)
        attention.put(unit.companyId, unit.unitId, { row: null, version });
    },
    async attention(companyId, page) {
      const rows = attention.list(companyId).flatMap(([unitId, { row }]): [string, Attention][] => {
        if (!row) return [];
        const order = String(Math.round(1e9 - 1000 * row.weight)).padStart(10, '0');
        return [[`${order}#${unitId}`, row]];
      });
      return valuesOf(pageOf(sorted(rows), `attention#${companyId}`, page));
    },

    async putAudited(companyId, entry) {
      const key = `${String(entry.at).padStart(16, '0')}#${audit.list(companyId).length}`;
      audit.put(companyId, key, entry);
      return key;
    },
    async dropAudited(companyId, key) {
      audit.drop(companyId, key);
    },
    async audited(companyId, page) {
      return valuesOf(pageOf(audit.list(companyId), `audit#${companyId}`, page, true));
    },

    async putPerson(companyId, person) {
      const stands = people.get('', person.mail);
      if (stands && stands.companyId !== companyId)
        throw new StoreError('refused', 'somebody of another company');
      people.put('', person.mail, { companyId, person });
    },
    async dropPerson(companyId, mail) {
      if (people.get('', mail)?.companyId === companyId) people.drop('', mail);
    },
    async personOf(mail) {
      return people.get('', mail);
    },
    async people(companyId) {
      const own = people.list('').filter(([, each]) => each.companyId === companyId);
      return sorted(own.map(([, { person }]): [string, Person] => [person.personId, person])).map(
        ([, person]) => person,
      );
    },

    async putPrincipal(principal) {
      principals.put('', principal.name, principal);
    },
    async principal(name) {
      return principals.get('', name);
    },
    async dropPrincipal(name) {
      principals.drop('', name);
    },

    async putClaim(claim) {
      claims.put(at(claim), 'claim', claim);
    },
    async claim(unit) {
      return claims.get(at(unit), 'claim');
    },
    async useClaim(claim, used) {
      const stands = claims.get(at(claim), 'claim');
      if (!isDeepStrictEqual(stands, claim)) return false;
      claims.put(at(claim), 'claim', { ...claim, used });
      return true;
    },
    async dropClaim(unit) {
      claims.drop(at(unit), 'claim');
    },

    async putCompany(company) {
      companies.put('', company.companyId, company);
      moveOn(company.companyId);
    },
    async company(companyId) {
      return companies.get('', companyId);
    },
    async companies() {
      return companies.list('').map(([, company]) => company);
    },
  };
}

function at({ companyId, unitId }: UnitRef): string {
  return `${companyId}/${unitId}`;
}

/** Values by place and key, kept as JSON so that nobody shares them. */
class Shelf<Value> {
  readonly #places = new Map<string, Map<string, string>>();

  places(): string[] {
    return [...this.#places.keys()];
  }
  get(place: string, key: string): Value | undefined {
    const json = this.#places.get(place)?.get(key);
    return json === undefined ? undefined : JSON.parse(json);
  }
  put(place: string, key: string, value: Value) {
    const values = this.#places.get(place) ?? new Map<string, string>();
    this.#places.set(place, values.set(key, JSON.stringify(value)));
  }
  drop(place: string, key: string): boolean {
    return this.#places.get(place)?.delete(key) ?? false;
  }
  /** In the order of the keys. */
  list(place: string): [string, Value][] {
    const values = [...(this.#places.get(place) ?? [])];
    return sorted(values.map(([key, json]): [string, Value] => [key, JSON.parse(json)]));
  }
}

function sorted<Value>(entries: [string, Value][]): [string, Value][] {
  return entries.sort(([a], [b]) => (a < b ? -1 : 1));
}

function pageOf<Value>(
  all: [string, Value][],
  of: string,
  { limit, cursor }: PageRequest,
  descending = false,
): Page<[string, Value]> {
  const [last] = cursor === undefined ? [] : decodeCursor(cursor, of, 1);
  const ordered = descending ? all.reverse() : all;
  const left = ordered.filter(([key]) => last === undefined || (descending ? key < last : key > last));
  const items = left.slice(0, limit);
  const end = items.at(-1);
  return { items, next: end && left.length > limit ? encodeCursor(of, [end[0]]) : undefined };
}

function valuesOf<Value>({ items, next }: Page<[string, Value]>): Page<Value> {
  return { items: items.map(([, value]) => value), next };
}
