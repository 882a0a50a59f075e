/** The zones that this browser knows. */
export const ZONES: readonly string[] = Intl.supportedValuesOf('timeZone');

/** The zone of a name; that of the browser for an empty one, undefined for one that does not exist. */
export function zoneNamed(name: string): string | undefined {
  try {
    return new Intl.DateTimeFormat('en', name ? { timeZone: name } : {}).resolvedOptions().timeZone;
  } catch {
    return undefined;
  }
}

/** The language of a tag; that of the browser for an empty one, undefined for what is no tag. */
export function localeNamed(tag: string): string | undefined {
  try {
    return tag ? Intl.getCanonicalLocales(tag)[0] : navigator.language;
  } catch {
    return undefined;
  }
}
