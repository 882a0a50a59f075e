import type { Sheet } from './sheet.ts';

/** A brief as plain text, for mail readers that show no HTML. */
export function textOf(sheet: Sheet, link: string): string {
  const paragraphs = [
    [sheet.title, sheet.place, sheet.address].filter((line) => line !== null).join('\n'),
    sheet.facts.map(({ label, value }) => `${label}: ${value}`).join('\n'),
    ...(sheet.reason === null ? [] : [`Reason: ${sheet.reason}`]),
    block('WHY', [
      ...sheet.why.flatMap(({ sentence, detail }) =>
        detail === '' ? [sentence] : [`${sentence} (${detail})`],
      ),
      ...(sheet.harm === null ? [] : [sheet.harm]),
    ]),
    ...(sheet.causes.length > 0
      ? [
          block(
            'CAUSES',
            sheet.causes.map(({ words, percent, remedy }) => `${percent} ${words}. ${remedy}`),
          ),
        ]
      : []),
    ...(sheet.checks.length > 0
      ? [
          block(
            'CHECKS',
            sheet.checks.map(({ task, telling }, index) => `${index + 1}. ${task} ${telling}`),
          ),
        ]
      : []),
    block(
      'PARTS TO CARRY',
      sheet.parts.map(({ because, parts }) => `${because}: ${parts}`),
    ),
    block('SETTINGS', [
      sheet.settingsNote,
      ...sheet.settings.map(({ name, now, set }) => `${name}: ${now}${set === null ? '' : `, set ${set}`}`),
    ]),
    block('RECORD', sheet.record),
    block('BEFORE YOU LEAVE', sheet.beforeLeaving),
    block(
      'CAUTIONS',
      sheet.cautions.map(({ label, value }) => `${label}: ${value}`),
    ),
    link,
    sheet.foot,
  ];
  return `${paragraphs.join('\n\n')}\n`;
}

function block(heading: string, lines: readonly string[]): string {
  return [heading, ...lines].join('\n');
}
