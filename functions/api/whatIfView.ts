import * as z from 'zod';
import { cautionsOf } from '../../lib/advice/region/cautions.ts';
import { type Correction, ranking, SAVED } from '../../lib/advice/region/correction.ts';
import type { Imagined } from '../../lib/advice/region/imagined.ts';
import type { RegionsWhatIf } from '../../lib/advice/region/regionsWhatIf.ts';
import { NEARLY_A_YEAR_DAYS } from '../../lib/advice/region/replayedDays.ts';
import { WASTED_ON, type Wasting } from '../../lib/advice/region/wasting.ts';
import { MEASURES } from '../../lib/advice/region/year.ts';
import { CAUSES } from '../../shared/alerts.ts';
import { recordOf } from '../../shared/records.ts';

/** Who would read more than this? The answer says how many there are. */
const MOST_ROWS = 500;

const year = z
  .object(recordOf(MEASURES, () => z.number()))
  .describe(
    'lb, US gallons of the regenerations, and local days with hard water; salt as what it is regenerated with',
  );

const estimate = z
  .object({ value: z.number(), low: z.number(), high: z.number() })
  .describe('An estimate with its interval of 80 %');

const compared = z.object({ today: estimate, imagined: estimate, difference: estimate });

const programmed = z.object({ capacityGrains: z.number(), hardnessGpg: z.number() });

const ofUnit = {
  unitId: z.string(),
  region: z.string(),
  siteName: z.string().nullable(),
  alertId: z.string().nullable().describe('Of the open alert that says so too'),
};

/** The result that the events of `/v1/what-if` end with. */
export const whatIfSchema = z.object({
  units: z.int().describe('Those whose own past tells'),
  extrapolated: z.int().describe('Those that are taken to be like them, since theirs does not tell'),
  leftOut: z.record(z.string(), z.int()).describe('By reason, those whose past does not tell'),
  replayed: z
    .object({
      medianDays: z.int().describe('Of the unit in the middle'),
      leastDays: z.int(),
      unitsShort: z.int().describe(`Units with fewer than ${NEARLY_A_YEAR_DAYS}`),
      from: z.string().describe('The first day of the unit in the middle, YYYY-MM-DD'),
      to: z.string().describe('Its last'),
    })
    .nullable()
    .describe('Local days that were replayed; null where no unit’s past tells'),
  today: year.describe('Of the units whose past tells, as it has it'),
  imagined: year.describe('The same, had they been set otherwise'),
  estimates: z
    .object(recordOf(MEASURES, () => compared))
    .nullable()
    .describe('A year to come of all units, with those extrapolated; null where no unit’s past tells'),
  visits: z
    .array(
      z.object({
        ...ofUnit,
        cause: z
          .enum([...new Set(Object.values(CAUSES).flat())])
          .nullable()
          .describe('Which setting is probably wrong'),
        probability: z.number().describe('That a setting is wrong'),
        programmed,
        set: programmed.describe('What to set'),
        saves: z
          .object(recordOf(SAVED, () => estimate))
          .describe('In a year to come, by the doses on record; below 0 what it costs'),
      }),
    )
    .describe('Visits that set a control right, those that save most salt first'),
  wasting: z
    .array(
      z.object({
        ...ofUnit,
        cause: z.enum(WASTED_ON),
        saltLb: z
          .number()
          .describe(
            'lb a year, by the rate of the days of the last twelve months that there are accounts of',
          ),
      }),
    )
    .describe(
      'Salt wasted that no replay tells of: what settings do not mend, or settings that are not known',
    ),
  more: z.int().describe('How many further visits and wasting units there are'),
  cautions: z.array(z.string()).describe('What to mind, in words'),
});

type Rows = Pick<z.infer<typeof whatIfSchema>, 'visits' | 'wasting'>;

/** What was found of all units, as it is told. */
export interface Found {
  readonly imagined: Imagined;
  readonly answer: RegionsWhatIf;
  readonly corrections: readonly Correction[];
  readonly wasting: readonly Wasting[];
  readonly siteNames: ReadonlyMap<string, string | null>;
}

export function whatIfView({
  imagined,
  answer,
  corrections,
  wasting,
  siteNames,
}: Found): z.infer<typeof whatIfSchema> {
  const named = <Row extends { readonly unitId: string }>(row: Row) => ({
    ...row,
    siteName: siteNames.get(row.unitId) ?? null,
  });
  const { past, doses, ...told } = answer;
  const rows: Rows = {
    visits: ranking(corrections).slice(0, MOST_ROWS).map(named),
    wasting: [...wasting]
      .sort((a, b) => b.saltLb - a.saltLb || (a.unitId < b.unitId ? -1 : 1))
      .slice(0, MOST_ROWS)
      .map(named),
  };
  return {
    ...told,
    ...past,
    ...rows,
    more: corrections.length + wasting.length - rows.visits.length - rows.wasting.length,
    cautions: cautionsOf(imagined, { doses, replayed: answer.replayed }),
  };
}
