/*
 * A plain reckoning of accounts straight from the lines, by the words of the contract and of the README alone: nothing of
 * the project's own code is used. Months, days and zones by the runtime's Intl.
 */

/** A unit of 1 ft³ that is dosed with 6 lb and of which no settings event changes the dose. */
export interface PlainUnit {
  readonly unitId: string;
  readonly timeZone: string;
  readonly region: string;
  readonly formerRegions: readonly { readonly region: string; readonly until: string }[];
}

export interface PlainAccount {
  units: number;
  unitsReporting: number;
  daysCounted: number;
  daysExpected: number;
  regenerations: number;
  treatedGallons: number;
  measuredSaltLb: number;
  inferredSaltLb: number;
  deliveredSaltLb: number;
  regenerationGallons: number;
  inferredRegenerationGallons: number;
}

interface Line {
  id: string;
  type: string;
  time: string;
  recordedtime: string;
  data: Record<string, { value: number; unit: string }> & { date?: string; trigger?: string };
}

const DAY = 86_400_000;
const DOSE_LB = 6;
const GALLONS = { '[gal_us]': 1, L: 1 / 3.785411784, m3: 1 / 0.003785411784 } as Record<string, number>;

/** Accounts by `region month`. */
export function plainAccounts(
  units: readonly PlainUnit[],
  lines: readonly string[],
  until: number,
): Map<string, PlainAccount> {
  const accounts = new Map<string, PlainAccount>();
  for (const unit of units) {
    const touched = new Map<string, { reports: boolean }>();
    const at = (date: string, reports = false) => {
      const key = `${regionOn(unit, date)} ${date.slice(0, 7)}`;
      const account = accounts.get(key) ?? emptyAccount();
      accounts.set(key, account);
      touched.set(key, { reports: reports || touched.get(key)?.reports === true });
      return account;
    };
    const own = standing(unit, lines, until);
    const days = standingDays(own);
    for (const { data } of days.values()) {
      const account = at(data.date ?? '', true);
      account.daysCounted += 1;
      account.treatedGallons += gallons(data.volume);
    }
    const [first] = [...days.keys()].sort();
    if (first !== undefined)
      for (let date = first; date < dateAt(until, unit.timeZone); date = nextDate(date))
        at(date).daysExpected += 1;
    for (const { type, time, data } of own) {
      const date = dateAt(Date.parse(time), unit.timeZone);
      if (type === 'brinebell.regeneration.v1') addRegeneration(at(date), data);
      const added = type === 'brinebell.service-visit.v1' ? (data.saltAdded?.value ?? 0) : 0;
      if (added > 0) at(date).deliveredSaltLb += added;
    }
    for (const [key, { reports }] of touched) {
      const account = accounts.get(key);
      if (!account) continue;
      account.units += 1;
      if (reports) account.unitsReporting += 1;
    }
  }
  return accounts;
}

/** Of each unit that has reported a day: days reported, days owed, and those since the last. */
export function plainDays(
  units: readonly PlainUnit[],
  lines: readonly string[],
  until: number,
): Map<string, { counted: number; owed: number; silent: number }> {
  const days = new Map<string, { counted: number; owed: number; silent: number }>();
  for (const unit of units) {
    const dates = [...standingDays(standing(unit, lines, until)).keys()].sort();
    const [first] = dates;
    const last = dates.at(-1);
    if (first === undefined || last === undefined) continue;
    const end = Date.parse(dateAt(until, unit.timeZone)) / DAY;
    days.set(unit.unitId, {
      counted: dates.length,
      owed: end - Date.parse(first) / DAY,
      silent: end - Date.parse(last) / DAY - 1,
    });
  }
  return days;
}

function addRegeneration(account: PlainAccount, data: Line['data']) {
  account.regenerations += 1;
  if (data.water) account.regenerationGallons += gallons(data.water);
  else account.inferredRegenerationGallons += 80;
  const drop = data.saltBefore && data.saltAfter ? data.saltBefore.value - data.saltAfter.value : undefined;
  // A rise of more than 13 lb is a refill, which says nothing of what was drawn; nor does a drop of twice the dose, or
  // the dose and 13 lb.
  if (drop !== undefined && drop >= -13 && drop <= Math.max(2 * DOSE_LB, DOSE_LB + 13))
    account.measuredSaltLb += drop;
  else account.inferredSaltLb += data.brineDrawn?.value === 0 ? 0 : DOSE_LB;
}

/** The copy of each id that was known first, of those known by then. */
function standing({ unitId }: PlainUnit, lines: readonly string[], until: number): Line[] {
  const byId = new Map<string, Line>();
  for (const line of lines) {
    if (!line.includes(`/units/${unitId}"`)) continue;
    const event: Line = JSON.parse(line);
    const other = byId.get(event.id);
    if (!other || Date.parse(event.recordedtime) < Date.parse(other.recordedtime)) byId.set(event.id, event);
  }
  return [...byId.values()].filter(({ recordedtime }) => Date.parse(recordedtime) <= until);
}

/** By date, the flow day with the later time, then the greater id. */
function standingDays(events: readonly Line[]): Map<string, Line> {
  const days = new Map<string, Line>();
  for (const event of events) {
    const { date } = event.data;
    if (event.type !== 'brinebell.flow-day.v1' || date === undefined) continue;
    const other = days.get(date);
    const later = other ? Date.parse(event.time) - Date.parse(other.time) : 1;
    if (!other || later > 0 || (later === 0 && event.id > other.id)) days.set(date, event);
  }
  return days;
}

function regionOn({ region, formerRegions }: PlainUnit, date: string): string {
  return formerRegions.find(({ until }) => date <= until)?.region ?? region;
}

const calendars = new Map<string, Intl.DateTimeFormat>();

function dateAt(instant: number, timeZone: string): string {
  const calendar = calendars.get(timeZone) ?? new Intl.DateTimeFormat('en-CA', { timeZone });
  calendars.set(timeZone, calendar);
  return calendar.format(instant);
}

function nextDate(date: string): string {
  return new Date(Date.parse(date) + DAY).toISOString().slice(0, 10);
}

function gallons(volume: { value: number; unit: string } | undefined): number {
  return volume ? volume.value * (GALLONS[volume.unit] ?? Number.NaN) : Number.NaN;
}

function emptyAccount(): PlainAccount {
  return {
    units: 0,
    unitsReporting: 0,
    daysCounted: 0,
    daysExpected: 0,
    regenerations: 0,
    treatedGallons: 0,
    measuredSaltLb: 0,
    inferredSaltLb: 0,
    deliveredSaltLb: 0,
    regenerationGallons: 0,
    inferredRegenerationGallons: 0,
  };
}
