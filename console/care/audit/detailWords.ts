import { day, moment } from '../../show/dates.ts';
import { CAUSE_WORDS, plain } from '../../show/words.ts';

interface How {
  readonly locale: string;
  readonly timeZone: string;
  /** What somebody is called. */
  readonly nameOf: (personId: string) => string;
}

/** So much is shown of what was said with an act, characters. */
const SHOWN = 300;

/** What was said with an act: the fields of its JSON in words, or as it stands where it is none (it is kept cut). */
export function detailWords(detail: string, how: How): string {
  const said = parsed(detail);
  const words = said === undefined ? detail : fieldsWords(said, how);
  return words.length > SHOWN ? `${words.slice(0, SHOWN)} …` : words;
}

function fieldsWords(said: Readonly<Record<string, unknown>>, how: How): string {
  return Object.entries(said)
    .filter(([name]) => name !== 'visitId')
    .map(([name, value]) => fieldWords(name, value, how))
    .filter((words) => words !== '')
    .join('; ');
}

function fieldWords(name: string, value: unknown, how: How): string {
  if (value === null || value === '' || (Array.isArray(value) && value.length === 0)) return '';
  if (name === 'technician' && typeof value === 'string') return `technician ${how.nameOf(value)}`;
  if (name === 'date') return `on ${valueWords(value, how)}`;
  return `${spaced(name)} ${valueWords(value, how)}`;
}

function valueWords(value: unknown, how: How): string {
  if (Array.isArray(value)) return value.map((each) => valueWords(each, how)).join(', ');
  if (typeof value === 'object' && value !== null) return Object.values(value).join(' ');
  if (typeof value !== 'string') return String(value);
  if (/^\d{4}-\d{2}-\d{2}$/.test(value)) return day(value, how.locale);
  if (/^\d{4}-\d{2}-\d{2}T/.test(value) && !Number.isNaN(Date.parse(value))) return moment(value, how);
  return causeWords(value) ?? (value === 'nothing-found' ? 'nothing found' : value);
}

function causeWords(code: string): string | undefined {
  return Object.entries(CAUSE_WORDS).find(([cause]) => cause === code)?.[1];
}

/** `saltAdded` as `salt added`. */
function spaced(name: string): string {
  return plain(name.replaceAll(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`));
}

function parsed(detail: string): Readonly<Record<string, unknown>> | undefined {
  try {
    const read: unknown = JSON.parse(detail);
    return typeof read === 'object' && read !== null && !Array.isArray(read) ? { ...read } : undefined;
  } catch {
    return undefined;
  }
}
