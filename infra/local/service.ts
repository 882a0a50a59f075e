import { mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import { Logger } from '@aws-lambda-powertools/logger';
import { apiApp } from '../../functions/api/app.ts';
import type { OidcOptions } from '../../functions/api/identity.ts';
import { archive } from '../../functions/archive/archive.ts';
import { compact } from '../../functions/archive/compact.ts';
import { assess } from '../../functions/assess.ts';
import { newChanges } from '../../functions/changes.ts';
import { ingest } from '../../functions/ingest.ts';
import { passwordCredentials } from '../../functions/meters/credentials.ts';
import { notify } from '../../functions/notify.ts';
import type { Ports } from '../../functions/ports.ts';
import { report } from '../../functions/report.ts';
import { hashOf } from '../../functions/secrets.ts';
import { sentNotices } from '../../functions/sentNotices.ts';
import { sweep } from '../../functions/sweep.ts';
import { trialsOf } from '../../functions/trial/trials.ts';
import type { ArchiveFiles } from '../../lib/archive/files.ts';
import type { Instant } from '../../shared/time/instant.ts';
import { FUNCTIONS } from '../topology.ts';
import { archiveFolder } from './archiveFolder.ts';
import { type Broker, type BrokerPorts, startBroker } from './broker.ts';
import { carriersOf } from './carriers.ts';
import { deadLettersOf } from './deadLettersOf.ts';
import { type Fetch, type HttpServer, startHttp } from './httpServer.ts';
import { secretIn } from './keyFile.ts';
import { Metrics } from './metrics.ts';
import { pagesAnd } from './pages.ts';
import type { QueueOptions } from './queue.ts';
import { allOf, openQueues, type Queues } from './queues.ts';
import { startSchedule } from './schedule.ts';
import { folderError, listeningError } from './serviceError.ts';
import { signInOf } from './signIn.ts';
import { openTable } from './table.ts';
import { localTrials } from './trials.ts';
import { trialThread } from './trialThread.ts';
import { startWorkers } from './workers.ts';

/** The name in the operator's key. */
const OPERATOR = 'operator';

/** What time it is for the service. */
export interface ServiceClock {
  now(): Instant;
  /** How fast it runs; 1 for real time. */
  readonly speed: number;
}

const REAL_TIME: ServiceClock = { now: Date.now, speed: 1 };

export interface ServiceOptions {
  /** Where everything is kept. No two processes can share it. */
  readonly dataDir: string;
  readonly host: string;
  /** Of HTTP and of MQTT; 0 for any that is free. */
  readonly port: number;
  readonly mqttPort: number;
  readonly clock?: ServiceClock;
  /** Where people reach the service, for links in notices; by default where it listens. */
  readonly publicUrl?: string | undefined;
  /** The mail server, as a URL. Without one no mail is sent. */
  readonly smtpUrl?: string | undefined;
  /** An OpenID provider that vouches for people, or those of a demonstration; without either there are only keys. */
  readonly signIn?: OidcOptions | { readonly demoCompanyId: string } | undefined;
  /** The folder of the console's files; without it none is served. */
  readonly consoleDir?: string | undefined;
  /** What mail comes from. */
  readonly mailFrom?: string | undefined;
  readonly env?: Readonly<Record<string, string | undefined>>;
  readonly log?: Ports['log'];
}

export interface Service {
  readonly url: string;
  readonly mqttUrl: string;
  /** The operator's key to the API. */
  readonly operatorKey: string;
  /** Where the table is, for people. */
  readonly table: string;
  readonly ports: Ports;
  /** Where the archive and the reports are. */
  readonly files: ArchiveFiles;
  /** Takes nothing in any more, ends what is under way, and closes. */
  stop(): Promise<void>;
}

/**
 * Starts the whole service in this process: the functions of the topology, on embedded parts. Killed at any time, it
 * goes on from where it was when it is started again.
 *
 * @throws ServiceError if the data folder or a port cannot be used
 */
export async function startService(options: ServiceOptions): Promise<Service> {
  const opened: (() => Promise<void>)[] = [];
  const stop = async () => {
    for (const close of opened.splice(0).reverse()) await close();
  };
  try {
    return { ...(await compose(options, opened)), stop };
  } catch (error) {
    await stop();
    throw error;
  }
}

/** Starts part after part; what is put into `opened` is to be ended in the opposite order. */
async function compose(
  options: ServiceOptions,
  opened: (() => Promise<void>)[],
): Promise<Omit<Service, 'stop'>> {
  const { dataDir, clock = REAL_TIME, env = process.env } = options;
  const now = () => clock.now();
  const log = options.log ?? new Logger({ serviceName: 'brinebell' });
  const metrics = new Metrics();
  const onError = (error: unknown) =>
    log.error('a queue fails', error instanceof Error ? error : String(error));

  const { queues, operatorSecret, answerSecret } = await openFolder(dataDir, {
    now,
    onError,
    speed: clock.speed,
  }).catch((error) => Promise.reject(folderError(error, dataDir)));
  opened.push(queues.close);
  const table = await openTable({
    ...{ folder: join(dataDir, 'table'), env, onCapacity: metrics.consumed },
    // Thrown where nobody catches it: without its table the process can only end and be started again.
    onFailure: (error) => setImmediate(() => Promise.reject(error)),
  });
  opened.push(table.close);
  const ending = new AbortController();
  const changes = newChanges(ending.signal);
  const ports: Ports = { store: table.store, queues, now, meter: metrics, log, changes };
  const archiveDir = join(dataDir, 'archive');
  const files = archiveFolder(archiveDir);
  const thread = trialThread({ folder: archiveDir, quiet: options.log !== undefined });
  const trialRunner = localTrials({ ...ports, files, run: thread.run });
  opened.push(async () => {
    await Promise.all([trialRunner.stop(), thread.close()]);
  });

  const broker = await openMqtt(options, { store: table.store, ingest: queues.ingest, now, log });
  opened.push(broker.close);
  metrics.watch(queues, broker, now);
  let origin = '';
  const signIn = await signInOf(options, table.store, () => origin);
  const api = apiApp(ports, {
    operatorKeyHash: async () => hashOf(operatorSecret),
    identity: signIn.identity,
    answerSecret: async () => answerSecret,
    credentials: passwordCredentials(table.store),
    health: () => healthOf(ports.store, queues, broker),
    metrics: () => metrics.text(),
    deadLetters: deadLettersOf(queues),
    files,
    trials: trialsOf(files, trialRunner),
  });
  const http = await openHttp(
    options,
    pagesAnd(api, {
      ...signIn,
      consoleDir: options.consoleDir,
      // The demonstration's provider knows one address of itself, and `localhost` is another. A proxy's name is not ours to judge.
      ...(signIn.issuer && options.publicUrl === undefined && { home: () => origin }),
    }),
  );
  opened.push(async () => {
    ending.abort();
    await http.close();
  });
  const url = urlOf('http', options.host, http.port);
  origin = new URL(options.publicUrl ?? url).origin;

  // They begin last, since they are told where people reach us, and end first: what comes in then is kept for next time.
  const baseUrl = new URL(options.publicUrl ?? url);
  const notifying = {
    carriers: carriersOf({ ...options, baseUrl }),
    sent: sentNotices(table.client, table.tableName),
    baseUrl,
    answerSecret: async () => answerSecret,
  };
  opened.push(
    startWorkers(
      queues,
      {
        ingest: ingest(ports),
        assess: assess(ports),
        notify: notify(ports, notifying),
        archive: archive(files, ports),
      },
      {
        log,
        onHandled: (queue, { sentAt }) => metrics.handled(queue, Math.max(0, now() - sentAt) / 1000),
      },
    ),
    startSchedule(
      [
        { name: 'sweep', ...FUNCTIONS.sweep, run: sweep(ports) },
        { name: 'report', ...FUNCTIONS.report, run: report(ports, files) },
        { name: 'compact', ...FUNCTIONS.compact, run: compact(files, ports) },
      ],
      { log, speed: clock.speed },
    ),
  );
  return {
    url,
    mqttUrl: urlOf('mqtt', options.host, broker.port),
    operatorKey: `${OPERATOR}.${operatorSecret}`,
    table: table.place,
    ports,
    files,
  };
}

async function openMqtt({ host, mqttPort: port }: ServiceOptions, ports: BrokerPorts): Promise<Broker> {
  try {
    return await startBroker({ ...ports, host, port });
  } catch (error) {
    throw listeningError(error, 'MQTT', host, port);
  }
}

async function openHttp({ host, port }: ServiceOptions, fetch: Fetch): Promise<HttpServer> {
  try {
    return await startHttp(fetch, { host, port });
  } catch (error) {
    throw listeningError(error, 'HTTP', host, port);
  }
}

function urlOf(protocol: string, host: string, port: number): string {
  return `${protocol}://${host.includes(':') ? `[${host}]` : host}:${port}`;
}

/** Takes the data folder for this process: the database of the queues can be open in one only. */
async function openFolder(
  folder: string,
  options: Pick<QueueOptions, 'now' | 'onError' | 'speed'>,
): Promise<{ queues: Queues; operatorSecret: string; answerSecret: string }> {
  // What is in it tells when homes stand empty: nobody else on this machine is to read it.
  await mkdir(folder, { recursive: true, mode: 0o700 });
  const queues = await openQueues(join(folder, 'queues'), options);
  return {
    queues,
    operatorSecret: await secretIn(join(folder, 'operator-key'), OPERATOR),
    answerSecret: await secretIn(join(folder, 'answer-key'), 'answer'),
  };
}

/** Well is the service whose table answers. */
async function healthOf(store: Ports['store'], queues: Queues, broker: Broker) {
  await store.principal(OPERATOR);
  const states = Object.fromEntries(
    allOf(queues).map(({ name, depth, dead }) => [name, { messages: depth, dead: dead.size }]),
  );
  return { ok: true, queues: states, meters: broker.connected() };
}
