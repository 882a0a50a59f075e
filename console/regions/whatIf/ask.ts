import { service } from '../../api/client.ts';
import { eventsOf } from '../../api/eventStream.ts';
import { ServiceUnreachable } from '../../api/problem.ts';
import type { WhatIfResult } from '../../api/types.ts';

/** What all controls are imagined to be set to; what is left out stays as it is. */
export interface Question {
  /** All regions, if it is left out. */
  readonly region?: string;
  /** All at so many lb of salt a cubic foot of resin; not with `correct`. */
  readonly dose?: number;
  /** Those that are set wrong set right. */
  readonly correct?: true;
  readonly reserve?: 'forecast';
  readonly salt?: 'KCl';
}

export interface Progressed {
  readonly done: number;
  readonly of: number;
}

/**
 * Has the service work it out, unit by unit.
 *
 * @throws ServiceProblem, ServiceUnreachable; what the signal was aborted with; an error if the stream breaks off
 */
export async function askWhatIf(
  { correct, ...question }: Question,
  onProgress: (progress: Progressed) => void,
  signal: AbortSignal,
): Promise<WhatIfResult> {
  const query = { ...question, ...(correct && { correct: 'true' as const }) };
  const { data } = await service.GET('/v1/what-if', { params: { query }, signal, parseAs: 'stream' });
  const told = data && (await resultOf(data, onProgress));
  if (told) return told;
  signal.throwIfAborted();
  throw new Error('The service broke off before it had finished. Try again.');
}

async function resultOf(
  body: ReadableStream<Uint8Array<ArrayBuffer>>,
  onProgress: (progress: Progressed) => void,
): Promise<WhatIfResult | undefined> {
  try {
    for await (const { event, data: text } of eventsOf(body)) {
      const told: unknown = JSON.parse(text);
      if (event === 'progress' && isProgress(told)) onProgress(told);
      if (event === 'result' && isResult(told)) return told;
    }
    return undefined;
  } catch (error) {
    // What a body throws when the network goes away under it.
    throw error instanceof TypeError ? new ServiceUnreachable() : error;
  }
}

function isProgress(told: unknown): told is Progressed {
  return isObject(told) && typeof told.done === 'number' && typeof told.of === 'number';
}

/** By what tells a result of the service from anything else. */
function isResult(told: unknown): told is WhatIfResult {
  return (
    isObject(told) &&
    typeof told.units === 'number' &&
    typeof told.extrapolated === 'number' &&
    isObject(told.leftOut) &&
    (told.estimates === null || isObject(told.estimates)) &&
    [told.visits, told.wasting, told.cautions].every(Array.isArray)
  );
}

function isObject(told: unknown): told is Readonly<Record<string, unknown>> {
  return typeof told === 'object' && told !== null;
}
