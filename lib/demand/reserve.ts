import type { Target } from './daySearch.ts';
import { HORIZON_DAYS, type UseAhead } from './useAhead.ts';

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
  private ahead: UseAhead;
  private control: ReserveAhead;
  /** Use of the latest 0, 1, ... 7 known days. */
  private readonly latest = new Float64Array(WINDOW_DAYS + 1);
  /** By morning, as far as worked out. */
  private readonly triggers = new Float64Array(HORIZON_DAYS + 1);
  private mornings = 0;
  private recorded = 0;
  private begun = 0;

  constructor(ahead: UseAhead, control: ReserveAhead) {
    this.ahead = ahead;
    this.control = control;
  }

  isFor(ahead: UseAhead, control: ReserveAhead): boolean {
    return (
      this.begun === ahead.begun &&
      this.control.lastSevenDays === control.lastSevenDays &&
      this.control.believedGallons === control.believedGallons &&
      this.control.shareBeforeHour === control.shareBeforeHour
    );
  }

  begin(ahead: UseAhead, control: ReserveAhead): void {
    this.ahead = ahead;
    this.control = control;
    this.mornings = 0;
    this.begun = ahead.begun;
    const { lastSevenDays } = control;
    this.recorded = Math.min(lastSevenDays.length, WINDOW_DAYS);
    for (let days = 1; days <= this.recorded; days++) {
      const day = lastSevenDays[lastSevenDays.length - days] as number;
      this.latest[days] = (this.latest[days - 1] as number) + day;
    }
  }

  /** The whole days before a morning; for the first, of which there are none, the day itself. */
  daysBy(morning: number): number {
    return morning > 1 ? morning - 1 : 1;
  }

  /** What those days must use for the control to be due on that morning; at 0 or less it is due for certain. */
  gallonsBy(morning: number): number {
    while (this.mornings < morning) {
      this.mornings += 1;
      this.triggers[this.mornings] = this.trigger(this.mornings);
    }
    return this.triggers[morning] as number;
  }

  private trigger(morning: number): number {
    const { ahead, latest } = this;
    const { believedGallons, shareBeforeHour } = this.control;
    const whole = morning - 1;
    const window = Math.min(this.recorded + whole, WINDOW_DAYS);
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
    return whole === 1 ? Math.min(trigger, this.triggers[1] as number) : trigger;
  }
}

export type { Reserve };

let workspace: Reserve | undefined;

/** When the control of a household's unit is due. What is returned is good until the next call, as `ahead` is. */
export function reserveAhead(ahead: UseAhead, control: ReserveAhead): Reserve {
  workspace ??= new Reserve(ahead, control);
  if (!workspace.isFor(ahead, control)) workspace.begin(ahead, control);
  return workspace;
}
