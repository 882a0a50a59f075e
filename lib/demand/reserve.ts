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
  private ahead: UseAhead | null = null;
  private isAway = false;
  private believedGallons = 0;
  private shareBeforeHour = 0;
  /** Use of the latest 0, 1, ... known days, up to 7, and how many are known. */
  private readonly latest = new Float64Array(WINDOW_DAYS + 1);
  private known = 0;

  begin(ahead: UseAhead, { believedGallons, lastSevenDays, shareBeforeHour }: ReserveAhead): void {
    this.ahead = ahead;
    // An absent household may not be back by then.
    this.isAway = ahead.household.away > 0.5;
    this.believedGallons = believedGallons;
    this.shareBeforeHour = shareBeforeHour;
    const all = lastSevenDays.length;
    this.known = Math.min(all, WINDOW_DAYS);
    let sum = 0;
    for (let days = 1; days <= this.known; days++) {
      sum += lastSevenDays[all - days] as number;
      this.latest[days] = sum;
    }
  }

  /** The whole days before a morning; for the first, of which there are none, the day itself. */
  daysBy(morning: number): number {
    return morning > 1 ? morning - 1 : 1;
  }

  /** What those days must use for the control to be due on that morning; at 0 or less it is due for certain. */
  gallonsBy(morning: number): number {
    if (morning === 1) return this.gallonsByFirst();
    const ahead = this.ahead as UseAhead;
    const whole = morning - 1;
    const window = Math.min(this.known + whole, WINDOW_DAYS);
    const rolled = whole > WINDOW_DAYS ? 1 - ahead.mean(whole - WINDOW_DAYS) / ahead.mean(whole) : 1;
    const trigger = this.windowLack(morning, whole, window) / (window + rolled);
    // What made it due on the first morning was seen on the same day's use.
    return whole === 1 ? Math.min(trigger, this.gallonsByFirst()) : trigger;
  }

  /** Whether it is due on that morning for certain. */
  isDue(morning: number): boolean {
    if (morning <= 2 && this.gallonsByFirst() <= 0) return true;
    const whole = morning - 1;
    return morning > 1 && this.windowLack(morning, whole, Math.min(this.known + whole, WINDOW_DAYS)) <= 0;
  }

  /** What the known days of its window leave to use, times the window's days. */
  private windowLack(morning: number, whole: number, window: number): number {
    const ahead = this.ahead as UseAhead;
    const known = whole < window ? (this.latest[window - whole] as number) : 0;
    const day = this.isAway ? ahead.mean(morning) - ahead.mean(whole) : ahead.homeDay(morning);
    return (this.believedGallons - this.shareBeforeHour * day) * window - known;
  }

  private gallonsByFirst(): number {
    const { believedGallons, known } = this;
    const left = known === 0 ? believedGallons : believedGallons - (this.latest[known] as number) / known;
    return left / Math.max(this.shareBeforeHour, 1e-6);
  }
}

const workspace = new Reserve();

/** When the control of a household's unit is due: good until the next call, and as long as `ahead` is. */
export function reserveAhead(ahead: UseAhead, control: ReserveAhead): Reserve {
  workspace.begin(ahead, control);
  return workspace;
}
