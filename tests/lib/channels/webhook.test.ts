import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import fc from 'fast-check';
import { afterEach, describe, expect, it, test } from 'vitest';
import { ChannelError } from '../../../lib/channels/errors.ts';
import { addressGuard } from '../../../lib/channels/http/addressGuard.ts';
import { signedHeaders } from '../../../lib/channels/http/signature.ts';
import { verdictOn } from '../../../lib/channels/http/verdict.ts';
import { withRetries } from '../../../lib/channels/http/withRetries.ts';
import { webhookCarrier } from '../../../lib/channels/webhook.ts';
import { noticeWith } from './notices.ts';

const SECRET = 'whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw';

/** Time that passes only while somebody waits. */
function standingClock(random = () => 0.5) {
  const clock = { ms: Date.now(), waits: [] as number[] };
  const pause = async (milliseconds: number) => {
    clock.waits.push(milliseconds);
    clock.ms += milliseconds;
  };
  return { clock, surroundings: { now: () => clock.ms, pause, random } };
}

test('the signature is that of the specification', () => {
  // github.com/standard-webhooks/standard-webhooks, libraries/javascript/src/webhook.test.ts, "sign function works".
  expect(
    signedHeaders(SECRET, 'msg_p5jXN8AQM9LWM0D4loKWxJek', 1_614_265_330_000, '{"test": 2432232314}'),
  ).toEqual({
    'webhook-id': 'msg_p5jXN8AQM9LWM0D4loKWxJek',
    'webhook-timestamp': '1614265330',
    'webhook-signature': 'v1,g0hM9SsE+OTPJTGt/tmIKtSyZlE3uFJELVlNIOLJ1OE=',
  });
});

describe('a webhook', () => {
  const servers: Server[] = [];
  afterEach(() => {
    for (const server of servers.splice(0)) server.close();
  });

  /** A receiver that gives one answer after another, the last for ever; notes the id and time of each request. */
  async function receiver(...answers: { status: number; headers?: Record<string, string> }[]) {
    const requests: { id: string; timestamp: number; url: string }[] = [];
    const server = createServer((request, response) => {
      const { 'webhook-id': id, 'webhook-timestamp': timestamp } = request.headers;
      requests.push({ id: String(id), timestamp: Number(timestamp), url: String(request.url) });
      const { status = 0, headers = {} } = answers[requests.length - 1] ?? answers.at(-1) ?? {};
      response.writeHead(status, headers).end('nobody reads this');
    });
    servers.push(server);
    await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
    return { requests, url: `http://127.0.0.1:${(server.address() as AddressInfo).port}/hook` };
  }

  async function sendTo(url: string, withinMs = 8_000) {
    const { clock, surroundings } = standingClock();
    const carrier = webhookCarrier({ privateAddresses: 'allowed', surroundings });
    const sent = carrier.send(noticeWith(), { type: 'webhook', url, secret: SECRET }, 'the-id', withinMs);
    const failure: unknown = await sent.then(
      () => undefined,
      (error) => error,
    );
    return { failure, waits: clock.waits };
  }

  it('is tried again under the same id, each time with the time of the try', async () => {
    const { requests, url } = await receiver(
      { status: 500 },
      { status: 429, headers: { 'retry-after': '3' } },
      { status: 200 },
    );
    const { failure, waits } = await sendTo(url);
    expect(failure).toBeUndefined();
    expect(requests.map(({ id }) => id)).toEqual(['the-id', 'the-id', 'the-id']);
    expect(waits[1]).toBe(3_000);
    expect((requests[2]?.timestamp ?? 0) - (requests[1]?.timestamp ?? 0)).toBe(3);
  });

  it('is not asked again where it wants to be left alone for longer than there is time', async () => {
    const { requests, url } = await receiver({ status: 503, headers: { 'retry-after': '60' } });
    const { failure } = await sendTo(url);
    expect(failure).toMatchObject({ code: 'busy', retryAfterMs: 60_000 });
    expect(requests).toHaveLength(1);
  });

  it('is not followed to where it redirects, and asked once', async () => {
    const { requests, url } = await receiver({ status: 307, headers: { location: '/elsewhere' } });
    const { failure } = await sendTo(url);
    expect(failure).toMatchObject({ code: 'refused', permanent: true });
    expect(requests.map((request) => request.url)).toEqual(['/hook']);
  });

  it('is not called at an address that is not allowed, by whatever name', async () => {
    const carrier = webhookCarrier({ privateAddresses: 'refused' });
    const { requests, url } = await receiver({ status: 200 });
    for (const host of ['127.0.0.1', 'localhost', '[::ffff:127.0.0.1]', '2130706433', '0x7f.1', '0.0.0.0']) {
      const to = { type: 'webhook', url: url.replace('127.0.0.1', host), secret: SECRET } as const;
      const sent = carrier.send(noticeWith(), to, 'the-id', 2_000);
      await expect(sent, host).rejects.toMatchObject({ code: 'address-not-allowed' });
    }
    expect(requests).toEqual([]);
  });
});

test('metadata services are refused where private addresses are allowed, and the internet never', () => {
  const refusals = (privateAddresses: 'allowed' | 'refused', hosts: readonly string[]) =>
    hosts.filter((host) => {
      try {
        addressGuard(privateAddresses).check(host);
        return false;
      } catch {
        return true;
      }
    });
  const linkLocal = [
    '169.254.169.254',
    '169.254.170.2',
    '[::ffff:a9fe:a9fe]',
    '[fd00:ec2::254]',
    '[fe80::1]',
    '[64:ff9b::a9fe:a9fe]',
    '[2002:a9fe:a9fe::1]',
    '192.0.0.192',
    '100.100.100.200',
  ];
  const own = [
    ...['10.1.2.3', '172.31.0.1', '192.168.1.1', '100.64.0.1', '[fd12::1]', '[::1]', '0.0.0.0', '[::]'],
    // The same addresses in the coats of others, and what is nobody's.
    ...['[::ffff:10.1.2.3]', '[64:ff9b::7f00:1]', '[64:ff9b::10.1.2.3]', '[64:ff9b:1::a00:1]'],
    ...['[2002:7f00:1::]', '[2001:0:a00:1::1]', '[::7f00:1]', '[fec0::1]', '[ff02::1]'],
    ...['192.0.0.8', '198.18.0.1', '224.0.0.1', '240.0.0.1', '255.255.255.255'],
  ];
  const others = [
    '93.184.216.34',
    '172.32.0.1',
    '100.128.0.1',
    '[2606:2800::1]',
    '[64:ff9b::5db8:d822]',
    '[2001:4860:4860::8888]',
    '192.0.1.1',
    '223.255.255.255',
    'a.example',
  ];
  expect(refusals('allowed', [...linkLocal, ...own, ...others])).toEqual(linkLocal);
  expect(refusals('refused', [...linkLocal, ...own, ...others])).toEqual([...linkLocal, ...own]);
});

test('a status is taken, to be tried again, or final', () => {
  const meaning = (status: number) => verdictOn({ status, retryAfter: undefined }, 0)?.code ?? 'taken';
  const all = Array.from({ length: 400 }, (_, index) => 200 + index);
  expect(all.filter((status) => meaning(status) === 'taken')).toEqual(all.filter((status) => status < 300));
  const busy = all.filter((status) => meaning(status) === 'busy');
  expect(busy).toEqual([408, 409, 425, 429, ...all.filter((status) => status >= 500)]);
});

test('how long to wait is read as seconds or as a date, and nothing else', () => {
  const now = Date.parse('2026-03-01T00:00:00Z');
  const asked = (retryAfter: string) => verdictOn({ status: 503, retryAfter }, now)?.retryAfterMs;
  expect(asked('120')).toBe(120_000);
  expect(asked('Sun, 01 Mar 2026 00:00:30 GMT')).toBe(30_000);
  expect(asked('Sat, 28 Feb 2026 00:00:00 GMT')).toBe(0);
  expect(asked('soon')).toBeUndefined();
});

test('tries go on until one is done, one is final or time is up, and wait as long as they are asked to', async () => {
  const outcome = fc.oneof(
    { weight: 8, arbitrary: fc.record({ asks: fc.option(fc.nat(5_000)), takes: fc.nat(3_000) }) },
    { weight: 1, arbitrary: fc.constantFrom('done' as const, 'final' as const) },
  );
  await fc.assert(
    fc.asyncProperty(
      fc.array(outcome, { minLength: 1 }),
      fc.nat(20_000),
      fc.float({ min: 0, max: Math.fround(0.99), noNaN: true }),
      async (outcomes, withinMs, chance) => {
        const { clock, surroundings } = standingClock(() => chance);
        const started = clock.ms;
        const asked: number[] = [];
        let tries = 0;
        let end: string | undefined;
        try {
          await withRetries(
            async (leftMs) => {
              expect(leftMs).toBe(Math.max(0, started + withinMs - clock.ms));
              const each = outcomes[tries] ?? 'done';
              tries += 1;
              if (each === 'done') return;
              if (each === 'final') throw new ChannelError('refused', 'no');
              clock.ms += each.takes;
              asked.push(each.asks ?? 0);
              throw new ChannelError('busy', 'later', { retryAfterMs: each.asks ?? undefined });
            },
            withinMs,
            surroundings,
          );
          end = 'done';
        } catch (error) {
          end = error instanceof ChannelError ? error.code : String(error);
        }
        // Every try but the first begins within the time, after as long a wait as the one before asked for.
        const total = clock.waits.reduce((sum, wait) => sum + wait, 0);
        expect(tries).toBe(clock.waits.length + 1);
        clock.waits.forEach((wait, index) => {
          expect(wait).toBeGreaterThanOrEqual(asked[index] ?? 0);
          if ((asked[index] ?? 0) === 0) expect(wait).toBeGreaterThanOrEqual(100);
        });
        expect(total).toBeLessThanOrEqual(withinMs);
        const last = outcomes[tries - 1] ?? 'done';
        expect(end).toBe(last === 'done' ? 'done' : last === 'final' ? 'refused' : 'busy');
      },
    ),
  );
});
