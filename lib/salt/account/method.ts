import { Z_OF_80_PERCENT } from '../../estimate/interval.ts';
import { CHLORIDE_MASS_FRACTION } from '../../softening/chloride.ts';
import { EFFICIENCY_RULES } from '../../softening/efficiency.ts';
import { SODIUM_LB_PER_GRAIN, SODIUM_MASS_FRACTION } from '../../softening/sodium.ts';
import { WASTE_CAUSES } from '../waste.ts';
import { wasteInFull } from '../wasteWords.ts';

/** One step of how an account is worked out, for readers who want to check it. */
export interface MethodStep {
  /** Stands in addresses within a page; does not change. */
  readonly id: string;
  readonly title: string;
  /** As plain text, where the step is arithmetic. */
  readonly formula?: string;
  readonly text: string;
  /** Where its numbers come from. A rule of thumb says that it has none. */
  readonly source?: string;
}

/** How regional salt accounts are worked out, in the order in which one would do it by hand. */
export const METHOD: readonly MethodStep[] = [
  {
    id: 'scope',
    title: 'What an account is about',
    text:
      'An account is about the softeners that one company watches in one region, in one calendar month of each site’s ' +
      'own time zone. Softeners that the company does not watch are not in it, and nothing is scaled up to them. A ' +
      'softener that moves to another region counts where it stood on each day. Each account names the instant until ' +
      'which facts were known: later corrections give a later account.',
  },
  {
    id: 'days',
    title: 'Days owed, counted and estimated',
    text:
      'From the first day that a softener reported, it owes a report of every local day. Days owed, days counted and ' +
      'days estimated stand apart in every account, and so do the water and the salt of each. After a year of a silence ' +
      'that goes on a softener is no longer estimated: it may be gone. If it reports again, up to two years of its silence ' +
      'are. One that was taken out of service owes nothing from then on.',
  },
  {
    id: 'measured-salt',
    title: 'Salt that a level sensor measured',
    formula: 'M = sum of (level before − level after) over regenerations, lb; variance 2 × noise² each',
    text:
      'Where a softener’s tank has a level sensor, the salt of a regeneration is the drop of the level over it. One ' +
      'drop is uncertain by the sensor’s noise (1 to 3 lb a reading), the sum of many much less so. The noise is learnt ' +
      'from each sensor’s own readings. A sensor that repeats one reading is taken for stuck and not for a measure, ' +
      'and a rise of more than 13 lb says that salt was put in meanwhile.',
  },
  {
    id: 'inferred-salt',
    title: 'Salt by dose, where nothing measured it',
    formula: 'r × I, where I = sum of the doses on record of regenerations without a measured drop, lb',
    text:
      'A regeneration without a measured drop counts with the salt dose that is set on the softener’s brine control, ' +
      'or with nothing where a brine sensor saw that none was drawn. Doses on record are not always what is drawn, so ' +
      'their sum is multiplied by the drawn share r.',
  },
  {
    id: 'drawn-share',
    title: 'The drawn share: what a dose on record comes to',
    formula:
      'R = ΣM_i / ΣD_i over softeners with sensors; Var R = (τ² ΣD_i² + Σv_i) / (ΣD_i)²; r = mean of R and the prior, each weighed by 1 / variance',
    text:
      'Of each month, over all of the company’s softeners with a working level sensor: the salt measured (M_i), over ' +
      'the doses on record of the same regenerations (D_i). τ is how much that ratio differs from softener to softener ' +
      'beyond what sensor noise (v_i) explains. Where few or no sensors tell, r falls back on a prior that is part of ' +
      'the rules and is shown with them.',
    source: 'Prior of the rules: a guess, no source. Weighing by the inverse variance: standard statistics',
  },
  {
    id: 'imputed-water',
    title: 'Water of days without a report',
    formula:
      'sum of the expected use of missing days; variance: that of the use of all days of a gap together',
    text:
      'A missing day is not a day without use. In its place stands what the household’s own past makes likely of ' +
      'that weekday, with the chance that it was away. It is reported apart from metered water, never mixed with it.',
    source:
      'The household’s own days; before those, the published prior of the demand model, which names its sources',
  },
  {
    id: 'imputed-salt',
    title: 'Regenerations of days without a report',
    formula: 'P = dose × regenerations that the control’s rule makes due in the gap, lb',
    text:
      'Regenerations may have gone unreported with the days. A control that was sound before the gap is taken to ' +
      'have regenerated whenever its own rule made it due, counting the water expected. Where in its cycle it stood is ' +
      'known within a cycle only, which is part of the variance. Beyond 62 days, regenerations are reckoned by water over that of a cycle. Doses so imputed are multiplied by the drawn share, too.',
  },
  {
    id: 'salt',
    title: 'Salt of a region’s month',
    formula: `S = M + r (I + P); Var S = Σv (1 + 2 (I + P) w / ΣD) + (I + P)² Var r + τ² Σ(I_u + P_u)² + r² Σq_u; interval S ± ${Z_OF_80_PERCENT} √Var S, not below 0`,
    text:
      'The value is the sum of what was measured, inferred and imputed (estimated for days without a report). The interval is made to hold the true amount with ' +
      '80 %; how often it did so in simulated fleets, where the truth is known, the project’s benchmark of salt tells. The ' +
      'sum over u runs over softeners, q is the variance of imputed doses, and w the weight of the sensors in r: noise that makes M too high makes r too high as well. Errors of one month and the next go together, ' +
      'so intervals of months may not be added. What no record and no sensor can show is not in the interval.',
    source: `${Z_OF_80_PERCENT} is the 90 % point of the normal distribution`,
  },
  {
    id: 'chloride',
    title: 'Chloride to the drain',
    formula: `chloride = ${CHLORIDE_MASS_FRACTION.NaCl.toFixed(4)} × salt`,
    text:
      'A softener keeps no chloride: all that the salt brings leaves with the brine. Salt is taken for pure sodium ' +
      'chloride; potassium chloride brings 0.4756 of its mass instead.',
    source: 'Computed from the molar masses of Cl (35.45) and NaCl (58.44 g/mol)',
  },
  {
    id: 'sodium',
    title: 'Sodium, and the part of it that leaves with the softened water',
    formula: `sodium = ${SODIUM_MASS_FRACTION.toFixed(4)} × salt; with softened water ${(SODIUM_LB_PER_GRAIN * 1e6).toFixed(2)} lb per million grains removed`,
    text:
      'An equivalent of sodium goes into the water for each equivalent of hardness that comes out of it. The rest of ' +
      'the sodium leaves with the brine. Softened water that is drunk, used outdoors or drained ends where it ends: ' +
      'the account only says by which way the sodium left the softener.',
    source: 'Computed from the molar masses of Na (22.99), NaCl (58.44) and CaCO3 (50.04 g per equivalent)',
  },
  {
    id: 'hardness-removed',
    title: 'Hardness removed, and grains per lb of salt',
    formula: 'grains removed = raw hardness (gpg) × softened gallons; grains per lb = grains removed / S',
    text:
      'Water counts as softened as long as the bed’s ledger has capacity left; what ran through an exhausted bed is ' +
      'hard water and removes nothing. Raw hardness is the site’s on record, or as last measured at a visit. The ' +
      'bed’s capacity goes by the published capacity curve at the dose on record. Iron is no hardness and not in what is ' +
      'removed, but each mg/L of it is taken to use as much of the bed as 4 gpg of hardness (a rule; common practice, no ' +
      'source): where there is iron, water counts as hard sooner, and less is removed for the salt.',
    source:
      '35 Ill. Adm. Code 604.805(c), a ceiling of design: at most 20,000 grains a cubic foot at 6 lb; other points of the curve from memory, unverified, and shown with it',
  },
  {
    id: 'regeneration-water',
    title: 'Water of regenerations',
    formula: '80 gallons per cubic foot of resin, where it is not reported',
    text: 'As the control reports it; by the published figure where it reports none. The two stand apart.',
    source: 'AWWA/ASCE, Water Treatment Plant Design, ch. 12, p. 12.46',
  },
  {
    id: 'efficiency',
    title: 'Softeners that meet a published efficiency',
    formula: EFFICIENCY_RULES.filter(({ id }) => id === 'nsf-ansi-44' || id === 'california-2002')
      .map(
        ({ title, minGrainsPerLb, maxGallonsPerThousandGrains }) =>
          `${title}: at least ${minGrainsPerLb.toLocaleString('en-US')} grains per lb` +
          (maxGallonsPerThousandGrains === undefined
            ? ''
            : ` and at most ${maxGallonsPerThousandGrains} gallons of regeneration water per 1,000 grains`),
      )
      .join('; '),
    text:
      'Counted twice. As set: what a whole bed gives for a whole dose, by the capacity curve, the dose on the control ' +
      'and the water of a regeneration as reported; without that it is not judged. The curve is of beds that are regenerated ' +
      'in the direction of service: others do better than it says, and a dose within a few percent of a figure is too near to ' +
      'tell. In use: the grains removed in the last 12 months, by the same curve, over ' +
      'the salt (unmeasured doses as on record) and water that it spent on them; softeners with fewer than 180 reported days ' +
      'in that time (by default) are not judged. The ' +
      'published figures bind what a model is certified at in a laboratory. The counts only compare with them; a ' +
      'ruling is the authority’s.',
    source: EFFICIENCY_RULES.filter(({ id }) => id === 'nsf-ansi-44' || id === 'california-2002')
      .map(({ title, source, basis }) => `${title}: ${source} (${basis})`)
      .join('; '),
  },
  {
    id: 'wasted',
    title: 'Salt that the water would not have needed',
    text:
      'Salt spent beside the hardness of the water that a household draws. Each pound is booked under one cause at the ' +
      'most, at regenerations that were reported, in doses on record, and multiplied by the drawn share. ' +
      WASTE_CAUSES.map(wasteInFull).join(' '),
    source:
      'NSF/ANSI 44 for 3,350 grains per lb, quoted by US DOE/PNNL; how waste is shared out: our own rule',
  },
  {
    id: 'limits',
    title: 'What an account cannot say',
    text:
      'A dose on record that is wrong at a softener without a level sensor shows only as far as sensors elsewhere ' +
      'in the company show the like. A meter that registers too little makes a control regenerate too seldom, and ' +
      'both water and hardness removed are then too low by the same share. The intervals of water and of grains per lb ' +
      'leave out the meters’ own error (new ones are good for 98.5 to 101.5 %, less at low flow) and that of the hardness on ' +
      'record. Bypassed water is not metered. Salt that ' +
      'people brought into the house themselves is not in the deliveries.',
  },
];
