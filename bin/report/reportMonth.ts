import type { UnitSystem } from '../../lib/brief/inUnits.ts';
import type { Paper } from '../../lib/brief/paper.ts';
import { accountsCsv } from '../../lib/salt/account/accountsCsv.ts';
import { cellsOf } from '../../lib/salt/account/accountsFile.ts';
import { CompanyAccounts, type ToldAccount } from '../../lib/salt/account/companyAccounts.ts';
import { METHOD } from '../../lib/salt/account/method.ts';
import { sharedCells } from '../../lib/salt/account/shared.ts';
import type { SaltNeed } from '../../lib/salt/deliveries/delivery.ts';
import { type DeliveryPlan, deliveryPlan } from '../../lib/salt/deliveries/deliveryPlan.ts';
import { whatIsMissing } from '../../lib/salt/report/missing.ts';
import { yearUpTo } from '../../lib/salt/report/months.ts';
import { reportFiles } from '../../lib/salt/report/reportFiles.ts';
import type { Rules } from '../../lib/watch/rules.ts';
import type { Registry } from '../../shared/registry.ts';
import type { Instant } from '../../shared/time/instant.ts';
import { isLatest } from '../../shared/time/month.ts';
import type { CommandError } from '../errors.ts';
import { inOrder } from '../replay/inOrder.ts';
import { readText } from '../replay/source.ts';
import { type FleetInputs, type ReceivedFleet, registryOf, withReceived } from '../replay/withReceived.ts';
import { companyOf } from './companyOf.ts';
import { nothingToReport, regionsOf, unknownRegion } from './nothing.ts';

/** Which region and month, how it is told, and of what. */
export interface ReportRequest extends FleetInputs {
  region: string;
  month: string;
  rules: Rules;
  /** The end; by default the last instant at which an accepted event became known. */
  until: Instant | undefined;
  /** Of the registry's companies; needed where there are several. */
  company: string | undefined;
  isShared: boolean;
  system: UnitSystem;
  paper: Paper;
}

/** What was written, beside how the reading went. */
export interface Reported {
  files: readonly string[];
  registry: Registry;
  read: number;
  rejected: number;
  until: Instant;
  /** Why the events could not be read to their end, if so. */
  broken: CommandError | undefined;
}

const UNDONE = 'Nothing was reported.';

/**
 * Works out the accounts of a company's events and writes the report of a region's month as HTML and PDF, with
 * its rows as CSV.
 *
 * @throws CommandError if an input cannot be read at all, the folder cannot be used, or there is no such region or month;
 *   nothing is written then
 */
export async function reportMonth(request: ReportRequest): Promise<Reported> {
  const { region, month, rules, isShared, system, paper, units } = request;
  // A slip of the pen is told of before everything is read.
  const written = registryOf(units, await readText(units), UNDONE);
  const company = companyOf(written, request.company, units);
  const regions = regionsOf(written, company);
  if (!regions.includes(region)) throw unknownRegion(region, regions, units);
  return withReceived(request, UNDONE, async (given) => {
    const { folder, registry, shuffle, rejections, read, broken } = given;
    const until = request.until ?? shuffle.lastStanding();
    const { accounts, deliveries } =
      until === undefined
        ? { accounts: [], deliveries: undefined }
        : await companyOfEvents(given, { company, rules, until });
    const missing = whatIsMissing(
      accounts.map(({ account }) => account),
      { region, month },
      until ?? 0,
    );
    if (until === undefined || missing) throw nothingToReport({ region, month }, missing, until);
    const { html, pdf } = await reportFiles(
      {
        ...{ company, region, month, accounts, method: METHOD, isShared, system },
        leastUnits: rules.salt.leastUnitsTold,
        deliveries:
          deliveries && isLatest(month, until) ? { ...deliveries, bagLb: rules.deliveries.bagLb } : undefined,
      },
      paper,
    );
    const name = `${region}-${month}`;
    folder.output(`${name}.html`).add(html);
    folder.output(`${name}.pdf`).addBytes(pdf);
    folder.output(`${name}.csv`).add(csvOf(accounts, { region, month, isShared }));
    folder.publish();
    const rejected = [...rejections.counts.values()].reduce((sum, count) => sum + count, 0);
    const files = ['html', 'pdf', 'csv'].map((form) => `${name}.${form}`);
    return { files, registry, read, rejected, until, broken };
  });
}

/** The accounts of all regions of a company, since what its sensors tell is of all together; and houses that need salt. */
async function companyOfEvents(
  { fleet, shuffle, engine, progress }: ReceivedFleet,
  { company, rules, until }: { company: string; rules: Rules; until: Instant },
): Promise<{ accounts: ToldAccount[]; deliveries: DeliveryPlan | undefined }> {
  const accounts = new CompanyAccounts(until, rules.salt);
  const needs: SaltNeed[] = [];
  let today = Number.POSITIVE_INFINITY;
  let done = 0;
  progress.begin('Folding units', fleet.units.length);
  await inOrder(
    shuffle.ranges(engine.threads),
    engine.atOnce,
    (range) => engine.fold(range, { rules, until, tells: 'deliveries' }),
    async (folded) => {
      for (const [index, account] of folded.accounts.entries()) {
        const unit = fleet.units[done++];
        if (unit?.companyId !== company) continue;
        accounts.add({ unit, ...account });
        today = Math.min(today, unit.zone.dateAt(until));
        const need = folded.needs[index];
        if (need) needs.push(need);
      }
      progress.reach(done);
    },
  );
  progress.end();
  return { accounts: accounts.told(), deliveries: deliveryPlan(needs, today, rules.deliveries) };
}

/** The rows that the report tells: those of the region, of the month and the twelve before. */
function csvOf(
  accounts: readonly ToldAccount[],
  { region, month, isShared }: { region: string; month: string; isShared: boolean },
): string {
  const year = new Set(yearUpTo(month));
  const told = accounts.filter(({ account }) => account.region === region && year.has(account.month));
  const items = told.map(({ account }) => cellsOf(account));
  const withheld = told.map((each) => each.withheld);
  return accountsCsv(isShared ? sharedCells({ items, withheld }) : items, { isShared });
}
