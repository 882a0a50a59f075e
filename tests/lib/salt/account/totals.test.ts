import fc from 'fast-check';
import { expect, it } from 'vitest';
import { SALT_ACCOUNT_COLUMNS } from '../../../../lib/salt/account/columns.ts';
import { CompanyAccounts } from '../../../../lib/salt/account/companyAccounts.ts';
import { rulesSchema } from '../../../../lib/watch/rules.ts';
import { fleets, LATER } from './fleetOfMonths.ts';

const RULES = rulesSchema.parse({}).salt;

/** What adds up over regions: all amounts but those that have bounds for being estimated, and units, who may have moved. */
const ADDED = SALT_ACCOUNT_COLUMNS.filter(
  ({ name, type }) =>
    (type === 'integer' || type === 'double') &&
    !/^units|_low|_high|share|grains_per_lb|^drawn|^chloride|^sodium_lb|as_set|in_use/.test(name),
).map(({ name }) => name);

it('all regions together have the amounts of each, and each unit once though it moved', () => {
  expect(ADDED.length).toBeGreaterThan(25);
  fc.assert(
    fc.property(fleets, (fleet) => {
      const accounts = new CompanyAccounts(LATER, RULES);
      for (const known of fleet) accounts.add(known);
      const { items, totals } = accounts.file();
      // All of it is of one month.
      const [total, ...others] = totals;
      expect(others).toEqual([]);
      expect(total).not.toHaveProperty('region');
      for (const name of ADDED) {
        const sum = items.reduce((all, cells) => all + Number(cells[name]), 0);
        expect([name, Number(total?.[name]) / Math.max(1, sum)]).toEqual([
          name,
          expect.closeTo(sum / Math.max(1, sum), 9),
        ]);
      }
      expect(total?.units).toBe(fleet.length);
    }),
    { numRuns: 50 },
  );
});
