import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { type Scheduled, startSchedule } from '../../../infra/local/schedule.ts';

const MINUTE = 60_000;
const errors: unknown[] = [];
const log = {
  debug: () => {},
  info: () => {},
  warn: () => {},
  error: (...what: unknown[]) => void errors.push(what),
};

beforeEach(() => {
  errors.length = 0;
  vi.useFakeTimers();
});

afterEach(() => {
  vi.useRealTimers();
});

function every(everyMinutes: number, run: () => Promise<unknown>): Scheduled {
  return { name: 'sweep', source: { everyMinutes }, timeoutSeconds: 100 * 60, run };
}

test('a function runs at once and every so often, also after it has failed, and not once it is ended', async () => {
  let runs = 0;
  const end = startSchedule(
    [
      every(15, async () => {
        runs += 1;
        if (runs === 2) throw new Error('the table does not answer');
      }),
    ],
    { log, speed: 1 },
  );
  await vi.advanceTimersByTimeAsync(45 * MINUTE);
  expect(runs).toBe(4);
  expect(errors).toHaveLength(1);
  await end();
  await vi.advanceTimersByTimeAsync(45 * MINUTE);
  expect(runs).toBe(4);
});

test('a function that takes longer than its turn is not begun twice, and is waited for at the end', async () => {
  let begun = 0;
  let finish: () => void = () => {};
  const end = startSchedule(
    [
      every(15, () => {
        begun += 1;
        return new Promise<void>((resolve) => {
          finish = resolve;
        });
      }),
    ],
    { log, speed: 1 },
  );
  await vi.advanceTimersByTimeAsync(50 * MINUTE);
  expect(begun).toBe(1);
  finish();
  await vi.advanceTimersByTimeAsync(15 * MINUTE);
  expect(begun).toBe(2);
  let over = false;
  const ending = end().then(() => {
    over = true;
  });
  await vi.advanceTimersByTimeAsync(MINUTE);
  expect(over).toBe(false);
  finish();
  await ending;
});
