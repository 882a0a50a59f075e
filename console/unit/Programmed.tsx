import { amount } from '../show/amounts.ts';
import { useLikings } from '../show/Likings.tsx';
import type { StoryUnit } from './types.ts';

/** What stands on the control, as far as is known, in a sentence. */
export function Programmed({ unit: { programmed, saltDoseLb } }: { unit: StoryUnit }) {
  const likings = useLikings();
  const { capacityGrains, hardnessGpg, regenerationHour } = programmed;
  return (
    <p>
      Programmed, as far as is known: capacity {amount(capacityGrains, 'grains', likings)}, hardness{' '}
      {amount(hardnessGpg, 'gpg', likings)}, salt dose {amount(saltDoseLb, 'lb', likings)}, regenerates at{' '}
      {hourOfDay(regenerationHour, likings.locale)}.
    </p>
  );
}

/** An hour on the control's clock, as people of the locale write it. */
export function hourOfDay(hour: number, locale: string): string {
  return new Intl.DateTimeFormat(locale, { hour: 'numeric', minute: '2-digit', timeZone: 'UTC' }).format(
    hour * 3_600_000,
  );
}
