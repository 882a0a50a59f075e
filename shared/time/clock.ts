/** The time of a day on a clock, HH:MM. */
export const CLOCK = /^([01]\d|2[0-3]):[0-5]\d$/;
