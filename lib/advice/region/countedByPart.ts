import type { Replay } from '../settings/outcome.ts';
import type { ControlSettings, ReplayedSettings } from '../settings/replaySettings.ts';
import type { Counted } from './year.ts';

/** How what some days used was spread over them. */
export interface PartsOf {
  readonly replay: Replay;
  readonly settings: ControlSettings;
  readonly replayed: ReplayedSettings;
  readonly rawHardnessGpg: number;
}

/**
 * What a replay counted in each of so many parts of its days, equal but for a day. A regeneration counts where the
 * water was drawn that it was for: by days it would come in lumps, and say that use differs where it does not.
 */
export function countedByPart(
  { replay, settings, replayed, rawHardnessGpg }: PartsOf,
  parts: number,
): Counted[] {
  const { gallons } = replay.use;
  const partOf = (day: number) => Math.floor((day * parts) / gallons.length);
  const cycles = new Float64Array(parts);
  const softGallons = new Float64Array(parts);
  const hardDays = new Float64Array(parts);
  const add = (sums: Float64Array, part: number, amount: number) => {
    sums[part] = (sums[part] ?? 0) + amount;
  };
  cyclesByDay(gallons, replayed).forEach((share, day) => {
    add(cycles, partOf(day), share);
  });
  gallons.forEach((drawn, day) => {
    add(softGallons, partOf(day), drawn);
  });
  for (const { day, gallons: hard } of replayed.hardOn) {
    add(softGallons, partOf(day), -hard);
    add(hardDays, partOf(day), 1);
  }
  const waterGallons = replay.water.gallonsAt(settings.saltDoseLb);
  return Array.from({ length: parts }, (_, part) => ({
    doseLb: (cycles[part] ?? 0) * settings.saltDoseLb,
    waterGallons: (cycles[part] ?? 0) * waterGallons,
    hardDays: hardDays[part] ?? 0,
    grainsRemoved: (softGallons[part] ?? 0) * rawHardnessGpg,
  }));
}

/** By day, the share of a cycle that its water was. They add up to `cycles`, with the one that the end cut short. */
function cyclesByDay(gallons: Float64Array, { cycles, regeneratedOn }: ReplayedSettings): Float64Array {
  const shares = new Float64Array(gallons.length);
  const spread = (amount: number, from: number, to: number) => {
    const drawn = sumOf(gallons, from, to);
    if (drawn > 0) for (let day = from; day < to; day++) shares[day] = share(day, amount / drawn);
    // A bed that regenerates twice in a day, or that a calendar regenerates after a time without use.
    else shares[Math.min(to, gallons.length - 1)] = (shares[Math.min(to, gallons.length - 1)] ?? 0) + amount;
  };
  const share = (day: number, perGallon: number) => (shares[day] ?? 0) + (gallons[day] ?? 0) * perGallon;
  let from = 0;
  for (const day of regeneratedOn) {
    spread(1, from, day);
    from = day;
  }
  spread(cycles - regeneratedOn.length, from, gallons.length);
  return shares;
}

function sumOf(gallons: Float64Array, from: number, to: number): number {
  let sum = 0;
  for (let day = from; day < to; day++) sum += gallons[day] ?? 0;
  return sum;
}
