import { type Fleet, fleetOf } from '../set/fleet.ts';
import type { Comparison } from './comparison.ts';
import { flatBound } from './replay/flatBound.ts';
import { replayed } from './replay/replayed.ts';

const SIZES = {
  small: { units: 50, days: [30, 60] },
  whole: { units: 10_000, days: [365, 1095] },
} as const;
const MOST_MEGABYTES = 1024;

/** Whether the memory of a large replay stays bounded. It takes long, and so it is by itself and comes last. */
export const largest: Comparison = {
  name: 'largest',
  question: 'How much memory does a replay of a large fleet over years take?',
  async run(size, say) {
    const { units, days } = SIZES[size];
    const uses = [];
    for (const each of days) {
      const fleet = fleetOf(units, each, say);
      say(`replaying ${fleet.name}`);
      uses.push({ fleet, use: await replayed(fleet, 1) });
    }
    const held = uses.map(({ fleet, use }) => ({ name: fleet.name, megabytesHeld: use.peakMegabytes }));
    const most = Math.max(...held.map(({ megabytesHeld }) => megabytesHeld));
    const holds = most < MOST_MEGABYTES;
    return {
      measured: uses.flatMap(({ fleet, use }) => [
        { what: nameOf(fleet), unit: 'MB at most', rounds: [use.peakMegabytes] },
        { what: nameOf(fleet), unit: 'seconds of CPU', rounds: [use.cpuSeconds] },
        { what: nameOf(fleet), unit: 'seconds', rounds: [use.wallSeconds] },
      ]),
      plots: [],
      bounds: [
        {
          what: `Memory of a replay of ${held.at(-1)?.name}`,
          asked: 'less than 1 GB (1,024 MB)',
          measured: `${most.toFixed(0)} MB`,
          holds,
          ...(!holds && {
            because:
              'what is open of every unit is held at once: its place in the registry, its share of the text that waits to be sorted, and the rows of its region.',
          }),
        },
        flatBound(held),
      ],
      notes: [
        'It is the most that was resident at once, of the whole process, as the operating system tells it.',
      ],
    };
  },
};

function nameOf({ name }: Fleet): string {
  return `replay, one thread, ${name}`;
}
