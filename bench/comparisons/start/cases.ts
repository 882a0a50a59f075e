import { changed, clockStruck, notices, received, touchedBy } from '../../../functions/send.ts';
import type { FunctionName } from '../../../infra/topology.ts';
import { CERTIFICATES } from '../../../tests/functions/meters/certificates.ts';
import { outboxOf } from '../../../tests/lib/store/examples.ts';
import { httpEvent, preTokenEvent, SCHEDULED, sqsEvent } from '../../../tests/support/lambda/events.ts';
import { lines } from '../../../tests/support/smallFleet.ts';

/** A function that does nothing, with the same clients of the SDK. */
export type Empty =
  | 'empty'
  | 'emptyTableQueue'
  | 'emptyTableFiles'
  | 'emptyTableFilesCatalogue'
  | 'emptyTableThings'
  | 'emptyFiles'
  | 'emptyFilesCatalogue';

export interface Case {
  readonly name: string;
  readonly lambda: FunctionName | Empty;
  /** Of so many starts before this one none has left its work done: where work is done but once, each is asked for another. */
  readonly event: object | ((starts: number) => object);
  /** What it is compared with; undefined for what others are compared with. */
  readonly beside?: Empty;
  /** Whether the limit is for it, or it is there to be known. */
  readonly judged?: boolean;
}

const COMPANY = 'fenwick-water';
const UNIT = { companyId: COMPANY, unitId: 'u-19' };
export const DESK = { name: `${COMPANY}~desk`, secret: 'of-the-desk' };

const DAY_MS = 86_400_000;
const FIRST_NOON = Date.parse('2026-03-29T16:00:00Z');
const line = lines.find((each) => each.includes('flow-day') && each.includes('u-17')) ?? '';
const authorization = `Bearer ${DESK.name}.${DESK.secret}`;
const group = (body: { body: string; group?: string | undefined }) => ({ ...body, group: body.group ?? 'g' });

/** What `ingest` sends to the archive of one line. */
const STORED = {
  companyId: COMPANY,
  units: [{ unitId: 'u-17', region: 'alder-county', timeZone: 'America/New_York', lines: [line] }],
};

/** What each function is asked first. Nobody listens to the notice: that of mail is another. */
export const CASES: readonly Case[] = [
  { name: 'empty', lambda: 'empty', event: {} },
  { name: 'empty, table and queue', lambda: 'emptyTableQueue', event: {} },
  { name: 'empty, table and files', lambda: 'emptyTableFiles', event: {} },
  { name: 'empty, table, files and catalogue', lambda: 'emptyTableFilesCatalogue', event: {} },
  { name: 'empty, table and things', lambda: 'emptyTableThings', event: {} },
  { name: 'empty, files', lambda: 'emptyFiles', event: {} },
  { name: 'empty, files and catalogue', lambda: 'emptyFilesCatalogue', event: {} },
  {
    name: 'ingest: a flow day',
    lambda: 'ingest',
    event: sqsEvent([received({ companyId: COMPANY, unitId: null, receivedAt: Date.now(), line })]),
    beside: 'emptyTableQueue',
    judged: true,
  },
  {
    name: 'assess: the next noon of a unit with an alert',
    lambda: 'assess',
    event: (starts) =>
      sqsEvent([group(clockStruck({ ...UNIT, unitId: 'u-17' }, FIRST_NOON + (starts + 1) * DAY_MS))]),
    beside: 'emptyTableQueue',
    judged: true,
  },
  {
    name: 'assess: a noon that was looked at before',
    lambda: 'assess',
    event: sqsEvent([group(clockStruck({ ...UNIT, unitId: 'u-17' }, FIRST_NOON))]),
    beside: 'emptyTableQueue',
    judged: true,
  },
  {
    name: 'assess: a unit from nothing',
    lambda: 'assess',
    event: sqsEvent([
      group(changed({ ...UNIT, unitId: 'u-18' })),
      group(touchedBy({ ...UNIT, unitId: 'u-18' }, [])),
    ]),
    beside: 'emptyTableQueue',
  },
  {
    name: 'notify: nobody listens',
    lambda: 'notify',
    event: sqsEvent(notices(UNIT, 1, outboxOf('u-19').transitions)),
    beside: 'emptyTableQueue',
    judged: true,
  },
  { name: 'sweep', lambda: 'sweep', event: SCHEDULED, beside: 'emptyTableQueue', judged: true },
  {
    name: 'archive: a flow day',
    lambda: 'archive',
    event: sqsEvent([{ body: JSON.stringify(STORED) }]),
    beside: 'emptyFilesCatalogue',
    judged: true,
  },
  { name: 'compact', lambda: 'compact', event: SCHEDULED, beside: 'emptyFiles', judged: true },
  {
    name: 'trialPlan: a new trial',
    lambda: 'trialPlan',
    event: (starts) => ({ companyId: COMPANY, trialId: String(starts + 1), rules: {} }),
    beside: 'emptyTableFiles',
    judged: true,
  },
  {
    name: 'admit: a wrong code',
    lambda: 'admit',
    event: {
      certificateId: 'a'.repeat(64),
      certificatePem: CERTIFICATES.first,
      parameters: { CompanyId: COMPANY, UnitId: 'u-17', ClaimCode: '7K4M-9QXD-R2TV-0HJW-3NP1' },
    },
    beside: 'emptyTableThings',
    judged: true,
  },
  { name: 'report', lambda: 'report', event: SCHEDULED, beside: 'emptyTableFilesCatalogue', judged: true },
  {
    name: 'api: GET /health',
    lambda: 'api',
    event: httpEvent('GET', '/health'),
    beside: 'emptyTableQueue',
    judged: true,
  },
  {
    name: 'api: POST /v1/events',
    lambda: 'api',
    event: httpEvent('POST', '/v1/events', {
      headers: { authorization, 'content-type': 'application/cloudevents+json' },
      body: line,
    }),
    beside: 'emptyTableQueue',
    judged: true,
  },
  {
    name: 'api: GET /v1/units',
    lambda: 'api',
    event: httpEvent('GET', '/v1/units', { headers: { authorization } }),
    beside: 'emptyTableQueue',
  },
  {
    name: 'claims',
    lambda: 'claims',
    event: preTokenEvent({ sub: 'a', email: 'dana@fenwick.example', email_verified: 'true' }),
    beside: 'empty',
    judged: true,
  },
];

/** The source of each function of the cases, from the root. */
export const SOURCES: Readonly<Record<string, string>> = Object.fromEntries(
  CASES.map(({ lambda }) => [
    lambda,
    `${lambda.startsWith('empty') ? 'bench/comparisons/start' : 'infra/aws/handlers'}/${lambda}.ts`,
  ]),
);
