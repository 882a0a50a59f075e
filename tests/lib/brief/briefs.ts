import { briefOf } from '../../../lib/brief/brief.ts';
import type { Brief } from '../../../lib/brief/briefSchema.ts';
import { byKnown, follow } from '../../../lib/live/follow.ts';
import { newHead } from '../../../lib/live/head.ts';
import { rulesSchema } from '../../../lib/watch/rules.ts';
import { admit } from '../../../shared/admission.ts';
import { readRecords, type UnitRecord } from '../../../shared/registry.ts';
import { toUnit } from '../../../shared/toUnit.ts';
import { lines, records } from '../../support/smallFleet.ts';

/** Noon of the day after the last that the small fleet tells of. */
const AT = Date.UTC(2026, 2, 29, 16);
const rules = rulesSchema.parse({});

interface Given {
  readonly site?: UnitRecord['site'];
  readonly companyName?: string;
  readonly technician?: string;
  readonly reason?: string;
  /** Whether nothing has been reported yet. */
  readonly isNew?: boolean;
  readonly programmed?: UnitRecord['programmed'];
}

/** The brief of a unit of the small fleet: u-19 has a meter that stalled half-way. */
export function briefFor(unitId: 'u-17' | 'u-19', given: Given = {}): Brief {
  const known = readRecords(JSON.stringify(records)).records.get(unitId);
  if (!known) throw new Error(`the small fleet has no ${unitId}`);
  const record = { ...known, site: given.site, programmed: given.programmed ?? known.programmed };
  const unit = toUnit(record);
  const facts = lines
    .flatMap((line) => {
      const admission = admit(line, new Map([[unitId, unit]]));
      return admission.accepted && !given.isNew ? [admission.fact] : [];
    })
    .sort(byKnown);
  const { head } = follow(unit, newHead(unit, rules.fold), facts, { rules, until: AT });
  return briefOf({
    record,
    companyName: given.companyName ?? 'Fenwick Water',
    head,
    facts,
    visit: {
      visitId: 'visit-1',
      technician: given.technician ?? 'Tomas Ruiz',
      date: '2026-03-30',
      reason: given.reason ?? 'Meter seems to be stalled',
    },
    at: AT,
    rules,
  });
}

const LONG =
  'The control counts on 30,000 grains where 9 lb of salt give about 24,000 grains, and in each of the last 4 cycles soft days gave way to hard ones, 25 % over, so that hard water comes before it regenerates.';

/** The same with as much of everything as ever comes together, and more. */
export function fullest(brief: Brief): Brief {
  const [cause] = brief.causes;
  const [why] = brief.why;
  const [check] = brief.checks;
  const [findings, ...record] = brief.record;
  if (!cause || !why || !check || !findings) throw new Error('begin with a brief about an alert');
  const words = 'The drive has failed: motor, gears or position switch';
  const numbered = Array.from({ length: 8 }, (_, index) => index);
  return {
    ...brief,
    why: numbered.map(() => ({ ...why, sentence: LONG })),
    causes: numbered.map(() => ({ ...cause, words, remedy: 'Check injector, brine and drain line.' })),
    checks: numbered.slice(0, 6).map(() => ({
      ...check,
      task: 'Start the brine draw by hand and watch the water in the brine tank, then the injector and the brine line.',
      telling: 'it is more than an hour off; near twelve hours, morning and evening are swapped',
    })),
    parts: [
      ...numbered.map((index) => ({
        part: 'injector and its screen; brine line tubing and fittings',
        because: `${words} (${index})`,
      })),
      ...brief.parts.filter(({ because }) => because === null),
    ],
    settings: {
      inDoubt: true,
      rows: brief.settings.rows.map((row) => ({ ...row, set: row.programmed })),
    },
    record: [{ ...findings, codes: numbered.map((index) => `regeneration-missed-${index}`) }, ...record],
  };
}
