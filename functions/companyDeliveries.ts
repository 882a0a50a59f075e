import type { SaltNeed } from '../lib/salt/deliveries/delivery.ts';
import { type DeliveryPlan, deliveryPlan, WEEKS } from '../lib/salt/deliveries/deliveryPlan.ts';
import { needOf } from '../lib/salt/deliveries/needOf.ts';
import type { Store, UnitRef, Visit } from '../lib/store/store.ts';
import type { Rules } from '../lib/watch/rules.ts';
import { compareText } from '../shared/compareText.ts';
import type { UnitRecord } from '../shared/registry.ts';
import type { Instant } from '../shared/time/instant.ts';
import { formatLocalDate, type LocalDate } from '../shared/time/localDate.ts';
import { toUnit } from '../shared/toUnit.ts';
import { atOnce } from './atOnce.ts';
import { recordPages } from './everything.ts';

/** Which houses are wanted: those of a region, of a round (null: on no round), or all. */
export interface WantedHouses {
  readonly region?: string | undefined;
  readonly round?: string | null | undefined;
}

/** What the plan says of a unit beside its salt: where it stands, when it was last heard, and who goes there already. */
export interface HouseFacts {
  readonly siteId: string;
  readonly siteName: string | null;
  readonly address: string | null;
  readonly lastReported: LocalDate | null;
  readonly visits: readonly Visit[];
}

/** Deliveries of a company, as far as they are wanted. */
export interface CompanyDeliveries {
  readonly plan: DeliveryPlan;
  readonly today: LocalDate;
  /** Units that are wanted. */
  readonly units: number;
  /** Every region of the company with its rounds, wanted or not; null stands for units on no round. */
  readonly regions: readonly { readonly region: string; readonly rounds: readonly (string | null)[] }[];
  /** Of the houses in the plan and those counted by rate. */
  factsOf(unitId: string): HouseFacts;
}

interface Known {
  readonly need: SaltNeed;
  readonly record: UnitRecord;
  readonly lastReported: LocalDate | null;
}

/** Plans a company's deliveries of salt from the heads of its units, a page of its registry at a time. */
export async function companyDeliveries(
  store: Store,
  companyId: string,
  rules: Rules,
  now: Instant,
  wanted: WantedHouses,
): Promise<CompanyDeliveries> {
  const known: Known[] = [];
  const regions = new Map<string, Set<string | null>>();
  let today = Number.POSITIVE_INFINITY;
  for await (const records of recordPages(store, companyId)) {
    for (const { region, round = null } of records) {
      regions.set(region, (regions.get(region) ?? new Set()).add(round));
    }
    // Of the company's earliest site, whichever houses are wanted: the weeks are the same then.
    for (const record of records) today = Math.min(today, toUnit(record).zone.dateAt(now));
    const some = records.filter((record) => isWanted(record, wanted));
    known.push(...(await atOnce(16, some, (record) => knownOf(store, record, rules, now))));
  }
  if (!Number.isFinite(today)) today = Math.floor(now / 86_400_000);
  const plan = deliveryPlan(
    known.map(({ need }) => need),
    today,
    rules.deliveries,
  );
  const visits = await visitsWithin(store, companyId, today);
  const byUnit = new Map(known.map((each) => [each.record.unitId, each]));
  return {
    plan,
    today,
    units: known.length,
    regions: [...regions]
      .map(([region, rounds]) => ({ region, rounds: [...rounds].sort(nullLast) }))
      .sort((a, b) => compareText(a.region, b.region)),
    factsOf: (unitId) => factsOf(byUnit.get(unitId), visits.get(unitId)),
  };
}

function isWanted({ region, round }: UnitRecord, wanted: WantedHouses): boolean {
  return (
    (wanted.region === undefined || region === wanted.region) &&
    (wanted.round === undefined || (round ?? null) === wanted.round)
  );
}

async function knownOf(store: Store, record: UnitRecord, rules: Rules, now: Instant): Promise<Known> {
  const { companyId, unitId } = record;
  const ref: UnitRef = { companyId, unitId };
  const { stored } = await store.unit(ref, { fresh: false });
  if (!stored) return { record, need: { is: 'none', why: 'nothing-reported' }, lastReported: null };
  const need = needOf(toUnit(record), stored.head, rules, now);
  return { record, need, lastReported: stored.head.state.lastReported };
}

/** Planned visits from yesterday until the last week is over, the earliest of a unit first. */
async function visitsWithin(
  store: Store,
  companyId: string,
  today: LocalDate,
): Promise<Map<string, Visit[]>> {
  const until = today + 7 * WEEKS;
  const planned = await store.visitsOn(companyId, formatLocalDate(today - 1), formatLocalDate(until));
  const visits = new Map<string, Visit[]>();
  for (const { unitId, visit } of planned) visits.set(unitId, [...(visits.get(unitId) ?? []), visit]);
  return visits;
}

function factsOf(known: Known | undefined, visits: readonly Visit[] = []): HouseFacts {
  if (!known) throw new RangeError('only houses of the plan are told of');
  const { record, lastReported } = known;
  const { siteId, site } = record;
  return { siteId, siteName: site?.name ?? null, address: site?.address ?? null, lastReported, visits };
}

function nullLast(a: string | null, b: string | null): number {
  return Number(a === null) - Number(b === null) || compareText(a ?? '', b ?? '');
}
