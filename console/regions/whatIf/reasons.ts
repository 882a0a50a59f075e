import { plain } from '../../show/words.ts';

/** Why a unit's past does not tell what other settings would have done, by the service's codes. */
const REASONS: Readonly<Record<string, string>> = {
  'history-too-short': 'watched for too short a time',
  'too-many-days-missing': 'too many days without a report',
  'no-use': 'no water drawn',
  'meter-in-doubt': 'its meter is in doubt',
  leak: 'water never stops',
  'settings-in-doubt': 'it is not known how its control is set',
  'hardness-in-doubt': 'the hardness of its water is in doubt',
};

export function reasonWords(code: string): string {
  return REASONS[code] ?? plain(code);
}
