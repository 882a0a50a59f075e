import * as z from 'zod';

const probability = () => z.number().min(0).max(1);
const positive = () => z.number().positive();

/** The numbers by which `no-flow` is told. Each default says why it is what it is. */
export const noFlowRulesSchema = () =>
  z.strictObject({
    stallsPerUnitYear: positive()
      .default(0.03)
      .describe(
        'How often a meter stalls: once in some 33 years. A guess, no source; a company knows its own meters. Twice as many or half as many put the probabilities off by less than 0.05 on average',
      ),
    routine: probability()
      .default(0.12)
      .describe(
        'From here the household is asked: seven questions in eight for nothing at the worst, and each costs nearly nothing',
      ),
    soon: probability()
      .default(0.85)
      .describe('From here a technician is sent at once: one trip in seven for nothing at the worst'),
    soonAtStalledDays: positive()
      .default(9)
      .describe(
        'So many days of a stalled meter to be expected (days without flow, times the probability) send one too: the harm grows',
      ),
    lateDays: positive()
      .default(20)
      .describe('After so many days a stall has done harm for weeks; few absences last as long'),
    soonWhenLate: probability()
      .default(0.12)
      .describe(
        'From here a technician is sent after so many days, if the household has not said that it is away: one chance in eight is worth the trip by then',
      ),
    soonAfterDays: z
      .int()
      .min(0)
      .default(14)
      .describe(
        'Nobody is sent to a meter that has not yet registered water on so many days, unless the household says that it is there: nobody may live there',
      ),
    clear: probability().default(0.06).describe('An open episode ends below this: half of what raises it'),
    dwindles: probability()
      .default(0.3)
      .describe('Share of stalls that a falling registration announces. A guess, no source'),
    stallsADwindlingDay: probability()
      .default(0.03)
      .describe(
        'How often, a day, a meter stalls that has lately come to register less than flows: once in a month. A guess, no source; most of them are only obstructed',
      ),
    stallsAnObstructedDay: probability()
      .default(0.003)
      .describe('The same of one that has done so for longer: once in a year. A guess, no source'),
    dwindlesWithinDays: positive()
      .default(21)
      .describe('How long that is lately: a turbine that seizes does so within weeks. A guess, no source'),
    mendedADay: z
      .number()
      .min(0)
      .default(0.015)
      .describe(
        'How often, a day, a stalled meter is mended, which ends its run of days: once in two months. A guess, no source',
      ),
    overlooked: probability()
      .default(0.1)
      .describe('Probability that a technician at a stalled meter finds nothing wrong. A guess, no source'),
    mendedInVain: probability()
      .default(0.05)
      .describe(
        'Probability that a meter which was found stalled and worked on still is. A guess, no source',
      ),
    leftStalled: probability()
      .default(0.3)
      .describe('The same where nothing is said of any work. A guess, no source'),
    visitedWhileAway: probability()
      .default(0.1)
      .describe('Share of visits to a house in which nobody is for days after. A guess, no source'),
    aliveGallons: positive()
      .default(5)
      .describe('So much counted by the meter or the control in spite of days without flow is no rounding'),
    aliveThoughStalled: probability()
      .default(0.01)
      .describe(
        'How often a stalled meter nevertheless seems to count: a meter was exchanged, a report is wrong. A guess, no source',
      ),
    answerHalfDays: positive()
      .default(1)
      .describe(
        'Half of the households that answer a question have done so after so many days. A guess, no source',
      ),
    answersAtHome: probability()
      .default(0.6)
      .describe('Share of the households at home that ever answer. A guess, no source'),
    answersAway: probability()
      .default(0.5)
      .describe('Share of those away that do: on a telephone it is as easy. A guess, no source'),
    tripExtended: probability()
      .default(0.2)
      .describe('Share of announced absences that last a day longer than announced. A guess, no source'),
    extensionGoesOn: probability()
      .default(0.8)
      .describe('Share of those that go on for each further day. A guess, no source'),
    saysAtHomeWhileAway: probability()
      .default(0.005)
      .describe(
        'Share of households that say they were there although nobody drew water: a slip of the finger. A guess, no source',
      ),
  });

export type NoFlowRules = z.infer<ReturnType<typeof noFlowRulesSchema>>;
