import { type LocalDate, weekdayOf } from '../../shared/time/localDate.ts';
import type { Chance } from './chance.ts';
import type { Confounder } from './confounders.ts';
import { runsOf, type WaterUse } from './waterUse.ts';

/** Indoor use of a home, US gallons a day: Water Research Foundation, Residential End Uses of Water v2 (DeOreo 2016). */
const MEAN_GALLONS = 138;
/** Geometric standard deviation between homes: NRC 1999, Risk Assessment of Radon in Drinking Water, p. 56. */
const SPREAD_BETWEEN_HOMES = 1.8;
/** Occupants of a home; common sizes more often. Invented, mean 2.5. */
const OCCUPANTS = [1, 1, 1, 2, 2, 2, 2, 3, 3, 4, 4, 5] as const;
const MEAN_OCCUPANTS = 2.5;

/**
 * Absences a year from one day up, and the tail of their length: P(at least n days) = (1 + (n - 1) / SCALE) ^ -TAIL. They
 * give runs of zero days about as often as real homes have them (fixtures/daiad-alicante without the two homes that
 * stand empty, a home and year): 1.5 of 3 days or more, 0.3 of 7, 0.08 of 14. Homes differ widely: half have none.
 */
export const ABSENCES_A_YEAR = 8.8;
export const ABSENCE_SPREAD = 1.4;
const TAIL = 2.3;
const SCALE = 1.9;
const LONGEST_ABSENCE_DAYS = 120;
/** Share of the homes in which an icemaker or a humidifier goes on drawing while nobody is there. Invented. */
export const TRICKLING_SHARE = 0.08;

/** Invents the daily use of a household: a level, weekdays, seasons, guests, people who join or leave, absences. */
export function inventHousehold(start: LocalDate, days: number, chance: Chance): WaterUse {
  const occupants = chance.pick(OCCUPANTS);
  const sigma = Math.log(SPREAD_BETWEEN_HOMES);
  // The lognormal's mean is 1. The tails are cut: no home in use draws less than 20 or more than 700 gallons a day.
  const home = Math.exp(chance.normal(-(sigma ** 2) / 2, sigma));
  const level = clamp((MEAN_GALLONS * home * occupants) / MEAN_OCCUPANTS, 20, 700);
  const weekday = weekdayPattern(chance);
  const season = chance.happens(0.25) ? chance.uniform(0.1, 0.35) : 0;
  // Reference values between 0.3 and 0.6: from memory, unverified.
  const cv = chance.uniform(0.3, 0.6);
  const { people, events } = peopleByDay(occupants, days, chance);
  const away = absentDays(days, chance);
  const trickle = chance.happens(TRICKLING_SHARE) ? chance.uniform(1, 5) : 0;

  const gallons = Array.from({ length: days }, (_, day) => {
    const date = start + day;
    // Highest in the middle of July.
    const seasonal = 1 + season * Math.cos((2 * Math.PI * (date - 195)) / 365.25);
    const expected = level * (people[day] ?? 1) * seasonal * (weekday[weekdayOf(date)] ?? 1);
    const atHome = chance.gamma(expected, cv);
    return away[day] ? trickle * chance.uniform(0.8, 1.2) : atHome;
  });
  const garden = irrigation(start, days, level, chance);
  for (const [day, { gallons: more }] of garden.days) {
    if (!away[day]) gallons[day] = (gallons[day] ?? 0) + more;
  }
  return {
    gallons,
    unreported: new Set(),
    absences: runsOf(away),
    occupants,
    longDraws: new Map([...garden.days].map(([day, { minutes }]) => [day, minutes])),
    events: [...events, ...garden.events],
  };
}

/** A garden that is watered through the softener every other morning of some summer weeks: one home in twelve. Invented. */
function irrigation(start: LocalDate, days: number, level: number, chance: Chance) {
  const watered = new Map<number, { gallons: number; minutes: number }>();
  const events: Confounder[] = [];
  const isGarden = chance.happens(1 / 12);
  const share = chance.uniform(0.3, 1.5);
  const minutes = chance.whole(40, 240);
  const opens = chance.whole(135, 170);
  const closes = chance.whole(220, 265);
  if (!isGarden) return { days: watered, events };
  for (let day = 0; day < days; day++) {
    const dayOfYear = dayOfYearOf(start + day);
    if (dayOfYear < opens || dayOfYear > closes || day % 2 === 1) continue;
    watered.set(day, { gallons: 2 * share * level * chance.uniform(0.8, 1.2), minutes });
  }
  const on = [...watered.keys()];
  for (const { first, last } of seasonsOf(on)) events.push({ name: 'irrigation', first, last });
  return { days: watered, events };
}

/** Stretches of days that follow each other within a week. */
function seasonsOf(days: readonly number[]): { first: number; last: number }[] {
  const seasons: { first: number; last: number }[] = [];
  for (const day of days) {
    const season = seasons.at(-1);
    if (season && day - season.last <= 7) season.last = day;
    else seasons.push({ first: day, last: day });
  }
  return seasons;
}

function dayOfYearOf(date: LocalDate): number {
  const at = new Date(date * 86_400_000);
  return Math.floor((at.getTime() - Date.UTC(at.getUTCFullYear(), 0, 1)) / 86_400_000);
}

/** Factors of the seven weekdays, mean 1. */
function weekdayPattern(chance: Chance): number[] {
  const weekend = chance.normal(0, 0.12);
  const raw = Array.from({ length: 7 }, (_, day) =>
    Math.max(0.4, 1 + (day === 0 || day === 6 ? weekend : 0) + chance.normal(0, 0.05)),
  );
  const mean = raw.reduce((sum, each) => sum + each, 0) / 7;
  return raw.map((each) => each / mean);
}

/** Share of the usual number of people who are there, by day: guests come, an occupant joins or leaves for good. */
function peopleByDay(
  occupants: number,
  days: number,
  chance: Chance,
): { people: number[]; events: Confounder[] } {
  const people = new Array<number>(days).fill(1);
  const events: Confounder[] = [];
  if (chance.happens((0.2 * days) / 365)) {
    const joins = occupants === 1 || chance.happens(0.5);
    const day = chance.whole(0, days - 1);
    people.fill((occupants + (joins ? 1 : -1)) / occupants, day);
    events.push({ name: joins ? 'occupant-joins' : 'occupant-leaves', first: day, last: days - 1 });
  }
  for (let day = 0; day < days; day++) {
    if (!chance.happens(3 / 365)) continue;
    const guests = chance.whole(1, 3);
    const leave = day + chance.whole(2, 10);
    events.push({ name: 'guests', first: day, last: Math.min(days, leave) - 1 });
    for (; day < Math.min(days, leave); day++) people[day] = (people[day] ?? 1) + guests / occupants;
  }
  return { people, events };
}

function absentDays(days: number, chance: Chance): boolean[] {
  const away = new Array<boolean>(days).fill(false);
  const aDay = chance.gamma(ABSENCES_A_YEAR / 365, ABSENCE_SPREAD);
  for (let day = 0; day < days; day++) {
    if (!chance.happens(aDay)) continue;
    const drawn = 1 + Math.floor(SCALE * (chance.uniform(1e-9, 1) ** (-1 / TAIL) - 1));
    const length = Math.min(drawn, LONGEST_ABSENCE_DAYS);
    away.fill(true, day, day + length);
    // The day of the return is at home: two absences do not run into each other.
    day += length;
  }
  return away;
}

/** The share of absences that last for so many days or more. */
export function atLeastShare(days: number): number {
  return days > LONGEST_ABSENCE_DAYS ? 0 : (1 + (days - 1) / SCALE) ** -TAIL;
}

function clamp(value: number, low: number, high: number): number {
  return Math.min(high, Math.max(low, value));
}
