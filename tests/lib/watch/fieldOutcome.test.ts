import { expect, it } from 'vitest';
import type { Episode } from '../../../lib/watch/episode.ts';
import { visitedBy } from '../../../lib/watch/fieldOutcome.ts';
import type { ServiceVisit } from '../../../shared/facts.ts';

const DAY = 86_400_000;
const RAISED = 20_600 * DAY;
const LATE_MS = 14 * DAY;

const open: Episode = {
  ...{ kind: 'no-salt-draw', cause: 'salt-bridged', causes: [], severity: 'soon', raisedAt: RAISED },
  ...{ clearedAt: null, summary: 'seen', evidence: {}, consequences: [] },
  history: [{ at: RAISED, severity: 'soon', probability: 0.9 }],
};
const over = { ...open, clearedAt: RAISED + 10 * DAY };

function visit(findings: string[], days = 1): ServiceVisit {
  const time = RAISED + days * DAY;
  return { kind: 'service-visit', id: 'v', time, known: time, at: time, technician: 't', findings, work: [] };
}

it.each([
  [['salt-bridged'], 'confirmed'],
  [['tank-empty', 'salt-bridged'], 'confirmed'],
  [['nothing-found', 'salt-bridged'], 'confirmed'],
  [['tank-empty'], 'other-cause'],
  [['meter-stalled', 'rust'], 'other-cause'],
  [['nothing-found'], 'nothing-found'],
  [['rust'], 'no-word'],
  [[], 'no-word'],
  [['Salt-Bridged'], 'no-word'],
])('a visit that finds %j tells of a bridge: %s', (findings, outcome) => {
  expect(visitedBy(open, visit(findings), LATE_MS).visit).toEqual({ at: RAISED + DAY, outcome });
});

it('confirms by its own name what names no cause', () => {
  const low: Episode = { ...open, kind: 'salt-low', cause: null };
  expect(visitedBy(low, visit(['salt-low']), LATE_MS).visit?.outcome).toBe('confirmed');
  expect(visitedBy(low, visit(['tank-empty']), LATE_MS).visit?.outcome).toBe('other-cause');
});

it.each([
  [open, -0.1, false],
  [open, 0, true],
  [open, 300, true],
  [over, 24, true],
  [over, 24.1, false],
])('counts from the raising on, until two weeks after the end', (episode, days, counts) => {
  expect(visitedBy(episode, visit(['salt-bridged'], days), LATE_MS) !== episode).toBe(counts);
});

it('has the visit stand that tells most, and of equals the first', () => {
  const told = [
    ['rust'],
    ['nothing-found'],
    ['tank-empty'],
    ['nothing-found'],
    ['salt-bridged'],
    ['salt-bridged'],
  ];
  const outcomes: string[] = [];
  told.reduce((episode, findings, index) => {
    const next = visitedBy(episode, visit(findings, index), LATE_MS);
    outcomes.push(`${next.visit?.outcome} ${((next.visit?.at ?? 0) - RAISED) / DAY}`);
    return next;
  }, open);
  expect(outcomes).toEqual([
    ...['no-word 0', 'nothing-found 1', 'other-cause 2', 'other-cause 2', 'confirmed 4', 'confirmed 4'],
  ]);
});
