/** AWWA/ASCE, Water Treatment Plant Design, ch. 12, p. 12.46 (read in the source): about 80 gal a cubic foot. */
const GALLONS_PER_CUBIC_FOOT = 80;

/** Water that a regeneration takes where it is not metered, US gallons, by the resin in cubic feet. */
export function regenerationGallons(resinCubicFeet: number): number {
  return GALLONS_PER_CUBIC_FOOT * resinCubicFeet;
}
