import normalCdf from '@stdlib/stats-base-dists-normal-cdf';
import { expect, test } from 'vitest';
import {
  atDeviate,
  COLUMNS,
  COLUMNS_A_DEVIATION,
  exactCdf,
  ROWS,
  ROWS_A_UNIT,
  Z_MAX,
} from '../../../lib/demand/gamma.ts';

test('the table of the gamma has what @stdlib says at its knots; `npx vitest run tests/lib/demand/gammaTable.test.ts --update` writes it anew', async () => {
  const columns = Array.from({ length: COLUMNS }, (_, column) => {
    const z = column / COLUMNS_A_DEVIATION - Z_MAX;
    return Array.from({ length: ROWS }, (_, row) => {
      const cv = row / ROWS_A_UNIT;
      return row === 0 ? normalCdf(z, 0, 1) : exactCdf(atDeviate(z, cv), cv);
    });
  });
  const written = `[\n${columns.map((column) => `  ${JSON.stringify(column)}`).join(',\n')}\n]\n`;
  await expect(written).toMatchFileSnapshot('../../../lib/demand/gammaTable.json');
});
