import { expect, it } from 'vitest';
import { judge } from '../../functions/judge.ts';
import { wire } from '../support/events.ts';
import { registryOf, unitRecord } from '../support/fleet.ts';

const { units } = registryOf(unitRecord());
const NOW = Date.UTC(2026, 2, 20, 12);
const ACT = { act: 'acknowledge', by: 'desk', alertId: 'no-flow-1772000000000' };

/** Why a line is set aside that a sender sends; undefined where it is accepted. */
async function reasonFor(line: string, unitId: string | null): Promise<string | undefined> {
  const judged = await judge(
    { messageId: 'm', companyId: 'fenwick-water', unitId, receivedAt: NOW, line },
    units,
  );
  return 'quarantined' in judged ? judged.quarantined.reason : undefined;
}

function lineOf(type: string, data: Record<string, unknown>, over: object = {}): string {
  return JSON.stringify({ ...wire(type, 'e-1', NOW - 1_000, data), ...over });
}

const other = { source: '/companies/fenwick-water/units/u-18' };

it.each([
  ['what somebody did', lineOf('alert-act', ACT), 'unknown-type'],
  ['that a household was asked', lineOf('question', { step: 'asked' }), 'unknown-type'],
  [
    'the same, spelt otherwise',
    lineOf('alert-act', ACT).replace('-act.', '\\u002dact\\u002e'),
    'unknown-type',
  ],
  ['one that would be invalid', lineOf('alert-act', { act: 'forget' }), 'unknown-type'],
  ['one from the future', lineOf('alert-act', ACT, { time: '2027-01-01T00:00:00Z' }), 'unknown-type'],
  [
    'one of no unit',
    lineOf('alert-act', ACT, { source: '/companies/fenwick-water/units/x' }),
    'unknown-type',
  ],
  ['no event', lineOf('alert-act', ACT, { specversion: '2.0' }), 'not-an-event'],
  ['its level', lineOf('salt-level', { mass: { value: 3, unit: 'kg' } }), undefined],
])('a meter that tells of %s is judged by the first reason that applies', async (_, line, reason) => {
  expect(await reasonFor(line, 'u-17')).toBe(reason);
});

it('a meter that speaks for another is none, whatever it says', async () => {
  const both = registryOf(unitRecord(), unitRecord({ unitId: 'u-18' })).units;
  const line = lineOf('alert-act', ACT, other);
  const message = { messageId: 'm', companyId: 'fenwick-water', unitId: 'u-17', receivedAt: NOW, line };
  expect(await judge(message, both)).toMatchObject({ quarantined: { reason: 'not-an-event' } });
});

it.each([lineOf('alert-act', ACT), lineOf('question', { step: 'not-sure' })])(
  'a company may send back what its backup holds',
  async (line) => {
    expect(await reasonFor(line, null)).toBeUndefined();
  },
);
