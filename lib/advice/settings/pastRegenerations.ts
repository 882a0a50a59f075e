import type { Fact, Regeneration } from '../../../shared/facts.ts';
import type { LocalDate } from '../../../shared/time/localDate.ts';
import type { Zone } from '../../../shared/time/zone.ts';

/** The regenerations reported of a stretch of local days, both ends in it, by time. */
export function pastRegenerations(
  facts: readonly Fact[],
  zone: Zone,
  { from, to }: { from: LocalDate; to: LocalDate },
): Regeneration[] {
  return facts
    .filter((fact): fact is Regeneration => {
      if (fact.kind !== 'regeneration') return false;
      const date = zone.dateAt(fact.time);
      return date >= from && date <= to;
    })
    .sort((a, b) => a.time - b.time);
}

/**
 * After how many days a control regenerates whatever was used, by those of its regenerations that it started for that
 * (`override`): the least number of days since the one before. Undefined where it started none, or one only.
 */
export function calendarDaysOf(regenerations: readonly Regeneration[], zone: Zone): number | undefined {
  const waits = regenerations.flatMap(({ trigger, time }, index) => {
    const before = regenerations[index - 1];
    return trigger === 'override' && before ? [zone.dateAt(time) - zone.dateAt(before.time)] : [];
  });
  const least = Math.min(...waits);
  return waits.length > 1 && least > 0 ? least : undefined;
}
