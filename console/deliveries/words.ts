import { amount, whole } from '../show/amounts.ts';
import { day } from '../show/dates.ts';
import type { Likings } from '../show/Likings.tsx';
import { plain } from '../show/words.ts';
import type { Choice } from './choice.ts';
import type { DatedUnit, UnitByRate, Week } from './types.ts';

/** Such as `Nov 26 – Dec 2`, or that it is late already. */
export function weekWords({ from, to }: Week, { locale }: Pick<Likings, 'locale'>, today: string): string {
  return from === null ? 'Late already' : `${day(from, locale, today)} – ${day(to, locale, today)}`;
}

export function roundWords(round: string | null): string {
  return round === null ? 'no round' : plain(round);
}

/** What a heading adds where not all units are looked at, so that paper says so too. */
export function scopeWords({ region, round }: Choice): string {
  const parts = [
    ...(region === undefined ? [] : [plain(region)]),
    ...(round === undefined ? [] : [roundWords(round === '' ? null : round)]),
  ];
  return parts.length === 0 ? '' : `: ${parts.join(', ')}`;
}

/** `1 bag`, `3 bags`. */
export function bags(count: number, likings: Pick<Likings, 'locale'>): string {
  return `${whole(count, likings)} ${count === 1 ? 'bag' : 'bags'}`;
}

/** The bags that are expected to be asked for, of which there may be a part. */
export function askedWords(mean: number, likings: Pick<Likings, 'locale'>): string {
  return mean > 0 && mean < 0.5 ? 'under 1 bag' : bags(Math.round(mean), likings);
}

/** `1 unit`, `3 units`. */
export function units(count: number, likings: Pick<Likings, 'locale'>): string {
  return `${whole(count, likings)} ${count === 1 ? 'unit' : 'units'}`;
}

/** What units without a date come to: their salt a week, and about how many bags that is. */
export function byRateWords(rows: readonly UnitByRate[], bagLb: number, likings: Likings): string {
  const lb = rows.reduce((sum, { lbPerWeek }) => sum + lbPerWeek, 0);
  const verb = rows.length === 1 ? 'uses' : 'use';
  return `${units(rows.length, likings)} without a date ${verb} ${amount(Math.round(lb), 'lb', likings)} (about ${askedWords(lb / bagLb, likings)}) a week`;
}

/** How full the tank is, and how that is known. */
export function levelWords({ levelLb, levelDeviationLb, levelBy, isEmpty }: DatedUnit, likings: Likings) {
  if (isEmpty) return { level: 'empty', how: 'regenerations find no salt' };
  const level = `${amount(Math.round(levelLb), 'lb', likings)} ± ${amount(Math.max(1, Math.round(levelDeviationLb)), 'lb', likings)}`;
  return { level, how: LEVEL_BY_WORDS[levelBy] };
}

/** How a level is known where no working sensor tells; the usual needs no word. */
const LEVEL_BY_WORDS: Readonly<Record<DatedUnit['levelBy'], string | undefined>> = {
  sensor: undefined,
  'stuck-sensor': 'the level sensor sticks: by the doses since',
  balance: 'no sensor: by what was brought and drawn',
};

export const WHY_WORDS: Readonly<Record<UnitByRate['why'], string>> = {
  'no-sensor': 'no level sensor, and no visit that brought salt on record',
  'not-read': 'the level sensor has sent nothing yet',
  'long-silent': 'nothing heard of it for long',
};
