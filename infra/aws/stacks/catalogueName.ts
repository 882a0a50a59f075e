import type { Stage } from '../stages.ts';

/** What the catalogue of the archive is called: queries name it, and so do the rights of functions that add to it. */
export function catalogueName({ name }: Stage): string {
  return `brinebell_${name}`;
}
