import type { Brief } from './briefSchema.ts';
import { dated, timed } from './dated.ts';
import { type InUnits, inUnits, type UnitSystem } from './inUnits.ts';
import { shortened } from './shortened.ts';

/** A label and what stands under it. */
export interface Line {
  readonly label: string;
  readonly value: string;
}

/**
 * A brief in words, as every form of it has them: a page, a PDF, a mail. All is as short as one sheet of paper takes;
 * the rest is in the brief itself. Nothing is escaped yet.
 */
export interface Sheet {
  readonly title: string;
  /** What people call the place, else its id. */
  readonly place: string;
  readonly address: string | null;
  readonly facts: readonly Line[];
  readonly reason: string | null;
  readonly why: readonly { readonly severity: string; readonly sentence: string; readonly detail: string }[];
  readonly harm: string | null;
  readonly causes: readonly {
    readonly words: string;
    readonly percent: string;
    readonly howSure: string;
    readonly remedy: string;
  }[];
  readonly checks: readonly { readonly task: string; readonly telling: string }[];
  readonly checksNote: string;
  /** By what they are for; the last are for every visit. */
  readonly parts: readonly { readonly because: string; readonly parts: string }[];
  readonly settingsNote: string;
  readonly settings: readonly { readonly name: string; readonly now: string; readonly set: string | null }[];
  readonly record: readonly string[];
  readonly beforeLeaving: readonly string[];
  readonly cautions: readonly Line[];
  readonly foot: string;
}

/** What one sheet takes, in characters and in lines. */
const MOST = {
  place: 90,
  address: 140,
  technician: 50,
  reason: 300,
  sentence: 230,
  why: 3,
  causes: 5,
};
const BLANK = '________';

/** The words of a brief in the units that its reader likes. */
export function sheetOf(brief: Brief, system: UnitSystem): Sheet {
  const units = inUnits(system);
  const { visit, settings } = brief;
  return {
    title: visit ? `Visit brief, ${dated(visit.date)}` : 'Visit brief',
    place: shortened(brief.siteName ?? `Site ${brief.siteId}`, MOST.place),
    address: brief.address === null ? null : shortened(brief.address, MOST.address),
    facts: factsOf(brief, units),
    reason: visit ? shortened(visit.reason, MOST.reason) : null,
    why: whyOf(brief),
    harm: harmOf(brief),
    causes: brief.causes.slice(0, MOST.causes).map(({ words, probability, howSure, remedy }) => ({
      ...{ words, howSure, remedy },
      percent: percent(probability),
    })),
    checks: brief.checks.map(({ task, telling, minutes }) => ({
      task: `${task} (${minutes} min)`,
      telling: `It tells if ${telling}.`,
    })),
    checksNote:
      brief.why.length > 0
        ? 'In the order that saves time; stop once the cause is plain.'
        : 'Nothing is open: the usual look.',
    parts: partsOf(brief),
    settingsNote: settings.inDoubt
      ? 'In doubt: read them back first, and set what differs.'
      : 'Not in doubt: leave them as they are.',
    settings: settings.rows.map(({ setting, programmed, set }) => ({
      name: SETTING_NAMES[setting],
      now: settingIn(units, setting, programmed),
      set: set === null ? null : settingIn(units, setting, set),
    })),
    record: brief.record.map((each) => recordLine(each, units)),
    beforeLeaving: brief.beforeLeaving,
    cautions: brief.cautions.map(({ about, words }) => ({ label: about, value: words })),
    foot: `${shortened(brief.companyName, 60)}. Made ${timed(brief.at, brief.timeZone)} (site), ${brief.lastReported === null ? 'with nothing reported yet' : `from reports up to ${dated(brief.lastReported)}`}. Minutes, parts and words for how sure are common practice, no source.`,
  };
}

const SETTING_NAMES: Readonly<Record<Brief['settings']['rows'][number]['setting'], string>> = {
  capacityGrains: 'Capacity',
  hardnessGpg: 'Hardness',
  saltDoseLb: 'Salt dose',
  regenerationHour: 'Regeneration hour',
};

function settingIn(units: InUnits, setting: keyof typeof SETTING_NAMES, value: number): string {
  switch (setting) {
    case 'capacityGrains':
      return units.capacity(value);
    case 'hardnessGpg':
      return units.hardness(value);
    case 'saltDoseLb':
      return units.mass(value);
    case 'regenerationHour':
      return `${String(value).padStart(2, '0')}:00`;
  }
}

function factsOf({ visit, unitId, region, softener }: Brief, units: InUnits): Line[] {
  const { resinCubicFeet, saltDoseLb, compensatedHardnessGpg, saltInTankLb, saltTankLb, saltRunsOut } =
    softener;
  const of = saltTankLb === null ? '' : ` of ${units.mass(saltTankLb)}`;
  const until = saltRunsOut === null ? '' : `, until about ${dated(saltRunsOut)}`;
  return [
    ...(visit
      ? [
          {
            label: 'Visit',
            value: `${dated(visit.date)}, ${shortened(visit.technician, MOST.technician)}`,
          },
        ]
      : []),
    { label: 'Unit', value: `${unitId}, region ${region}` },
    {
      label: 'Softener',
      value: `${units.resin(resinCubicFeet)} of resin, ${units.mass(saltDoseLb)} of salt a dose, water ${units.hardness(compensatedHardnessGpg)} with its iron`,
    },
    ...(saltInTankLb === null
      ? []
      : [{ label: 'Salt', value: `about ${units.mass(Math.round(saltInTankLb))}${of}${until}` }]),
  ];
}

function whyOf({ why }: Brief): Sheet['why'] {
  const told = why.slice(0, MOST.why).map(({ severity, sentence, since, probability, howSure }) => ({
    severity,
    sentence: shortened(sentence, MOST.sentence),
    detail: `${severity}, since ${dated(since)}, ${howSure} (${percent(probability)})`,
  }));
  const more = why.length - told.length;
  if (told.length === 0) return [{ severity: '', sentence: 'No alert is open about this unit.', detail: '' }];
  const last = { severity: '', sentence: `And ${more} more: see the unit’s page.`, detail: '' };
  return more > 0 ? [...told, last] : told;
}

function partsOf({ parts }: Brief): Sheet['parts'] {
  const reasons = [...new Set(parts.map(({ because }) => because))];
  const groups = reasons.map((because) => ({
    because: because ?? 'Every visit',
    parts: parts
      .filter((each) => each.because === because)
      .map(({ part }) => part)
      .join('; '),
  }));
  return [...groups.slice(0, -1).slice(0, MOST.causes), ...groups.slice(-1)];
}

function harmOf({ hardDaysSoFar, hardDaysExpected, why }: Brief): string | null {
  if (why.length === 0) return null;
  return `Hard-water days, if the alerts are right: ${Math.round(hardDaysSoFar)} so far, about ${Math.round(hardDaysExpected)} of the next 14 if nobody comes.`;
}

function recordLine({ item, words, codes }: Brief['record'][number], units: InUnits): string {
  if (item === 'salt-added') return `${words}: ${BLANK} ${units.massUnit}`;
  if (item.endsWith('-hardness')) return `${words}: ${BLANK} ${units.hardnessUnit}`;
  return codes.length > 0 ? `${words}: ${codes.join(', ')}` : words;
}

function percent(probability: number): string {
  // Nothing here is certain.
  const rounded = Math.min(99, Math.max(1, Math.round(100 * probability)));
  return `${rounded} %`;
}
