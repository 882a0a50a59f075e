import { type LocalService, localService } from './server.ts';

/** A short message that Amazon SNS has taken. */
export interface ShortMessage {
  readonly to: string;
  readonly text: string;
}

/** Amazon SNS, as far as those see it who send short messages: its query protocol. */
export async function localSns(): Promise<LocalService & { readonly messages: ShortMessage[] }> {
  const messages: ShortMessage[] = [];
  const service = await localService(({ body }) => {
    const form = new URLSearchParams(body.toString());
    if (form.get('Action') !== 'Publish') throw new Error(`there is no ${form.get('Action')}`);
    messages.push({ to: form.get('PhoneNumber') ?? '', text: form.get('Message') ?? '' });
    return {
      body: '<PublishResponse><PublishResult><MessageId>1</MessageId></PublishResult></PublishResponse>',
    };
  });
  return { ...service, messages };
}
