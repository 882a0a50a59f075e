import * as z from 'zod';

/** The numbers by which deliveries of salt are planned. Each default says why it is what it is. */
export const deliveryRulesSchema = () =>
  z.strictObject({
    bagLb: z
      .number()
      .positive()
      .default(40)
      .describe('What a bag holds, lb: the usual one. Common practice, no source; 25 kg are 55.1 lb'),
    bagsUnknownTank: z
      .int()
      .min(1)
      .default(2)
      .describe('Bags that a house is reckoned with whose tank is of unknown size. A guess, no source'),
    doseError: z
      .number()
      .min(0)
      .max(1)
      .default(0.1)
      .describe(
        'Where no sensor reads the tank: a dose on record differs so much from what is drawn, from unit to unit. A guess, no source',
      ),
    longSilentDays: z
      .int()
      .min(1)
      .default(60)
      .describe(
        'A unit of which nothing was heard for longer is given no date: who lives there now, and whether it runs, is not known',
      ),
  });

export type DeliveryRules = z.infer<ReturnType<typeof deliveryRulesSchema>>;
