import { shortened } from '../../brief/shortened.ts';
import type { WithheldReason } from '../account/accountsFile.ts';
import { type RegionReport, type Section, text } from './content.ts';
import { type ReportGiven, type Subject, subjectOf } from './given.ts';
import { instantInWords } from './months.ts';
import { deliveries } from './sections/deliveries.ts';
import { efficiency } from './sections/efficiency.ts';
import { flows } from './sections/flows.ts';
import { headline } from './sections/headline.ts';
import { known } from './sections/known.ts';
import { limits } from './sections/limits.ts';
import { policy } from './sections/policy.ts';
import { quality } from './sections/quality.ts';
import { sources } from './sections/sources.ts';
import { wasted } from './sections/wasted.ts';
import { year } from './sections/year.ts';

/** Longer names are cut, characters. */
const MOST = { region: 80, company: 60, foot: 64 };

/**
 * The report of a region's month, for whoever must stand for its figures: in words, in the units that its reader likes.
 *
 * @throws RangeError if there is no account of the region and month
 */
export function regionReport(given: ReportGiven): RegionReport {
  const subject = subjectOf(given);
  const { account, inWords, method, isShared, leastUnits } = subject;
  const region = shortened(given.region, MOST.region);
  const company = shortened(given.company, MOST.company);
  return {
    title: `Salt account, ${inWords}`,
    region,
    month: inWords,
    company,
    facts: [
      `Softeners watched by ${company}`,
      `Facts known until ${instantInWords(account.asOf)}`,
      isShared ? 'Form for sharing' : 'The company’s own form, not for sharing',
    ],
    sections: [
      ...(subject.hides('all') ? [withheld(subject)] : figuresOf(subject)),
      limits(),
      policy({ asOf: account.asOf, leastUnits, isShared }),
      {
        ...{ id: 'method', title: 'How the figures are worked out' },
        blocks: [{ kind: 'steps', steps: method }],
      },
      sources(),
    ],
    foot: `${shortened(`${company}: ${region}`, MOST.foot)}, ${inWords}, as of ${instantInWords(account.asOf)}`,
  };
}

function figuresOf(subject: Subject): Section[] {
  return [
    headline(subject),
    known(subject),
    year(subject),
    quality(subject),
    efficiency(subject),
    wasted(subject),
    flows(subject),
    ...deliveries(subject),
  ];
}

function withheld({ withheld: { all = 'few-units' }, leastUnits }: Subject): Section {
  const why: Readonly<Record<WithheldReason, string>> = {
    'month-open': 'the month is not over for long enough, and what comes day by day would tell of days',
    'few-units': `fewer than ${leastUnits} softeners of the region reported, or made up one of the figures`,
    'one-unit': 'one softener makes up most of it, or two nearly all',
    'beside-another': 'another region is withheld, and could be worked out from this one and their sum',
  };
  return {
    id: 'figures',
    title: 'The month in figures',
    blocks: [text(`Withheld: ${why[all]}. So no household can be read out of it.`, 'caution')],
  };
}
