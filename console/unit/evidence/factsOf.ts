import { amount, count, percent, type QuantityName } from '../../show/amounts.ts';
import { day, moment } from '../../show/dates.ts';
import type { Likings } from '../../show/Likings.tsx';
import { plain } from '../../show/words.ts';
import { EVIDENCE_WORDS } from './words.ts';

interface EvidenceFact {
  readonly name: string;
  readonly value: string;
}

/** What evidence says in words; what is not known, or stands elsewhere on the page, is left out. */
export function factsOf(
  evidence: Readonly<Record<string, unknown>>,
  likings: Likings,
): readonly EvidenceFact[] {
  return Object.entries(evidence).flatMap(([key, value]) => {
    const words = wordsOf(key, value, likings);
    return words === undefined ? [] : [{ name: nameOf(key), value: words }];
  });
}

/** The unit in which a member counts, by its name. */
const UNITS: readonly (readonly [RegExp, QuantityName])[] = [
  [/gallons/i, 'gallons'],
  [/Grains$/, 'grains'],
  [/Gpg$/, 'gpg'],
  [/Lb$/, 'lb'],
];

const SHARES = /^probability|Share$|^obstructedBefore$|^gallonsOverTrue$|^meanOverrun$/;
const TIMES = /^(recentUse|recentPeak|brine|programmed)Over|^overCapacity$|^timesUsual$/;

function wordsOf(key: string, value: unknown, likings: Likings): string | undefined {
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  if (typeof value === 'string') return textOf(value, likings);
  if (typeof value !== 'number' || !Number.isFinite(value)) return undefined;
  if (SHARES.test(key)) return percent(value, likings);
  if (TIMES.test(key)) return `${count(value, likings)} times`;
  const [, quantity] = UNITS.find(([ending]) => ending.test(key)) ?? [];
  if (quantity) return amount(value, quantity, likings) + (/PerDay/.test(key) ? ' a day' : '');
  if (/Gpm$/.test(key)) return flow(value, likings);
  if (/MgPerL$/.test(key)) return `${count(value, likings)} mg/L`;
  if (/Minutes$/.test(key)) return `${count(value, likings)} min`;
  if (/Hours$/.test(key)) return `${count(value, likings)} h`;
  if (/PerYear$/.test(key)) return `${count(value, likings)} a year`;
  if (/Hour$/.test(key)) return `${value}:00`;
  return count(value, likings);
}

function textOf(value: string, { locale, timeZone }: Likings): string | undefined {
  if (value === '') return undefined;
  if (/^\d{4}-\d\d-\d\d$/.test(value)) return day(value, locale);
  if (/^\d{4}-\d\d-\d\dT[\d:.]+Z$/.test(value)) return moment(value, { locale, timeZone });
  return plain(value);
}

function flow(gpm: number, likings: Likings): string {
  return `${amount(gpm, 'gallons', likings)}/min`;
}

function nameOf(key: string): string {
  return EVIDENCE_WORDS[key] ?? fromCamel(key);
}

/** `wrongReadings` as `Wrong readings`, for what has no words of its own yet. The unit at its end stands with the value. */
function fromCamel(key: string): string {
  const words = key
    .replace(/(Gallons|Grains|Gpg|Lb|Gpm|MgPerL|Minutes|Hours)$/, '')
    .replace(/([a-z\d])([A-Z])/g, '$1 $2')
    .toLowerCase();
  return words.charAt(0).toUpperCase() + words.slice(1);
}
