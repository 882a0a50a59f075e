import { Logger } from '@aws-lambda-powertools/logger';
import { afterEach, describe, expect, it, vi } from 'vitest';
import type { Ports } from '../../../../functions/ports.ts';
import { cloudLog } from '../../../../infra/aws/parts/cloudLog.ts';
import { contextOf } from '../../../../infra/local/lambdaShape.ts';

afterEach(() => {
  vi.restoreAllMocks();
  vi.unstubAllEnvs();
});

const failure = new Error('it fails', { cause: new TypeError('for a reason') });
const said: readonly ((write: Ports['log']['info']) => void)[] = [
  (write) => write('a message'),
  (write) => write('with members', { unitId: 'u-1', count: 3, big: 12n, list: ['a', { b: null }] }),
  (write) => write('with an error', failure),
  (write) => write('with an error among others', { code: 'x', error: failure }),
  (write) => write('with a text', 'and that is it'),
  (write) => write({ message: 'in one', unitId: 'u-2' }, { more: true }, { more: false }),
];

/** Times; where in the code an error was made; and how many lines of debugging are kept, which we have no use for. */
const LEFT_OUT = new Set(['timestamp', 'location', 'stack', 'sampling_rate']);

/** Lines of a log, without what is left out. */
function comparable(lines: readonly string[]): unknown {
  return JSON.parse(`[${lines.join(',')}]`, (key, value) => (LEFT_OUT.has(key) ? undefined : value));
}

describe('the log of a function of the cloud', () => {
  it('has the members that Powertools for AWS Lambda writes', () => {
    vi.stubEnv(
      '_X_AMZN_TRACE_ID',
      'Root=1-5759e988-bd862e3fe1be46a994272793;Parent=53995c3f42cd8ad8;Sampled=1',
    );
    vi.stubEnv('AWS_LAMBDA_INITIALIZATION_TYPE', 'on-demand');
    vi.stubEnv('POWERTOOLS_DEV', 'true');
    const context = contextOf('ingest', 'f0e1', 60);
    const theirs: string[] = [];
    const spies = [vi.spyOn(console, 'info'), vi.spyOn(console, 'warn'), vi.spyOn(console, 'error')];
    for (const spy of spies) spy.mockImplementation((line) => theirs.push(String(line)));
    const ours: string[] = [];
    const logs = [
      cloudLog({ service: 'ingest', write: (line) => ours.push(line) }),
      new Logger({ serviceName: 'ingest' }),
    ] as const;
    for (const log of logs) {
      log.info('before any invocation');
      if (log instanceof Logger) log.addContext(context);
      else log.of(context);
      for (const level of ['debug', 'info', 'warn', 'error'] as const) {
        for (const say of said) say(log[level].bind(log));
      }
    }
    expect(ours).toHaveLength(1 + 3 * said.length);
    expect(comparable(ours)).toEqual(comparable(theirs));
    for (const line of ours) expect(line).not.toContain('\n');
  });

  it('keeps what AWS Lambda is told to keep', () => {
    const levelsAt = (AWS_LAMBDA_LOG_LEVEL?: string) => {
      const lines: string[] = [];
      const log = cloudLog({
        service: 'ingest',
        write: (line) => lines.push(line),
        env: { AWS_LAMBDA_LOG_LEVEL },
      });
      for (const level of ['debug', 'info', 'warn', 'error'] as const) log[level]('said');
      return lines.map((line) => JSON.parse(line).level);
    };
    expect(levelsAt()).toEqual(['INFO', 'WARN', 'ERROR']);
    expect(levelsAt('TRACE')).toEqual(['DEBUG', 'INFO', 'WARN', 'ERROR']);
    expect(levelsAt('DEBUG')).toEqual(['DEBUG', 'INFO', 'WARN', 'ERROR']);
    expect(levelsAt('ERROR')).toEqual(['ERROR']);
    expect(levelsAt('FATAL')).toEqual([]);
  });
});
