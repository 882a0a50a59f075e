import type { UnitSystem } from '../lib/brief/inUnits.ts';
import type { Paper } from '../lib/brief/paper.ts';
import { METHOD } from '../lib/salt/account/method.ts';
import type { ToBring } from '../lib/salt/report/given.ts';
import { reportHtml } from '../lib/salt/report/html.ts';
import { type NothingToReport, whatIsMissing } from '../lib/salt/report/missing.ts';
import { regionReport } from '../lib/salt/report/regionReport.ts';
import type { Rules } from '../lib/watch/rules.ts';
import { isLatest } from '../shared/time/month.ts';
import { companyAccounts } from './companyAccounts.ts';
import { type CompanyDeliveries, companyDeliveries } from './companyDeliveries.ts';
import type { Ports } from './ports.ts';
import { rulesOf } from './rulesOf.ts';

/** Which report is asked for, of whom, and how it is told. */
export interface ReportAsked {
  readonly companyId: string;
  readonly region: string;
  readonly month: string;
  readonly form: 'html' | 'pdf';
  readonly system: UnitSystem;
  readonly paper: Paper;
  readonly isShared: boolean;
}

/** The report of a region's month, as all that is known now has it; or why there is none. */
export async function regionReportOf(
  { store, now }: Pick<Ports, 'store' | 'now'>,
  { companyId, region, month, form, system, paper, isShared }: ReportAsked,
): Promise<{ readonly body: string | Uint8Array } | NothingToReport> {
  const until = now();
  const company = await store.company(companyId);
  const rules = await rulesOf(company);
  const accounts = (await companyAccounts(store, companyId, until)).told();
  const missing = whatIsMissing(
    accounts.map(({ account }) => account),
    { region, month },
    until,
  );
  if (missing) return missing;
  const report = regionReport({
    ...{ company: company?.name || companyId, region, month, accounts, method: METHOD, isShared, system },
    leastUnits: rules.salt.leastUnitsTold,
    deliveries: isLatest(month, until)
      ? toBring(await companyDeliveries(store, companyId, rules, until, { region }), rules)
      : undefined,
  });
  if (form === 'html') return { body: reportHtml(report) };
  // Only now: with its fonts it is as much as all the rest.
  const { reportPdf } = await import('../lib/salt/report/pdf/pdf.ts');
  return { body: await reportPdf(report, { paper }) };
}

function toBring({ plan, factsOf }: CompanyDeliveries, { deliveries: { bagLb } }: Rules): ToBring {
  return { ...plan, bagLb, siteNameOf: (unitId) => factsOf(unitId).siteName };
}
