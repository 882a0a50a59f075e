import * as z from 'zod';
import { type Channel, type Company, channelSchema, companySchema } from '../../lib/store/company.ts';
import { rulesSchema } from '../../lib/watch/rules.ts';
import { invalidMember } from './failures.ts';
import { Problem } from './problems.ts';

const [mail, webhook, sms] = channelSchema.options;

/** A channel as it is given: the secret of a webhook may be left out where it is known. */
export const givenChannel = z.discriminatedUnion('type', [
  mail,
  webhook.extend({ secret: webhook.shape.secret.optional() }),
  sms,
]);

/** Rules as they are given: what is overridden, judged as the whole that it gives. */
export const givenRules = z
  .record(z.string(), z.unknown())
  .superRefine((rules, context) => {
    for (const { path, message } of rulesSchema.safeParse(rules).error?.issues ?? []) {
      context.addIssue({ code: 'custom', path, message });
    }
  })
  .describe('What it overrides of the rules, see docs/schema/rules.json');

/** A company as it is shown: no secret leaves the service. */
export const companyView = z
  .object({
    companyId: companySchema.shape.companyId,
    name: z.string(),
    channels: z.array(z.discriminatedUnion('type', [mail, webhook.omit({ secret: true }), sms])),
    rules: z.record(z.string(), z.unknown()),
  })
  .meta({ id: 'Company' });

/** A company without its secrets. */
export function maskedCompany({ companyId, name, channels, rules }: Company): z.infer<typeof companyView> {
  return { companyId, name, channels: channels.map(masked), rules };
}

function masked(channel: Channel): z.infer<typeof companyView>['channels'][number] {
  if (channel.type !== 'webhook') return channel;
  return { type: channel.type, url: channel.url };
}

/** Channels with the secrets that were left out, each from a webhook of the very same address. */
export function withSecrets(
  given: readonly z.infer<typeof givenChannel>[],
  known: readonly Channel[],
): Channel[] {
  return given.map((channel, index) => {
    if (channel.type !== 'webhook') return channel;
    const { type, url } = channel;
    const before = known.find((each) => each.type === 'webhook' && each.url === url);
    const secret = channel.secret ?? (before?.type === 'webhook' ? before.secret : undefined);
    if (secret === undefined)
      throw invalidMember(['channels', index, 'secret'], 'is needed: this url is new');
    return { type, url, secret };
  });
}

export function companyUnknown(): Problem {
  return new Problem('company-unknown', 'Look it up among GET /v1/companies, or make it with POST.');
}
