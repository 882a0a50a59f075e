import fc from 'fast-check';
import { expect, it } from 'vitest';
import { listed } from '../../shared/listed.ts';

it('names all, or the last of them and how many are left out', () => {
  const names = fc.array(fc.stringMatching(/^[a-z]{1,3}$/), { maxLength: 40 });
  fc.assert(
    fc.property(names, fc.integer({ min: 1, max: 20 }), (all, most) => {
      const [told = '', more = '0'] = listed(all, most).split(/, and (\d+) more$/);
      const named = told === '' ? [] : told.split(', ');
      expect(named).toEqual(all.slice(all.length - named.length));
      expect(named.length).toBe(Math.min(all.length, most));
      expect(named.length + Number(more)).toBe(all.length);
    }),
  );
});
