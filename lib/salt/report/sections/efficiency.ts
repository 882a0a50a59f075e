import { EFFICIENCY_RULES, type EfficiencyRule } from '../../../softening/efficiency.ts';
import type { FigureGroup } from '../../account/accountColumn.ts';
import type { EfficiencyCount } from '../../account/saltAccount.ts';
import { counted } from '../../rounding.ts';
import { type Section, table, text } from '../content.ts';
import { type Subject, WITHHELD } from '../given.ts';

/** The published figures that are counted, by the member of the account that counts them. */
const RULES = [
  ['nsf-ansi-44', 'nsf44'],
  ['california-2002', 'california2002'],
] as const;

/** Softeners that meet what is published, as they are set and as they were used. */
export function efficiency(subject: Subject): Section {
  const { asSet, inUse } = subject.account;
  const { hides } = subject;
  return {
    id: 'efficiency',
    title: 'Softeners that meet a published efficiency',
    blocks: [
      table({
        caption: 'Softeners that meet a published efficiency',
        columns: [
          { head: 'Published figure', share: 0.28 },
          { head: 'It asks for', share: 0.36 },
          { head: 'As set', share: 0.18, isNumber: true },
          { head: 'In use', share: 0.18, isNumber: true },
        ],
        rows: RULES.flatMap(([id, counts]) => {
          const rule = EFFICIENCY_RULES.find((each) => each.id === id);
          if (!rule) return [];
          const cell = (count: EfficiencyCount, group: FigureGroup) =>
            hides(group) ? WITHHELD : metOf(count[counts], count.judged);
          return [[rule.title, asksFor(rule), cell(asSet, 'as-set'), cell(inUse, 'in-use')]];
        }),
      }),
      text(
        'As set: what a whole bed gives for a whole dose. In use: what was removed for the salt and water spent in the last twelve months. The figures bind what a model is certified at in a laboratory; here softeners in the field are only compared with them, and a ruling is the authority’s.',
        'quiet',
      ),
    ],
  };
}

function metOf(met: number, judged: number): string {
  return judged === 0 ? 'none judged' : `${counted(met)} of ${counted(judged)}`;
}

/** What a rule asks for, in its own units: they are those of the law and the standard. */
export function asksFor({ minGrainsPerLb, maxGallonsPerThousandGrains, onDemand }: EfficiencyRule): string {
  const water =
    maxGallonsPerThousandGrains === undefined
      ? ''
      : `, at most ${maxGallonsPerThousandGrains} gal of regeneration water per 1,000 grains`;
  return `${counted(minGrainsPerLb)} grains per lb of salt or more${water}${onDemand === 'required' ? ', on demand' : ''}`;
}
