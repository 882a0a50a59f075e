import { expect, test } from 'vitest';
import { rulesSchema } from '../../../lib/watch/rules.ts';

test('the defaults that are worked out beforehand are those of the schema; `npx vitest run tests/lib/watch/defaultRules.test.ts --update` writes them anew', async () => {
  const defaults = `${JSON.stringify(rulesSchema.parse({}), null, 2)}\n`;
  await expect(defaults).toMatchFileSnapshot('../../../lib/watch/defaultRules.json');
});
