import type { Fleet } from '../../set/fleet.ts';
import { pointOf } from '../../set/pointOf.ts';
import { median } from '../../set/spread.ts';
import type { Plot } from '../comparison.ts';

interface SizePlot {
  readonly title: string;
  readonly x: string;
  readonly fleets: readonly Fleet[];
  of(fleet: Fleet): number;
  readonly logarithmic: boolean;
  net(fleet: Fleet): readonly number[];
  netParse(fleet: Fleet): readonly number[];
}

/** Time against one size, beside the line through the origin on which a unit-day takes the median of all sizes. */
export function sizePlot({ title, x, fleets, of, logarithmic, net, netParse }: SizePlot): Plot {
  const aUnitDay = median(fleets.map((fleet) => median(net(fleet)) / fleet.unitDays));
  const straight = fleets.map((fleet) => ({ x: of(fleet), y: aUnitDay * fleet.unitDays }));
  return {
    ...{ title, x, y: 'CPU net of the start (s)', logarithmic },
    lines: [
      { name: 'replay, one thread', points: fleets.map((fleet) => pointOf(of(fleet), net(fleet))) },
      {
        name: 'straight through the origin, at the median of a unit-day',
        points: logarithmic ? straight : [{ x: 0, y: 0 }, ...straight],
      },
      { name: 'JSON.parse of each line', points: fleets.map((fleet) => pointOf(of(fleet), netParse(fleet))) },
    ],
  };
}
