import type { NothingToReport } from '../../lib/salt/report/missing.ts';
import { listed } from '../../shared/listed.ts';
import type { Registry } from '../../shared/registry.ts';
import { formatInstant, type Instant } from '../../shared/time/instant.ts';
import { CommandError } from '../errors.ts';

/** Names that are listed in a message. */
const MOST_NAMED = 30;

/** The regions that a company's units are or were counted in. */
export function regionsOf({ units }: Registry, company: string): string[] {
  const regions = [...units.values()]
    .filter(({ companyId }) => companyId === company)
    .flatMap(({ region, formerRegions }) => [region, ...formerRegions.map((former) => former.region)]);
  return [...new Set(regions)].sort();
}

export function unknownRegion(region: string, regions: readonly string[], where: string): CommandError {
  return new CommandError(
    'region-unknown',
    `there is no region ${region} in ${where}`,
    `Regions: ${listed(regions, MOST_NAMED)}.`,
  );
}

/** Why a region's month cannot be reported though the region exists. */
export function nothingToReport(
  { region, month }: { region: string; month: string },
  missing: NothingToReport | undefined,
  until: Instant | undefined,
): CommandError {
  if (until === undefined || !missing || missing.why === 'region-unknown') {
    return new CommandError(
      'month-missing',
      `nothing is known of ${region}`,
      'See that the events are those of this registry: brinebell replay lists what was not accepted.',
    );
  }
  const why =
    missing.why === 'month-ahead'
      ? `${month} is in the future: the events end at ${formatInstant(until)}`
      : `nothing is known of ${region} in ${month}`;
  return new CommandError(
    'month-missing',
    why,
    `Months of ${region}: ${listed(missing.months, MOST_NAMED)}.`,
  );
}
