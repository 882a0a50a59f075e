import type { EfficiencyCount } from '../../../lib/salt/account/saltAccount.ts';
import { shareTold } from '../../../lib/salt/rounding.ts';
import { EFFICIENCY_RULES, type EfficiencyRule } from '../../../lib/softening/efficiency.ts';
import { convert, count, unitOf, whole } from '../../show/amounts.ts';
import { DataTable } from '../../show/DataTable.tsx';
import { type Likings, useLikings } from '../../show/Likings.tsx';
import type { RegionMonth } from '../toldMonths.ts';
import styles from './Waste.module.css';

/** The rules that units are compared with, and what of a count is theirs. */
const COUNTED = { 'nsf-ansi-44': 'nsf44', 'california-2002': 'california2002' } as const;

type Counted = keyof typeof COUNTED;

function isCounted(rule: EfficiencyRule): rule is EfficiencyRule & { readonly id: Counted } {
  return Object.hasOwn(COUNTED, rule.id);
}

/** How many units meet published figures of efficiency, as they are set and as they were used. */
export function Efficiency({ account, title }: { account: RegionMonth; title: string }) {
  const likings = useLikings();
  return (
    <>
      <DataTable
        caption={`Units that meet published figures of efficiency: ${title}.`}
        columns={[
          { header: 'Rule', cell: (rule) => rule.title },
          { header: 'Its figures', cell: (rule) => figureWords(rule, likings) },
          { header: 'As set', isNumber: true, cell: ({ id }) => met(account.asSet, id, likings) },
          { header: 'In use', isNumber: true, cell: ({ id }) => met(account.inUse, id, likings) },
        ]}
        rows={EFFICIENCY_RULES.filter(isCounted)}
        keyOf={({ id }) => id}
      />
      <p className={`soft small ${styles.lead}`}>
        As set: what a whole bed gives for a whole dose. In use: what was removed for the salt and water of
        twelve months; units watched too short a time for that are not judged. This compares, it certifies
        nothing: the figures bind what a model is tested at, and a ruling is the authority’s.
      </p>
    </>
  );
}

function met(counted: EfficiencyCount, id: Counted, likings: Likings): string {
  const { judged } = counted;
  if (judged === 0) return 'none could be judged';
  const units = counted[COUNTED[id]];
  return `${whole(units, likings)} of ${whole(judged, likings)} (${shareTold(units / judged)})`;
}

/** What a rule asks for, in the units that are liked. */
function figureWords(rule: EfficiencyRule, likings: Likings): string {
  const { minGrainsPerLb, maxGallonsPerThousandGrains: water } = rule;
  const salt = `${count(convert(minGrainsPerLb, 'grainsPerLb', likings), likings)} ${unitOf('grainsPerLb', likings)} or more`;
  if (water === undefined) return salt;
  const perThousand = convert(water, 'gallons', likings) / convert(1_000, 'grains', likings);
  const grains = likings.units === 'us' ? 1_000 : 100;
  return `${salt}, at most ${count(perThousand * grains, likings)} ${unitOf('gallons', likings)} of water for ${whole(grains, likings)} ${unitOf('grains', likings)} of hardness`;
}
