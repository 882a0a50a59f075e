import type { AttentionRow } from '../../api/types.ts';

/** What is acted upon: a unit, and its alert where it has one. The list has it from a row, the story from the unit. */
export interface Target {
  readonly unitId: string;
  /** What people call the place. */
  readonly site: string;
  readonly timeZone: string;
  readonly alert: TargetAlert | null;
  /** Since when and by whom it is out of service; null while it is in service. */
  readonly outOfService: { readonly by: string } | null;
  /** The next one that is planned. */
  readonly visit: TargetVisit | null;
}

export interface TargetVisit {
  readonly visitId: string;
  readonly technician: string;
  readonly technicianName: string;
  /** A local date of the site, and the same in words. */
  readonly date: string;
  readonly day: string;
  readonly reason: string;
}

export interface TargetAlert {
  readonly alertId: string;
  readonly sentence: string;
  readonly acknowledged: AttentionRow['acknowledged'];
  readonly shelved: AttentionRow['shelved'];
}

export function targetOf(row: AttentionRow, visit: TargetVisit | undefined): Target {
  const { unitId, siteName, siteId, timeZone, alertId, sentence, acknowledged, shelved } = row;
  return {
    unitId,
    site: siteName ?? siteId,
    timeZone,
    alert: { alertId, sentence, acknowledged, shelved },
    // What is out of service has no open alert, and no row.
    outOfService: null,
    visit: visit ?? null,
  };
}
