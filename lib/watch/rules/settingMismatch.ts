import * as z from 'zod';

const probability = () => z.number().min(0).max(1);

/** The numbers by which `setting-mismatch` is told. Each default says why it is what it is. */
export const settingMismatchRulesSchema = () =>
  z.strictObject({
    raise: probability()
      .default(0.7)
      .describe('A setting is read back in minutes, and a wrong one does harm daily'),
    clear: probability().default(0.3).describe('Well below what raises it, so that nothing flickers'),
    wrong: probability()
      .default(0.05)
      .describe('Share of controls of which one setting is wrong. A guess, no source'),
    wrongSpread: z
      .number()
      .positive()
      .default(0.35)
      .describe(
        'Standard deviation of the logarithm of a wrong setting: mostly 25 to 40 % off. A guess, no source',
      ),
    capacitySpread: z
      .number()
      .positive()
      .default(0.045)
      .describe(
        'Blur of what a dose gives, as a share: handbooks differ by 4 to 6 % above 6 lb/ft3 (from memory, unverified)',
      ),
    capacityAbove: z
      .number()
      .min(0)
      .default(0.02)
      .describe(
        'So much more than the curve a company programs in good faith: it rounds up, or has another table',
      ),
    capacityBelow: z
      .number()
      .min(0)
      .default(0.05)
      .describe('So much less, as a margin, beside rounding down to a thousand. Common practice, no source'),
    hardnessSpread: z
      .number()
      .positive()
      .default(0.04)
      .describe('Blur of a hardness, as a share of it: test kits, the seasons. A guess, no source'),
    hardnessSpreadGpg: z
      .number()
      .positive()
      .default(0.6)
      .describe('Blur of a hardness beside that, gpg: neighbours share a record. A guess, no source'),
    leastIronAllowance: z
      .number()
      .min(0)
      .default(2)
      .describe('gpg a mg/L of iron: 2 to 5 occur. Common practice, no source'),
    mostIronAllowance: z.number().min(0).default(5).describe('The same'),
    roundedUpGpg: z.number().min(0).default(1).describe('A hardness is programmed in whole gpg, rounded up'),
    mostHardnessGpg: z
      .number()
      .positive()
      .default(120)
      .describe('No house is softened from more: some 2,000 mg/L. A guess, no source'),
    setUnknown: probability()
      .default(0.02)
      .describe('Probability that a control was set otherwise before it was first seen. A guess, no source'),
    setAfterLoss: probability()
      .default(0.05)
      .describe(
        'The same, from the cycles since, of one that lost its settings in a power failure: mostly somebody sets it again within days',
      ),
    changesPerUnitYear: z
      .number()
      .positive()
      .default(0.03)
      .describe('How often one is set otherwise later, and nobody says so. A guess, no source'),
    reportedChange: probability()
      .default(0.05)
      .describe(
        'Share of changes that a control which reports its settings keeps to itself. A guess, no source',
      ),
    startedEarlyPerUnitYear: z
      .number()
      .positive()
      .default(0.05)
      .describe(
        'How often something else, a switch or a hand, comes to start regenerations early. A guess, no source',
      ),
    steadyEarly: probability()
      .default(0.7)
      .describe('Probability that it starts the next at a like count: use is much the same every few days'),
    oddCycle: probability()
      .default(0.02)
      .describe('Share of cycles that contradict the settings by accident: lost reports, a hand that helped'),
    unknownIsWrong: probability()
      .default(0.8)
      .describe(
        'Share of such settings that are wrong; the rest follow a change of dose. A guess, no source',
      ),
    capacityShare: probability()
      .default(0.5)
      .describe(
        'Where only gallons tell: share that is due to the capacity, the rest to the hardness. A guess',
      ),
    hardShare: z
      .number()
      .positive()
      .default(0.07)
      .describe('From so much more gallons than the bed gives the taps run hard, cycle after cycle'),
    wasteShare: probability()
      .default(0.25)
      .describe('From so much less gallons than it gives a third more salt is used than need be'),
    patternCycles: z
      .int()
      .positive()
      .default(2)
      .describe('So many cycles in a row that ran over make a pattern'),
    patternShare: z
      .number()
      .min(0)
      .default(0.05)
      .describe('By so much at least: below it a bed is as good as spent'),
    patternSpread: z
      .number()
      .positive()
      .default(0.3)
      .describe('By shares that differ by no more than this: the last day of a cycle differs as much'),
    visitMends: probability()
      .default(0.8)
      .describe('Probability that a technician who came since has put it right. A guess, no source'),
  });

export type SettingMismatchRules = z.infer<ReturnType<typeof settingMismatchRulesSchema>>;
