import { setTimeout as pause } from 'node:timers/promises';
import { sweep } from '../../functions/sweep.ts';
import { type Service, startService } from '../../infra/local/service.ts';
import { noLog } from '../../tests/support/pipeline.ts';

/** A request of the API takes a megabyte. */
const MOST_BYTES = 1_000_000;

/** A running service, spoken to as an operator of a company would. */
export class Station {
  readonly service: Service;
  key = '';

  private constructor(service: Service) {
    this.service = service;
  }

  static async start(dataDir: string): Promise<Station> {
    const where = { host: '127.0.0.1', port: 0, mqttPort: 0, env: {} };
    // No mail server: a household that was asked long ago must not be asked again.
    return new Station(await startService({ ...where, dataDir, log: noLog }));
  }

  async makeCompany(companyId: string): Promise<void> {
    const body = JSON.stringify({ companyId, name: companyId });
    const made = await this.call('POST', '/v1/companies', body, 'application/json', this.service.operatorKey);
    this.key = JSON.parse(made).key;
  }

  /** @throws if the answer is none of success */
  async call(
    method: string,
    path: string,
    body?: string,
    type = 'application/json',
    key = this.key,
  ): Promise<string> {
    const headers = { authorization: `Bearer ${key}`, 'content-type': type };
    const response = await fetch(this.service.url + path, {
      method,
      headers,
      ...(body !== undefined && { body }),
    });
    const text = await response.text();
    if (!response.ok) throw new Error(`${method} ${path} answers ${response.status}: ${text}`);
    return text;
  }

  send(method: string, path: string, lines: string): Promise<string> {
    return this.call(method, path, lines, 'application/x-ndjson');
  }

  /** Sends lines in as many requests as they need; returns what is answered to each. */
  async sendAll(method: string, path: string, lines: readonly string[]): Promise<string[]> {
    const answers: string[] = [];
    let [some, bytes]: [string[], number] = [[], 0];
    const flush = async () => {
      if (some.length > 0) answers.push(await this.send(method, path, some.join('\n')));
      [some, bytes] = [[], 0];
    };
    for (const line of lines) {
      const size = Buffer.byteLength(line) + 1;
      if (bytes + size > MOST_BYTES || some.length === 10_000) await flush();
      some.push(line);
      bytes += size;
    }
    await flush();
    return answers;
  }

  /** Whether a key opens something. */
  async opens(key: string, method: 'GET' | 'POST', path: string): Promise<boolean> {
    const headers = { authorization: `Bearer ${key}`, 'content-type': 'application/x-ndjson' };
    const body = method === 'POST' ? { body: '' } : {};
    return (await fetch(this.service.url + path, { method, headers, ...body })).ok;
  }

  /** Waits until all events have been looked at; with `notices`, until all that follows has been told, too. */
  async settled({ notices = false } = {}): Promise<void> {
    for (;;) {
      const { queues } = JSON.parse(await this.call('GET', '/health'));
      const waiting =
        queues.ingest.messages + queues.assess.messages + (notices ? queues.notify.messages : 0);
      if (waiting === 0) return;
      await pause(100);
    }
  }

  /** Has the clock look at every unit, so that two services are compared at the same point. */
  async swept(): Promise<void> {
    await sweep(this.service.ports)();
    await this.settled();
  }
}
