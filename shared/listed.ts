/**
 * Names in a sentence, with how many are left out: `2026-01, 2026-02, and 3 more`. The last ones are named, since of
 * months those are asked for.
 *
 * @param most more than so many are not named; 1 or more
 */
export function listed(names: readonly string[], most: number): string {
  const more = names.length - most;
  return more > 0 ? `${names.slice(-most).join(', ')}, and ${more} more` : names.join(', ');
}
