import { service } from '../../api/client.ts';
import { eventsOf } from '../../api/eventStream.ts';
import { ServiceUnreachable } from '../../api/problem.ts';

/** What all controls are imagined to be set to. */
export interface Question {
  /** All regions, if it is left out. */
  readonly region?: string;
  /** lb of salt a cubic foot of resin; left out, those that are set wrong are set right. */
  readonly dose?: number;
}

/** A year of all units that are counted in, US units. */
export interface Year {
  readonly saltLb: number;
  readonly chlorideLb: number;
  readonly waterGallons: number;
  readonly hardDays: number;
}

export interface Outcome {
  readonly units: number;
  /** How many units the past of which does not tell, by reason. */
  readonly leftOut: Readonly<Record<string, number>>;
  readonly today: Year;
  readonly imagined: Year;
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
  { region, dose }: Question,
  onProgress: (progress: Progressed) => void,
  signal: AbortSignal,
): Promise<Outcome> {
  const query = { ...(region !== undefined && { region }), ...(dose !== undefined && { dose }) };
  const { data } = await service.GET('/v1/what-if', { params: { query }, signal, parseAs: 'stream' });
  const told = data && (await outcomeOf(data, onProgress));
  if (told) return told;
  signal.throwIfAborted();
  throw new Error('The service broke off before it had finished. Try again.');
}

async function outcomeOf(
  body: ReadableStream<Uint8Array<ArrayBuffer>>,
  onProgress: (progress: Progressed) => void,
): Promise<Outcome | undefined> {
  try {
    for await (const { event, data: text } of eventsOf(body)) {
      const told: unknown = JSON.parse(text);
      if (event === 'progress' && isProgress(told)) onProgress(told);
      if (event === 'result' && isOutcome(told)) return told;
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

function isOutcome(told: unknown): told is Outcome {
  return (
    isObject(told) &&
    typeof told.units === 'number' &&
    isObject(told.leftOut) &&
    Object.values(told.leftOut).every((count) => typeof count === 'number') &&
    isYear(told.today) &&
    isYear(told.imagined)
  );
}

function isYear(told: unknown): told is Year {
  return (
    isObject(told) &&
    [told.saltLb, told.chlorideLb, told.waterGallons, told.hardDays].every((each) => typeof each === 'number')
  );
}

function isObject(told: unknown): told is Readonly<Record<string, unknown>> {
  return typeof told === 'object' && told !== null;
}
