/**
 * How a meter registered of late against how it usually does. A turbine that begins to stick registers a falling share
 * of what flows before it stops: the peak flow falls, and so does the day's volume.
 */
export interface Registration {
  /** Peak flow of a usual day, US gallons a minute, and the days behind it. */
  usualPeakGpm: number;
  peakDays: number;
  /** Peak flow over the usual, and volume over what was expected, on the last day with any flow. */
  lastPeakShare: number;
  lastUseShare: number;
  /** The same as means of the few days before that: the day itself is cut short where the household leaves. */
  recentPeakShare: number;
  recentUseShare: number;
  /** Share of the days with any flow on which it was next to nothing, and the days behind it. */
  lowShare: number;
  lowDays: number;
}

/** Memory of the usual peak and of the last days, in days. */
const USUAL_DAYS = 60;
const RECENT_DAYS = 3;
/** Spread of one day's peak about the usual; from memory, unverified. */
const PEAK_SPREAD = 0.25;
/** Under this share of what was expected a day was low. */
const LOW = 0.3;
/** Share of stretches of days that are odd at a sound meter: somebody leaves early, a guest bathes. */
const ODD = 0.05;

/** A meter that has registered nothing yet. */
export function newRegistration(): Registration {
  return {
    usualPeakGpm: 0,
    peakDays: 0,
    lastPeakShare: 1,
    lastUseShare: 1,
    recentPeakShare: 1,
    recentUseShare: 1,
    lowShare: ODD,
    lowDays: USUAL_DAYS / 2,
  };
}

/** A copy that shares nothing. */
export function copyRegistration(registration: Registration): Registration {
  return {
    usualPeakGpm: registration.usualPeakGpm,
    peakDays: registration.peakDays,
    lastPeakShare: registration.lastPeakShare,
    lastUseShare: registration.lastUseShare,
    recentPeakShare: registration.recentPeakShare,
    recentUseShare: registration.recentUseShare,
    lowShare: registration.lowShare,
    lowDays: registration.lowDays,
  };
}

/** Forgets the last days: nothing was registered after them, and what comes next is another story. */
export function forgetRecent(registration: Registration) {
  registration.lastPeakShare = 1;
  registration.lastUseShare = 1;
  registration.recentPeakShare = 1;
  registration.recentUseShare = 1;
}

/** Takes in a day with some flow. `expectedGallons` is what was expected of it with the household at home. */
export function registerDay(
  registration: Registration,
  day: { gallons: number; peakGpm?: number | undefined },
  expectedGallons: number,
) {
  const useShare = expectedGallons > 0 ? Math.min(3, day.gallons / expectedGallons) : 1;
  registration.recentUseShare += (registration.lastUseShare - registration.recentUseShare) / RECENT_DAYS;
  registration.recentPeakShare += (registration.lastPeakShare - registration.recentPeakShare) / RECENT_DAYS;
  registration.lastUseShare = useShare;
  registration.lowDays = Math.min(2 * USUAL_DAYS, registration.lowDays + 1);
  registration.lowShare += ((useShare < LOW ? 1 : 0) - registration.lowShare) / registration.lowDays;
  if (day.peakGpm === undefined) return;
  registration.lastPeakShare =
    registration.usualPeakGpm > 0 ? Math.min(3, day.peakGpm / registration.usualPeakGpm) : 1;
  registration.peakDays = Math.min(USUAL_DAYS, registration.peakDays + 1);
  registration.usualPeakGpm += (day.peakGpm - registration.usualPeakGpm) / registration.peakDays;
}

/**
 * How much likelier the last days are of a meter on its way to a stop than of a sound one: the shares lie anywhere
 * from 0 to 1 on that way, and about 1 otherwise, unless the household draws little on many days anyway.
 *
 * @param dayCv relative spread of a household day
 */
export function dwindlingRatio(registration: Registration, dayCv: number): number {
  const { lowShare } = registration;
  const use = ratio(registration.recentUseShare, dayCv, lowShare);
  const peak =
    registration.peakDays < RECENT_DAYS ? 1 : ratio(registration.recentPeakShare, PEAK_SPREAD, lowShare);
  return Math.max(use, peak);
}

function ratio(share: number, daySpread: number, lowShare: number): number {
  // The mean of some days that are weighed geometrically spreads as that of (2 RECENT_DAYS - 1) equal ones.
  const spread = Math.max(0.1, daySpread / Math.sqrt(2 * RECENT_DAYS - 1));
  const z = (share - 1) / spread;
  const usual = Math.exp(-0.5 * z * z) / (spread * Math.sqrt(2 * Math.PI));
  const dwindling = share < 1 ? 1 : 0;
  const odd = Math.max(lowShare, ODD);
  return dwindling / ((1 - odd) * usual + odd);
}
