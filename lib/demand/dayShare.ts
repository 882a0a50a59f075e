/**
 * How much of a day's use comes before each full hour, as a share. Mean of six households' hourly records, each
 * home counting the same: five of the DAIAD trial (Alicante; CC BY-SA 4.0) and that of AMPds2 (Burnaby; Makonin et
 * al., Sci. Data 3:160037, 2016; CC BY 4.0), a holiday home and a leaking one left out.
 */
const SHARE_BEFORE_HOUR = [
  0, 0.031, 0.042, 0.048, 0.053, 0.058, 0.063, 0.076, 0.117, 0.195, 0.243, 0.288, 0.336, 0.386, 0.435, 0.474,
  0.513, 0.547, 0.586, 0.63, 0.691, 0.799, 0.901, 0.963, 1,
] as const;

/**
 * The share, 0 to 1, of a local day's use that a household draws before a time of day.
 *
 * @param hour local time of day in hours, 0 to 24; beyond that the nearest end counts
 */
export function shareBefore(hour: number): number {
  const inside = Math.min(24, Math.max(0, hour));
  const full = Math.min(23, Math.floor(inside));
  const from = SHARE_BEFORE_HOUR[full] ?? 0;
  const to = SHARE_BEFORE_HOUR[full + 1] ?? 1;
  return from + (to - from) * (inside - full);
}
