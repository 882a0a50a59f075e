import type { Target } from './daySearch.ts';
import type { UseAhead } from './useAhead.ts';

/** What a control that holds a reserve goes by, at the end of the last day counted. */
export interface ReserveAhead {
  /** What the control believes is left, gallons; negative once past its own count. */
  readonly believedGallons: number;
  /** Use of the previous seven days as the control counted them, gallons, oldest first; fewer for a new unit. */
  readonly lastSevenDays: readonly number[];
  /** Share (0 to 1) of a day's use that comes before the control's regeneration hour. */
  readonly shareBeforeHour: number;
}

const WINDOW_DAYS = 7;

/**
 * When a control that holds a reserve is due. On morning k it has counted k-1 whole days and a share of day k, and
 * its reserve is the mean of the seven days before: known ones, which roll out, and then days to come, which roll
 * in. So it is due once (use so far) + (use in the window) / 7 reaches a known amount. Put here as an amount that
 * the k-1 whole days must use, with the share of day k, and the window's share of the days, at their means.
 */
class Reserve implements Target {
  private readonly ahead: UseAhead;
  private readonly control: ReserveAhead;
  /** Use of the latest 0, 1, ... known days, up to 7. */
  private readonly latest = [0];

  constructor(ahead: UseAhead, control: ReserveAhead) {
    this.ahead = ahead;
    this.control = control;
    let sum = 0;
    for (const day of control.lastSevenDays.slice(-WINDOW_DAYS).reverse()) {
      sum += day;
      this.latest.push(sum);
    }
  }

  /** The whole days before a morning; for the first, of which there are none, the day itself. */
  daysBy(morning: number): number {
    return morning > 1 ? morning - 1 : 1;
  }

  /** What those days must use for the control to be due on that morning; at 0 or less it is due for certain. */
  gallonsBy(morning: number): number {
    const { ahead, latest } = this;
    const { believedGallons, shareBeforeHour } = this.control;
    const whole = morning - 1;
    const window = Math.min(latest.length - 1 + whole, WINDOW_DAYS);
    const known = whole < window ? (latest[window - whole] as number) : 0;
    if (whole === 0) {
      const left = window === 0 ? believedGallons : believedGallons - known / window;
      return left / Math.max(shareBeforeHour, 1e-6);
    }
    // An absent household may not be back by then.
    const isAway = ahead.household.away > 0.5;
    const day = isAway ? ahead.mean(morning) - ahead.mean(whole) : ahead.homeDay(morning);
    const left = believedGallons - shareBeforeHour * day;
    const rolled = whole > WINDOW_DAYS ? 1 - ahead.mean(whole - WINDOW_DAYS) / ahead.mean(whole) : 1;
    const trigger = (left * window - known) / (window + rolled);
    // What made it due on the first morning was seen on the same day's use.
    return whole === 1 ? Math.min(trigger, this.gallonsBy(1)) : trigger;
  }
}

/** When the control of a household's unit is due: good as long as `ahead` is. */
export function reserveAhead(ahead: UseAhead, control: ReserveAhead): Target {
  return new Reserve(ahead, control);
}
