import { fleetOf } from '../set/fleet.ts';
import type { Comparison } from './comparison.ts';
import { replayed } from './replay/replayed.ts';

const SIZES = { small: { units: 50, days: 60 }, whole: { units: 10_000, days: 1095 } } as const;
const MOST_MEGABYTES = 1024;

/** Whether the memory of a large replay stays bounded. It takes long, and so it is by itself and comes last. */
export const largest: Comparison = {
  name: 'largest',
  question: 'How much memory does a replay of a large fleet over years take?',
  async run(size, say) {
    const { units, days } = SIZES[size];
    const fleet = fleetOf(units, days, say);
    say(`replaying ${fleet.name}`);
    const { peakMegabytes, cpuSeconds, wallSeconds } = await replayed(fleet, 1);
    const what = `replay, one thread, ${fleet.name}`;
    const holds = peakMegabytes < MOST_MEGABYTES;
    return {
      measured: [
        { what, unit: 'MB at most', rounds: [peakMegabytes] },
        { what, unit: 'seconds of CPU', rounds: [cpuSeconds] },
        { what, unit: 'seconds', rounds: [wallSeconds] },
      ],
      plots: [],
      bounds: [
        {
          what: `Memory of a replay of ${fleet.name}`,
          asked: 'less than 1 GB (1,024 MB)',
          measured: `${peakMegabytes.toFixed(0)} MB`,
          holds,
          ...(!holds && {
            because:
              'what is open of every unit is held at once: its place in the registry, its share of the text that waits to be sorted, and the rows of its region.',
          }),
        },
      ],
      notes: [
        'It is the most that was resident at once, of the whole process, as the operating system tells it.',
      ],
    };
  },
};
