import { KIND_WORDS } from '../../show/words.ts';

type Say = (parts: readonly string[]) => string;

/** What was asked for, by method and address, as people would say it. The first that fits says it. */
const ACTS: readonly (readonly [RegExp, Say])[] = [
  [/^PUT units\/[^/]+\/alerts\/([^/]+)\/acknowledgement$/, ([id]) => `Acknowledged${ofAlert(id)}`],
  [
    /^DELETE units\/[^/]+\/alerts\/([^/]+)\/acknowledgement$/,
    ([id]) => `Took back the acknowledgement${ofAlert(id)}`,
  ],
  [/^PUT units\/[^/]+\/alerts\/([^/]+)\/shelving$/, ([id]) => `Shelved${ofAlert(id)}`],
  [/^DELETE units\/[^/]+\/alerts\/([^/]+)\/shelving$/, ([id]) => `Took from the shelf${ofAlert(id)}`],
  [/^PUT units\/[^/]+\/out-of-service$/, () => 'Took the unit out of service'],
  [/^DELETE units\/[^/]+\/out-of-service$/, () => 'Put the unit back into service'],
  [/^POST units\/[^/]+\/away$/, () => 'Said that the household is away'],
  [/^POST units\/[^/]+\/at-home$/, () => 'Said that the household is at home'],
  [/^DELETE units\/[^/]+\/away(?:\/.*)?$/, () => 'Took back that the household is away'],
  [/^DELETE units\/[^/]+\/at-home(?:\/.*)?$/, () => 'Took back that the household is at home'],
  [/^POST units\/[^/]+\/visits\/record$/, () => 'Recorded a visit'],
  [/^POST units\/[^/]+\/visits$/, () => 'Planned a visit'],
  [/^PUT units\/[^/]+\/visits\/[^/]+$/, () => 'Changed a planned visit'],
  [/^DELETE units\/[^/]+\/visits\/[^/]+$/, () => 'Dropped a planned visit'],
  [/^POST units\/[^/]+\/credential$/, () => 'Gave the meter a new credential'],
  [/^DELETE units\/[^/]+\/credential$/, () => 'Withdrew the meter’s credential'],
  [/^PUT units$/, () => 'Changed the registry of units'],
  [/^POST events$/, () => 'Sent reports'],
  [/^PUT company\/rules$/, () => 'Put rules in force'],
  [/^PUT company$/, () => 'Changed the settings of the company'],
  [/^POST rule-trials$/, () => 'Tried rules on what has been received'],
  [/^PUT me$/, () => 'Changed their own preferences'],
  [/^PUT people\/([^/]+)$/, ([who = '']) => `Added or changed ${who} among the people`],
  [/^DELETE people\/([^/]+)$/, ([who = '']) => `Took ${who} off the people`],
  [/^POST quarantine\/retry$/, () => 'Sent messages again that had been set aside'],
  [/^POST dead-letters\/sendings$/, () => 'Had dead letters tried again'],
  [/^GET backup\/units\.ndjson$/, () => 'Took a copy of all units'],
  [/^GET backup\/events\.ndjson$/, () => 'Took a copy of all events'],
  [/^GET backup\/rest\.ndjson$/, () => 'Took a copy of settings, people, visits and acts'],
  [/^PUT backup\/rest\.ndjson$/, () => 'Restored settings, people, visits and meters’ credentials'],
  [/^POST companies$/, () => 'Made the company and its first key'],
  [/^POST companies\/[^/]+\/keys$/, () => 'Made another key of the company'],
  [/^DELETE companies\/[^/]+\/keys\/[^/]+$/, () => 'Revoked a key of the company'],
];

/** An act as a sentence without its subject: `Planned a visit`. What is not known is told as it stands. */
export function actWords(what: string): string {
  for (const [pattern, say] of ACTS) {
    const found = pattern.exec(what);
    if (found) return say(found.slice(1).map(decoded));
  }
  return what;
}

/** The id of an alert begins with its kind. */
function ofAlert(alertId = ''): string {
  const kind = Object.entries(KIND_WORDS).find(([name]) => alertId.startsWith(`${name}-`));
  return kind ? `: ${kind[1]}` : ' an alert';
}

/** A part of an address as it was meant; as it stands, where it is none. */
function decoded(part = ''): string {
  try {
    return decodeURIComponent(part);
  } catch {
    return part;
  }
}
