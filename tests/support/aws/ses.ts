import * as z from 'zod';
import { json, type LocalService, localService } from './server.ts';

/** A mail that Amazon SES has taken. */
export interface Mail {
  readonly to: readonly string[];
  readonly text: string;
}

const mailSchema = z.object({
  Destination: z.object({ ToAddresses: z.array(z.string()).min(1) }),
  Content: z.object({ Raw: z.object({ Data: z.base64() }) }),
});

/** Amazon SES, as far as those see it who send raw mails: version 2 of its API. */
export async function localSes(): Promise<LocalService & { readonly mails: Mail[] }> {
  const mails: Mail[] = [];
  const service = await localService(({ method, path, body }) => {
    if (method !== 'POST' || path !== '/v2/email/outbound-emails') throw new Error(`there is no ${path}`);
    const { Destination, Content } = mailSchema.parse(JSON.parse(body.toString()));
    mails.push({ to: Destination.ToAddresses, text: Buffer.from(Content.Raw.Data, 'base64').toString() });
    return json({ MessageId: `m-${mails.length}` });
  });
  return { ...service, mails };
}
