/** When faults come and go, how meters are made to stall, and what households say of absences and stalls. Invented, or from common sense. */
export const STALLS = {
  /** Faults of any kind leave the first days alone, or a third of a short simulation, and have the last to show. */
  soundDays: 60,
  daysToShow: 30,
  /** Share that dwindles, and for how many days before the stall. */
  dwindles: 0.3,
  dwindlingDays: { least: 6, most: 14 },
  /** Share that begins while the household is away: since so many days, and for so many after the day of the stall. */
  behindAbsence: 0.3,
  awayBefore: { least: 1, most: 5 },
  awayAfter: { least: -1, most: 6 },
  /** Share of the faults of any kind that is mended, so many days after it shows. */
  mended: 0.8,
  mendedAfter: { least: 10, most: 75 },
  /** Share of the absences of three days or more that are announced. */
  announced: 0.2,
  /** How often a day a household notices, and says that it is there. */
  noticed: 0.02,
} as const;
