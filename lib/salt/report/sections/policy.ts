import { type Section, text } from '../content.ts';
import { instantInWords } from '../months.ts';

/** As of when the figures are, and what may change them. */
export function policy({
  asOf,
  leastUnits,
  isShared,
}: {
  asOf: number;
  leastUnits: number;
  isShared: boolean;
}): Section {
  return {
    id: 'corrections',
    title: 'Corrections',
    blocks: [
      text(
        `All that was known until ${instantInWords(asOf)} is in these figures, and nothing that became known later. Reports that come late, corrections of the registry such as a region or a dose that was recorded wrongly, and changed rules restate a month, whenever they come: a report made later replaces this one. Days that were estimated give way to reports of them.`,
      ),
      text(
        'Two reports of one month are told apart by the instant until which facts were known. When a figure is quoted, quote that instant with it; the account can be worked out again from the stored events up to that instant.',
      ),
      text(
        `Where accounts are shared beyond the company, figures of fewer than ${leastUnits} softeners are withheld, those that one softener makes up, and those from which such a figure could be worked out; a month is withheld until some weeks after its end. ${isShared ? 'This is the shared form.' : 'This is the company’s own form: nothing is withheld in it, so do not pass it on.'}`,
      ),
    ],
  };
}
