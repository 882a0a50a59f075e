import { shortened } from '../../brief/shortened.ts';
import { type RegionReport, type Section, text } from './content.ts';
import { isWithheld, type ReportGiven, subjectOf } from './given.ts';
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
      ...(isWithheld(account, given) ? [withheld(leastUnits)] : figuresOf(given)),
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

function figuresOf(given: ReportGiven): Section[] {
  const subject = subjectOf(given);
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

function withheld(leastUnits: number): Section {
  return {
    id: 'figures',
    title: 'The month in figures',
    blocks: [
      text(
        `Withheld: fewer than ${leastUnits} softeners of the region reported in this month, and a household could be read out of its figures.`,
        'caution',
      ),
    ],
  };
}
