import type { RollUp } from '../../lib/advice/settings/rollUp.ts';
import { LEAST_SAVING_LB } from '../../lib/advice/settings/rollUp.ts';
import { paragraph, table } from '../replay/text.ts';
import { CAUTION } from './adviceText.ts';
import { figure, settingsText, whole } from './amounts.ts';

/** The visits of a fleet as a dispatcher reads them. */
export function fleetText(rolled: RollUp, mostHardDays: number): string {
  const { visits, savedByVisitsLb, unitsToGain, savedByAllLb, unitsAdvised, unitsBeyondLimit } = rolled;
  const limit = `${figure(mostHardDays)} hard-water days a year`;
  return [
    `${whole(visits.length)} visits would save ${whole(savedByVisitsLb)} lb of salt a year; all ${whole(unitsToGain)} units that ` +
      `have ${LEAST_SAVING_LB} lb or more to save, ${whole(savedByAllLb)} lb`,
    visits.length > 0 ? visitTable(rolled) : '',
    [
      `${whole(unitsAdvised)} units could be advised on; for ${whole(unitsBeyondLimit)} of them no settings keep within ${limit}`,
      ...Object.entries(rolled.refused).map(([reason, count]) => `  ${whole(count)} not: ${reason}`),
    ].join('\n'),
    paragraph(CAUTION, 0),
  ]
    .filter((part) => part !== '')
    .join('\n\n');
}

function visitTable({ visits }: RollUp): string {
  const head = ['unit', 'saves lb', 'water gal', 'hard days', 'today', 'set to'];
  const rows = visits.map(({ unitId, saves, today, advised }) => [
    unitId,
    whole(saves.saltLb),
    whole(-saves.waterGallons),
    `${whole(today.hardDaysAYear)} -> ${whole(advised.hardDaysAYear)}`,
    settingsText(today.settings),
    settingsText(advised.settings),
  ]);
  return table([head, ...rows], ['left', 'right', 'right', 'right', 'left', 'left']);
}
