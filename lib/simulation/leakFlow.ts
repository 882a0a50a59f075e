/** What a fixture that never shuts lets run on one day. */
export class LeakFlow {
  /** For how many hours by the clock. */
  hours = 0;
  /** Its share of what the meter counted. */
  countedGallons = 0;
  /** How fast, as the meter counts it. */
  gpm = 0;

  /** It ran for so many hours, or did not where it is shut. */
  run(hours: number, gallons: number, registered: number, gpm: number): void {
    if (gpm === 0 || hours === 0) return;
    this.hours += hours;
    this.countedGallons += registered * gallons;
    this.gpm = registered * gpm;
  }
}
