import type { Alert } from '../../shared/alerts.ts';
import type { Rejection } from '../../shared/quarantine.ts';
import type { UnitRecord } from '../../shared/registry.ts';
import type { Instant } from '../../shared/time/instant.ts';
import type { LocalDate } from '../../shared/time/localDate.ts';
import type { ActsSince, ByWhom, DoneAct, Handling } from '../live/alertActs.ts';
import type { Head } from '../live/head.ts';
import type { Transition } from '../live/transitions.ts';
import type { MonthAccount } from '../salt/monthAccount.ts';
import type { Attention } from './attention.ts';
import type { Claim } from './claim.ts';
import type { Company } from './company.ts';
import type { Person } from './person.ts';
import type { Principal } from './principal.ts';

/** Names a unit. Every read and write below is of one company: nothing crosses. */
export interface UnitRef {
  readonly companyId: string;
  readonly unitId: string;
}

/** An accepted event as it is kept: the line itself with its `recordedtime`, under a key of its own. */
export interface StoredFact {
  /** Begins with the event's id, so that all copies of an id are read together. */
  readonly key: string;
  readonly line: string;
}

/** Accepted events of one unit. */
export interface UnitFacts {
  readonly unit: UnitRef;
  readonly facts: readonly StoredFact[];
}

/** Names an event id of which all copies are wanted. */
export interface WantedCopies {
  readonly id: string;
  /** The key of one that must be among them: a read that is behind is asked again. */
  readonly including?: string | undefined;
}

/** What must still be written elsewhere of what is written already in a unit's head. */
export interface Outbox {
  readonly alerts: readonly { readonly alertId: string; readonly alert: Alert }[];
  /** Alerts that facts which came late have shown never to have been. */
  readonly withdrawn: readonly string[];
  /** What people did about alerts, those above or older ones. */
  readonly handled: readonly ActsSince[];
  readonly months: readonly MonthAccount[];
  /** First days of accounts that are none any more. */
  readonly lostMonths: readonly LocalDate[];
  readonly transitions: readonly Transition[];
}

/** A unit's one item: what changes together is written together, under a version. */
export interface StoredHead {
  readonly head: Head;
  /** Of the registry record and rules by which it was folded. */
  readonly basis: string;
  readonly outbox: Outbox | null;
}

/** What the table holds of a unit: `version` is 0 before its head is first written. */
export interface StoredUnit {
  readonly record: UnitRecord | undefined;
  readonly stored: StoredHead | undefined;
  readonly version: number;
}

/** An alert as it is listed, with what people have done about it. */
export interface StoredAlert extends Handling {
  readonly alertId: string;
  readonly alert: Alert;
  /** In their order; what comes of them is told by the other members. */
  readonly acts: readonly DoneAct[];
}

/** A visit that is planned. */
export interface Visit extends ByWhom {
  readonly visitId: string;
  readonly technician: string;
  /** `YYYY-MM-DD` of the site. */
  readonly date: string;
  readonly reason: string;
}

/** A message that was set aside: why, when it came and from whom. */
export interface Quarantined extends Omit<Rejection, 'line'> {
  readonly companyId: string;
  /** The meter that sent it, where one did. */
  readonly sender: string;
  readonly receivedAt: Instant;
}

/** How far the units of a company have been looked at by the clock. */
export interface Round {
  readonly companyId: string;
  /** As of {@link Store.revision}. */
  readonly revision: string;
  /** Null before the first time. */
  readonly sweptUntil: Instant | null;
}

/** What somebody did, for those who ask later. */
export interface Audited extends ByWhom {
  readonly what: string;
  readonly unitId: string | null;
  /** What was said with it. */
  readonly detail: string | null;
}

/** Some of what was asked for, and the cursor to ask for more with. */
export interface Page<Item> {
  readonly items: readonly Item[];
  readonly next?: string | undefined;
}

export interface PageRequest {
  /** At most this many, from 1. */
  readonly limit: number;
  readonly cursor?: string | undefined;
}

/**
 * Where everything is kept. Every write can be repeated without harm. What fails throws a StoreError; `unavailable`
 * leaves it open whether the write was done.
 */
export interface Store {
  /** Facts are only ever added, in any order and as often as one likes; those of many units in as few calls as of one. */
  putFacts(ofUnits: readonly UnitFacts[]): Promise<void>;
  /** All copies of each of some event ids, in the order in which they are asked for. */
  copies(unit: UnitRef, wanted: readonly WantedCopies[]): Promise<readonly (readonly StoredFact[])[]>;
  facts(unit: UnitRef, page: PageRequest): Promise<Page<StoredFact>>;

  /** @param fresh whether a read that may be a moment behind will not do */
  unit(unit: UnitRef, options: { fresh: boolean }): Promise<StoredUnit>;
  /** Writes a unit's head as version `version` + 1. Throws `conflict` unless `version` is the one that stands. */
  putHead(unit: UnitRef, version: number, stored: StoredHead): Promise<void>;
  /** Takes the outbox of that version off; does nothing if another version stands. */
  clearOutbox(unit: UnitRef, version: number): Promise<void>;
  putCheckpoints(unit: UnitRef, checkpoints: readonly { key: string; head: Head }[]): Promise<void>;
  checkpoint(unit: UnitRef, key: string): Promise<Head | undefined>;

  /**
   * Writes what is known of an alert and leaves what people did about it.
   *
   * @param version of the head that it was taken from: what a later one wrote stands, and that is no error
   */
  putAlert(unit: UnitRef, version: number, alertId: string, alert: Alert): Promise<void>;
  /** Takes an alert off all lists, as of a version of the head; a later version may bring it back. */
  dropAlert(unit: UnitRef, version: number, alertId: string): Promise<void>;
  /**
   * Writes what people did about an alert, as of a version of the head. Does nothing if there is no such alert, or if a
   * later version has been written to it.
   */
  putActs(unit: UnitRef, version: number, alertId: string, acts: readonly DoneAct[]): Promise<void>;
  /** Notes that people are told of an alert. It stays noted where the alert is dropped. */
  putTold(unit: UnitRef, alertId: string): Promise<void>;
  /** Whether that has been noted. */
  wasTold(unit: UnitRef, alertId: string): Promise<boolean>;
  /** Never a moment behind: acts are added to those that it tells of. */
  alert(unit: UnitRef, alertId: string): Promise<StoredAlert | undefined>;
  alertsOf(unit: UnitRef): Promise<readonly StoredAlert[]>;
  /** Alerts of a company: open ones the most urgent first, over ones the latest first. */
  alerts(companyId: string, open: boolean, page: PageRequest): Promise<Page<StoredAlert>>;

  /** An account of a month that is over, as of a version of the head; the running month's is in the head. */
  putMonth(unit: UnitRef, version: number, account: MonthAccount): Promise<void>;
  /** Drops the account that begins on a local day, as of a version of the head; a later version may bring it back. */
  dropMonth(unit: UnitRef, version: number, from: LocalDate): Promise<void>;
  /** By their first days. Without `fresh` it may be a moment behind. */
  months(unit: UnitRef, options?: { readonly fresh: boolean }): Promise<readonly MonthAccount[]>;

  /** Adds or replaces units of one company, and moves its registry's revision on. */
  putRecords(companyId: string, records: readonly UnitRecord[]): Promise<void>;
  records(companyId: string, page: PageRequest): Promise<Page<UnitRecord>>;
  /** Differs whenever the company's registry, rules or channels have changed since. */
  revision(companyId: string): Promise<string>;

  /** Every company, with up to when its units have been looked at by the clock. */
  rounds(): Promise<readonly Round[]>;
  putSwept(companyId: string, until: Instant): Promise<void>;

  putQuarantined(messages: readonly Quarantined[]): Promise<void>;
  /** Takes messages off that are whole as they were listed: of a longer one only the beginning is kept. */
  dropQuarantined(messages: readonly Quarantined[]): Promise<void>;
  /** The latest first. */
  quarantined(companyId: string, page: PageRequest): Promise<Page<Quarantined>>;

  putVisit(unit: UnitRef, visit: Visit): Promise<void>;
  /** Returns false if there is no such visit. */
  dropVisit(unit: UnitRef, visitId: string): Promise<boolean>;
  visits(unit: UnitRef): Promise<readonly Visit[]>;
  /** Visits of a company on the days from `from` to `to`, both `YYYY-MM-DD` and in it; the earliest first. */
  visitsOn(
    companyId: string,
    from: string,
    to: string,
  ): Promise<readonly { readonly unitId: string; readonly visit: Visit }[]>;

  /** Writes the row of a unit that needs attention, as of a version of its head; does nothing if a later one was written. */
  putAttention(unit: UnitRef, version: number, row: Attention): Promise<void>;
  dropAttention(unit: UnitRef, version: number): Promise<void>;
  /** Units of a company that need attention, the worst first. */
  attention(companyId: string, page: PageRequest): Promise<Page<Attention>>;

  /** Returns the key of the entry. */
  putAudited(companyId: string, entry: Audited): Promise<string>;
  /** Takes back an entry of what was refused after all. */
  dropAudited(companyId: string, key: string): Promise<void>;
  /** The latest first. */
  audited(companyId: string, page: PageRequest): Promise<Page<Audited>>;

  /** Throws `refused` where the mail is that of somebody at another company. */
  putPerson(companyId: string, person: Person): Promise<void>;
  dropPerson(companyId: string, mail: string): Promise<void>;
  personOf(mail: string): Promise<{ readonly companyId: string; readonly person: Person } | undefined>;
  people(companyId: string): Promise<readonly Person[]>;

  putPrincipal(principal: Principal): Promise<void>;
  principal(name: string): Promise<Principal | undefined>;
  dropPrincipal(name: string): Promise<void>;

  /** Puts a unit's claim in place of the one before. */
  putClaim(claim: Claim): Promise<void>;
  /** Never a moment behind. */
  claim(unit: UnitRef): Promise<Claim | undefined>;
  /** Notes that a claim, as it was read, is used. Returns false if it is no longer as it was. */
  useClaim(claim: Claim, used: NonNullable<Claim['used']>): Promise<boolean>;
  dropClaim(unit: UnitRef): Promise<void>;

  putCompany(company: Company): Promise<void>;
  company(companyId: string): Promise<Company | undefined>;
  companies(): Promise<readonly Company[]>;
}
