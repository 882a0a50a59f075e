import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { AccountCells } from '../../../../lib/salt/account/accountsFile.ts';
import { CompanyAccounts } from '../../../../lib/salt/account/companyAccounts.ts';
import { sharedCells } from '../../../../lib/salt/account/shared.ts';
import type { KnownMonths } from '../../../../lib/salt/knownMonths.ts';
import type { MonthAccount } from '../../../../lib/salt/monthAccount.ts';
import { rulesSchema } from '../../../../lib/watch/rules.ts';
import { fleets, LATER, MARCH } from './fleetOfMonths.ts';

const RULES = rulesSchema.parse({}).salt;
const LEAST = RULES.leastUnitsTold;

/** What each unit has in columns that are added up; apart from the code under test. */
const ADDED: Readonly<Record<string, (account: MonthAccount) => number>> = {
  water_treated_gal: (a) => a.treatedGallons + a.imputedGallons,
  water_metered_gal: (a) => a.treatedGallons,
  water_imputed_gal: (a) => a.imputedGallons,
  salt_used_lb: (a) => a.measuredSaltLb + a.inferredSaltLb + a.imputedSaltLb,
  salt_measured_lb: (a) => a.measuredSaltLb,
  salt_inferred_lb: (a) => a.inferredSaltLb,
  salt_imputed_lb: (a) => a.imputedSaltLb,
  grains_removed: (a) => a.grainsRemoved,
  grains_imputed: (a) => a.imputedGrains,
  hard_water_gal: (a) => a.hardGallons,
  salt_delivered_lb: (a) => a.deliveredSaltLb,
  regeneration_water_metered_gal: (a) => a.regenerationGallons,
  regeneration_water_inferred_gal: (a) => a.inferredRegenerationGallons,
  salt_wasted_leak_lb: (a) => a.wasted.leak ?? 0,
  salt_wasted_dose_lb: (a) => a.wasted.dose ?? 0,
};
/** What follows from what within a row. */
const IDENTITIES = [
  ['water_treated_gal', 'water_metered_gal', 'water_imputed_gal'],
  ['salt_used_lb', 'salt_measured_lb', 'salt_inferred_lb', 'salt_imputed_lb'],
];

function sharedOf(fleet: readonly KnownMonths[], until = LATER) {
  const accounts = new CompanyAccounts(until, RULES);
  for (const known of fleet) accounts.add(known);
  const file = accounts.file();
  return { told: sharedCells(file), truth: file.items };
}

/** What units have in some regions and a column, unit by unit, without those that have nothing. */
function partsIn(fleet: readonly KnownMonths[], regions: ReadonlySet<unknown>, column: string): number[] {
  return fleet
    .map(({ months }) =>
      months
        .filter(({ region }) => regions.has(region))
        .reduce((sum, account) => sum + (ADDED[column]?.(account) ?? 0), 0),
    )
    .filter((part) => part !== 0)
    .sort((a, b) => b - a);
}

/** Whether a stranger may know a figure that is made of these parts. */
function isHarmless(parts: readonly number[]): boolean {
  const total = parts.reduce((sum, part) => sum + part, 0);
  return parts.length === 0 || (parts.length >= LEAST && (parts[0] ?? 0) <= total / 2 + 1e-9);
}

/** Which of so many unknowns are determined by linear equations: those that a row of the reduced form has alone. */
function determined(equations: readonly (readonly number[])[], unknowns: number): number[] {
  const rows = equations.map((row) => [...row]);
  const solved: number[][] = [];
  for (let column = 0; column < unknowns; column++) {
    const at = rows.findIndex((row) => Math.abs(row[column] ?? 0) > 1e-9);
    if (at < 0) continue;
    const [pivot = []] = rows.splice(at, 1);
    const by = pivot[column] ?? 1;
    const scaled = pivot.map((value) => value / by);
    for (const row of [...rows, ...solved]) {
      const times = row[column] ?? 0;
      scaled.forEach((value, index) => {
        row[index] = (row[index] ?? 0) - times * value;
      });
    }
    solved.push(scaled);
  }
  const alone = solved.map((row) => row.flatMap((value, index) => (Math.abs(value) > 1e-9 ? [index] : [])));
  return alone.flatMap((indices) => (indices.length === 1 ? indices : []));
}

/** What a stranger works out who knows all that is told and the company's total of every column. */
function workedOut(told: readonly AccountCells[]): string[] {
  const unknowns = told.flatMap((row) =>
    Object.keys(ADDED).flatMap((column) => (row[column] === null ? [`${row.region} ${column}`] : [])),
  );
  const place = new Map(unknowns.map((name, index) => [name, index]));
  const equation = (terms: readonly (readonly [name: string, factor: number])[]) => {
    const row = unknowns.map(() => 0);
    for (const [name, factor] of terms) {
      const at = place.get(name);
      if (at !== undefined) row[at] = factor;
    }
    return row;
  };
  const totals = Object.keys(ADDED).map((column) =>
    equation(told.map((row) => [`${row.region} ${column}`, 1])),
  );
  const identities = told.flatMap((row) =>
    IDENTITIES.map(([whole, ...parts]) =>
      equation([
        [`${row.region} ${whole}`, 1],
        ...parts.map((part) => [`${row.region} ${part}`, -1] as const),
      ]),
    ),
  );
  return determined([...totals, ...identities], unknowns.length).map((index) => unknowns[index] ?? '');
}

describe('accounts that are shared', () => {
  it('tell no figure of few units or mostly of one, and nobody works one out from what is told and the totals', () => {
    const seen = { told: 0, few: 0, beside: 0, parts: 0 };
    fc.assert(
      fc.property(fleets, (fleet) => {
        const { told } = sharedOf(fleet);
        for (const column of Object.keys(ADDED)) {
          const hidden = new Set(told.filter((row) => row[column] === null).map(({ region }) => region));
          for (const row of told) {
            if (hidden.has(row.region)) continue;
            const parts = partsIn(fleet, new Set([row.region]), column);
            expect([row.region, column, parts]).toSatisfy(() => isHarmless(parts));
            seen.told += 1;
          }
          // The sum of what is withheld is known to who knows the total. Where all is withheld it is no figure of ours.
          if (hidden.size > 0 && hidden.size < told.length) {
            const parts = partsIn(fleet, hidden, column);
            expect([...hidden, column, parts]).toSatisfy(() => isHarmless(parts));
          }
        }
        if (told.length > 1) expect(workedOut(told)).toEqual([]);
        const words = told.map(({ suppressed }) => String(suppressed));
        seen.few += words.filter((word) => word.startsWith('all few-units')).length;
        seen.beside += words.filter((word) => word.startsWith('all beside-another')).length;
        seen.parts += words.filter((word) => !word.startsWith('all') && word !== 'null').length;
      }),
      { numRuns: 300 },
    );
    // All of it has happened.
    expect(Object.entries(seen).filter(([, times]) => times < 20)).toEqual([]);
  });

  it('tell what is told as it is, withhold with an empty cell and a reason, and never with a zero', () => {
    fc.assert(
      fc.property(fleets, (fleet) => {
        const { told, truth } = sharedOf(fleet);
        told.forEach((row, index) => {
          const { suppressed, ...cells } = row;
          const isWithheld = Object.entries(cells).some(
            ([name, cell]) => cell === null && truth[index]?.[name] !== null,
          );
          if (isWithheld) expect(suppressed).toMatch(/^(\S+ (few-units|one-unit|beside-another)(; |$))+/);
          for (const [name, cell] of Object.entries(cells))
            if (cell !== null) expect(cell).toBe(truth[index]?.[name]);
        });
      }),
      { numRuns: 100 },
    );
  });

  it('leave out a month until it is over for long enough, whatever came of it', () => {
    fc.assert(
      fc.property(fleets, fc.integer({ min: -40, max: 14 }), (fleet, days) => {
        const { told } = sharedOf(fleet, (MARCH + 31 + days) * 86_400_000);
        for (const { suppressed, units, salt_used_lb } of told)
          expect([suppressed, units, salt_used_lb]).toEqual(['all month-open', null, null]);
      }),
      { numRuns: 30 },
    );
  });

  it('tell what sensors saw of a dose, and the bounds that follow, only of many units with sensors or of none', () => {
    const seen = { told: 0, withheld: 0 };
    fc.assert(
      fc.property(fleets, (fleet) => {
        const sensors = fleet.map((known, index) => ({
          ...known,
          months: known.months.map((month) => ({
            ...month,
            measuredDoseLb: index % 4 === 0 ? month.measuredSaltLb : 0,
          })),
        }));
        const { told, truth } = sharedOf(sensors);
        const sensed = truth.reduce((sum, row) => sum + Number(row.units_measured), 0);
        const isOfFew = sensed > 0 && sensed < 2 * LEAST;
        for (const row of told) {
          if (String(row.suppressed).startsWith('all')) continue;
          seen[isOfFew ? 'withheld' : 'told'] += 1;
          const cells = [row.drawn_share, row.salt_used_low_lb, row.salt_used_high_lb, row.chloride_low_lb];
          expect(cells.map((cell) => cell === null)).toEqual(cells.map(() => isOfFew));
        }
      }),
      { numRuns: 300 },
    );
    expect(Math.min(seen.told, seen.withheld)).toBeGreaterThan(5);
  });

  it('tell no bound of water where what was metered is withheld', () => {
    fc.assert(
      fc.property(fleets, (fleet) => {
        for (const row of sharedOf(fleet).told)
          if (row.water_metered_gal === null) expect(row.water_treated_low_gal).toBeNull();
      }),
      { numRuns: 100 },
    );
  });
});
