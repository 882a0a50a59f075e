import type { ControlSettings, ReserveRule } from '../../lib/advice/settings/replaySettings.ts';

/** A whole number with its thousands apart; no sign where it rounds to nothing. */
export function whole(value: number): string {
  const rounded = Math.round(value);
  return (rounded === 0 ? 0 : rounded).toLocaleString('en-US');
}

/** A number of up to two decimals: metric settings come out odd. */
export function figure(value: number): string {
  return String(Math.round(value * 100) / 100);
}

/** An hour of the day on the control's clock. */
export function hourText(hour: number): string {
  return `${String(hour).padStart(2, '0')}:00`;
}

/** Settings in one line. */
export function settingsText(settings: ControlSettings): string {
  const { saltDoseLb, capacityGrains, hardnessGpg, regenerationHour } = settings;
  return `${figure(saltDoseLb)} lb, ${whole(capacityGrains)} gr, ${figure(hardnessGpg)} gpg, ${hourText(regenerationHour)}`;
}

/** A reserve rule in words. */
export function reserveText(reserve: ReserveRule): string {
  switch (reserve.kind) {
    case 'seven-day-mean':
      return 'the mean of seven days';
    case 'share':
      return `${Math.round(reserve.share * 100)} % of its capacity`;
    case 'forecast':
      return 'what the forecast puts 9 days in 10 below';
  }
}
