import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type AbsenceRecord,
  countedMeanwhile,
  LENGTHS,
  lengthOf,
  newAbsenceRecord,
  runsAsLong,
  wetDay,
  zeroDay,
} from '../../../lib/demand/absence.ts';

const HOME = { isTrickle: false };

/** Days of a home, each 0 for none registered, 1 for as usual, 2 for a trickle, 3 for no report. */
const days = fc.array(fc.constantFrom(0, 0, 1, 1, 2, 3), { maxLength: 300 });

function recordOf(codes: readonly number[], record = newAbsenceRecord()): AbsenceRecord {
  codes.forEach((code, date) => {
    if (code === 0) zeroDay(record, date);
    else if (code < 3) wetDay(record, { isTrickle: code === 2 }, 1);
  });
  return record;
}

describe('the record of absences', () => {
  it('counts each run once at every length that it reached, and its days', () => {
    fc.assert(
      fc.property(days, (codes) => {
        // Days without a report neither begin nor end a run, and are part of one that they lie in.
        const runs: { from: number; to: number }[] = [];
        let isOn = false;
        codes.forEach((code, date) => {
          const last = runs.at(-1);
          if (code === 0 && isOn && last) last.to = date;
          if (code === 0 && !isOn) runs.push({ from: date, to: date });
          if (code !== 3) isOn = code === 0;
        });
        const record = recordOf(codes);
        const ended = isOn ? runs.slice(0, -1) : runs;
        for (const length of LENGTHS) {
          const expected = ended.filter(({ from, to }) => to - from + 1 >= length).length;
          expect(runsAsLong(record, length)).toBe(expected);
        }
        expect(record.daysAway).toBe(ended.reduce((sum, { from, to }) => sum + to - from + 1, 0));
        expect(record.run && { from: record.run.from, to: record.run.to }).toEqual(isOn ? runs.at(-1) : null);
        expect(record.daysAtHome).toBe(codes.filter((code) => code === 1 || code === 2).length);
      }),
    );
  });

  it('keeps no absence of a meter that had stalled', () => {
    const record = newAbsenceRecord();
    for (let day = 0; day < 40; day++) zeroDay(record, day);
    wetDay(record, HOME, 0);
    expect(record.reached.every((count) => count === 0)).toBe(true);
    expect([record.run, record.daysAway]).toEqual([null, 0]);
  });

  it('notes a journey on which something trickled on, once', () => {
    expect(recordOf([1, 2, 2, 1, 2]).trickledJourneys).toBe(0);
    expect(recordOf([1, 2, 2, 2, 2, 2, 2, 1]).trickledJourneys).toBe(1);
    expect(recordOf([2, 2, 2, 0, 2, 2, 1, 2, 2, 2]).trickledJourneys).toBe(2);
  });

  it('lets old habits fade, and stays of one size', () => {
    const record = recordOf(
      Array.from({ length: 20 * 365 }, (_, day) => (day < 4000 && day % 50 < 5 ? 0 : 1)),
    );
    expect(record.daysAtHome).toBeLessThan(4 * 365);
    // Of 80 runs in the first eleven years hardly one is left after nine without.
    expect(runsAsLong(record, 5)).toBeLessThan(5);
    expect(record.reached).toHaveLength(LENGTHS.length);
  });

  it('sums what was counted in a run all the same, and forgets it with the run', () => {
    const record = newAbsenceRecord();
    wetDay(record, { isTrickle: false, registerGallons: 5000 }, 1);
    zeroDay(record, 1, 5000);
    zeroDay(record, 2);
    zeroDay(record, 3, 5120);
    countedMeanwhile(record, 30);
    expect(record.run && [record.run.countedGallons, lengthOf(record.run)]).toEqual([150, 3]);
    // Another meter begins elsewhere.
    zeroDay(record, 4, 10);
    expect(record.run?.countedGallons).toBe(150);
    wetDay(record, { isTrickle: false, registerGallons: 90 }, 1);
    zeroDay(record, 6, 90);
    expect(record.run?.countedGallons).toBe(0);
    wetDay(record, HOME, 1);
    countedMeanwhile(record, 30);
    expect(record.run).toBeNull();
  });
});
