import type { Outcome, OutcomeEfficiency } from '../../lib/advice/settings/outcome.ts';
import type { SettingsAdvice } from '../../lib/advice/settings/settingsAdvice.ts';
import { CAPACITY_POINTS } from '../../lib/softening/capacity.ts';
import type { Unit } from '../../shared/registry.ts';
import { formatLocalDate } from '../../shared/time/localDate.ts';
import { paragraph, table } from '../replay/text.ts';
import { figure, hourText, reserveText, settingsText, whole } from './amounts.ts';
import { byDose } from './byDose.ts';

/** Stands below every advice. Health: EPA 822-R-03-006 (sodium) and Ohio State University (potassium), both read. */
export const CAUTION =
  'Softened water carries sodium, or potassium: whoever must keep either low asks a physician. Local codes may limit salt ' +
  'or softeners; they and licensed practice prevail at a visit. Test the softened water after setting a control anew.';

type Full = Outcome & OutcomeEfficiency;

/** Advice as a technician reads it. */
export function adviceText(unit: Unit, advice: SettingsAdvice): string {
  return [
    `${unit.unitId}, ${unit.region}: ${figure(unit.resinCubicFeet)} ft3 of resin, ${unit.alternating ? 'two beds in turn' : 'one bed'}`,
    verdict(advice),
    comparison(advice),
    efficiency(advice),
    tradeOff(advice),
    whatIf(advice),
    history(unit, advice),
    paragraph(CAUTION, 0),
  ]
    .filter((part) => part !== '')
    .join('\n\n');
}

function verdict({ withinLimit, mostHardDays, saves, advised }: SettingsAdvice): string {
  const limit = `${figure(mostHardDays)} hard-water days a year`;
  if (!withinLimit) {
    const nearest = `${settingsText(advised.settings)} comes nearest, with ${whole(advised.hardDaysAYear)}`;
    return paragraph(`No settings tried keep within ${limit}: ${nearest}.`, 0);
  }
  if (saves.saltLb >= 0.5) {
    return paragraph(
      `Set it to ${settingsText(advised.settings)}: that saves ${whole(saves.saltLb)} lb of salt a year, within ${limit}.`,
      0,
    );
  }
  return saves.saltLb > -0.5
    ? `No settings tried save salt and keep within ${limit}.`
    : paragraph(
        `To keep within ${limit} takes ${settingsText(advised.settings)}, and ${whole(-saves.saltLb)} lb more salt a year.`,
        0,
      );
}

function comparison({ today, advised, efficient }: SettingsAdvice): string {
  const columns: Full[] = [today, advised, ...(efficient ? [efficient] : [])];
  const row = (name: string, of: (each: Full) => string) => [name, ...columns.map(of)];
  const rows = [
    ['What to set', 'today', 'advised', ...(efficient ? ['by the standard'] : [])],
    row('salt dose, lb a regeneration', ({ settings }) => figure(settings.saltDoseLb)),
    row('capacity, grains', ({ settings }) => whole(settings.capacityGrains)),
    row('hardness, gpg', ({ settings }) => figure(settings.hardnessGpg)),
    row('regeneration hour', ({ settings }) => hourText(settings.regenerationHour)),
    ['A year of it', ...columns.map(() => '')],
    row('salt, lb', ({ saltLbAYear }) => whole(saltLbAYear)),
    row('water of regenerations, gal', ({ waterGallonsAYear }) => whole(waterGallonsAYear)),
    row('regenerations', ({ regenerationsAYear }) => whole(regenerationsAYear)),
    row('hard-water days', ({ hardDaysAYear }) => whole(hardDaysAYear)),
    row('hard water, gal', ({ hardGallonsAYear }) => whole(hardGallonsAYear)),
    row('grains removed a lb of salt', ({ inUse }) => whole(inUse.grainsPerLb)),
    row('  whole bed for whole dose', ({ rated }) => whole(rated.grainsPerLb)),
    row('water for 1,000 grains so, gal', ({ rated }) => rated.gallonsPerThousandGrains.toFixed(1)),
    ...today.rules.map(({ rule }, index) =>
      row(rule.title, ({ rules }) => rules[index]?.verdict ?? 'unknown'),
    ),
  ];
  return table(rows, ['left', 'right', 'right', 'right']);
}

function efficiency({ advised, efficient, history }: SettingsAdvice): string {
  const figures = advised.rules.map(({ rule }) => {
    const water = rule.maxGallonsPerThousandGrains;
    const most = water === undefined ? '' : ` and at most ${water} gal of water for 1,000 grains`;
    return `${rule.title}: at least ${whole(rule.minGrainsPerLb)} grains a lb${most}`;
  });
  const standard = efficient
    ? '"By the standard" is the least salt within the limit that meets NSF/ANSI 44 in salt and in water.'
    : 'No settings within the limit meet NSF/ANSI 44 in both salt and water.';
  const water = history.waterReported
    ? ''
    : ' The water of a regeneration is assumed (80 gal a ft3): it reports none.';
  return paragraph(`${figures.join('; ')}. Arithmetic by the dose, no certificate. ${standard}${water}`, 0);
}

function tradeOff({ frontier, tried, mostHardDays, today, advised }: SettingsAdvice): string {
  const head = ['salt dose', 'capacity', 'hardness', 'hour', 'salt lb', 'water gal', 'hard days', ''];
  const line = (outcome: Outcome, mark: string) => [
    `${figure(outcome.settings.saltDoseLb)} lb`,
    whole(outcome.settings.capacityGrains),
    figure(outcome.settings.hardnessGpg),
    hourText(outcome.settings.regenerationHour),
    whole(outcome.saltLbAYear),
    whole(outcome.waterGallonsAYear),
    whole(outcome.hardDaysAYear),
    mark,
  ];
  const rows = byDose(frontier, mostHardDays).map((outcome) =>
    line(outcome, outcome.settings === advised.settings ? 'advised' : ''),
  );
  return [
    `Trade-off (${whole(tried.length)} settings tried; ${whole(frontier.length)} are not beaten in salt, water and hard-water days at once)`,
    table(
      [head, line(today, 'today'), ...rows],
      ['right', 'right', 'right', 'right', 'right', 'right', 'right', 'left'],
    ),
  ].join('\n');
}

function whatIf({ whatIf: others, advised }: SettingsAdvice): string {
  if (others.length === 0) return '';
  const rows = others.map(({ reserve, outcome }) => [
    reserveText(reserve),
    `${whole(outcome.saltLbAYear)} lb`,
    `${whole(outcome.hardDaysAYear)} hard days`,
    settingsText(outcome.settings),
  ]);
  const own = ['the mean of seven days (as is)', `${whole(advised.saltLbAYear)} lb`];
  return [
    'If the control held back another reserve, the best would be',
    table(
      [[...own, `${whole(advised.hardDaysAYear)} hard days`, settingsText(advised.settings)], ...rows],
      ['left', 'right', 'right', 'left'],
    ),
  ].join('\n');
}

function history(unit: Unit, { history: past, today, advised }: SettingsAdvice): string {
  const { from, to, days, missingDays, regenerations, calendarDays } = past;
  const rate = days === 365 ? '' : ' Amounts are put as a year by rate.';
  const missing =
    missingDays > 0 ? `, ${missingDays} of them not reported: expected use stands for them` : '';
  const inDays = (today.regenerationsAYear * days) / 365;
  const calendar =
    calendarDays === null
      ? ''
      : ` It also regenerates after ${calendarDays} days whatever was used, which no setting here changes.`;
  const lowest = Math.min(...CAPACITY_POINTS.map((point) => point.doseLbPerCubicFoot || Infinity));
  const low =
    advised.settings.saltDoseLb < lowest * unit.resinCubicFeet
      ? ` Below ${lowest} lb a ft3 no capacity is published: what is used there lies on a curve drawn to nothing at no salt.`
      : '';
  return paragraph(
    `Replayed: ${formatLocalDate(from)} to ${formatLocalDate(to)}, ${days} local days${missing}.${rate} ${regenerations} regenerations ` +
      `were reported in them; today's settings replayed make ${whole(inDays)}.${calendar} A hard-water day is a local day on ` +
      `which water was drawn from a bed that had run out. The past is no promise: another year has other days.${low}`,
    0,
  );
}
