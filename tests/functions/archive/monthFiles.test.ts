import fc from 'fast-check';
import { expect, it } from 'vitest';
import { MonthFiles } from '../../../functions/archive/monthFiles.ts';
import { StandingFiles } from '../../../functions/archive/standingFiles.ts';
import { type UnitMonth, unitMonths } from '../../../lib/salt/unitMonths.ts';
import { fleets, LATER } from '../../lib/salt/account/fleetOfMonths.ts';
import { memoryFiles } from '../../support/memoryFiles.ts';

const UNITS_A_STRETCH = 8;

/** Writes the months of units as a report does, and says what it came to. */
async function written({ files }: ReturnType<typeof memoryFiles>, units: readonly UnitMonth[][]) {
  const standing = await StandingFiles.in(files, 'accounts/');
  const months = new MonthFiles(standing, {
    ...{ companyId: 'fenwick-water', asOf: LATER, unitsAStretch: UNITS_A_STRETCH, mostRows: 40 },
  });
  for (const each of units) await months.add(each);
  await months.end();
  return standing.dropOthers();
}

it('are written again only where something has changed, and a unit that goes touches its own stretch alone', async () => {
  let others = 0;
  await fc.assert(
    fc.asyncProperty(fleets, fc.nat(), async (fleet, gone) => {
      const kept = memoryFiles();
      const units = fleet.map((known) => unitMonths(known, LATER));
      const first = await written(kept, units);
      expect(first).toEqual({ written: kept.kept.size, dropped: 0, standing: kept.kept.size });
      expect(await written(kept, units)).toEqual({ written: 0, dropped: 0, standing: first.standing });

      // A file for each region and month at most is of the stretch that the unit was in, and so many of the next that it ended.
      const regions = new Set(units.flat().map(({ region }) => region)).size;
      const after = await written(kept, units.toSpliced(gone % units.length, 1));
      expect(after.written).toBeLessThanOrEqual(2 * regions);
      others += after.standing - after.written;
      expect(kept.kept.size).toBe(after.standing);
    }),
    { numRuns: 40 },
  );
  expect(others).toBeGreaterThan(100);
});
