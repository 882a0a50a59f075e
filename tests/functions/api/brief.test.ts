import { describe, expect, it } from 'vitest';
import { receivedSchema } from '../../../functions/messages.ts';
import { notifySchema } from '../../../functions/noticeMessages.ts';
import { briefSchema } from '../../../lib/brief/briefSchema.ts';
import { lines, records } from '../../support/smallFleet.ts';
import { bodies, keyOf, live, service } from './service.ts';

const COMPANY = 'fenwick-water';

async function fleet() {
  const made = service();
  const key = await keyOf(made, COMPANY);
  await live(made.store, records, lines);
  const ask = (method: string, path: string, body?: unknown, as = key) =>
    made.ask(method, path, { key: as, ...(body !== undefined && { body }) });
  const plan = async (date: string) => {
    const answer = await ask('POST', '/v1/units/u-19/visits', {
      technician: 'tech-4',
      date,
      reason: 'A look',
    });
    expect(answer.status).toBe(201);
    return JSON.parse(await answer.text()).visitId as string;
  };
  return { ...made, ask, plan };
}

describe('a brief', () => {
  it('is that of the next visit, or of one that is named', async () => {
    const { ask, plan } = await fleet();
    const read = async (query = '') => {
      const answer = await ask('GET', `/v1/units/u-19/brief${query}`);
      expect(answer.status).toBe(200);
      return briefSchema.parse(await answer.json());
    };
    expect((await read()).visit).toBeNull();
    const [later, next] = [await plan('2026-04-09'), await plan('2026-04-02')];
    await plan('2026-03-20');
    expect((await read()).visit?.visitId).toBe(next);
    const brief = await read(`?visitId=${later}`);
    expect(brief.visit?.visitId).toBe(later);
    expect(brief.why.map(({ kind }) => kind)).toContain('no-flow');
    expect((await ask('GET', '/v1/units/u-19/brief?visitId=no-such')).status).toBe(404);
  });

  it('is a page that can do nothing, and a sheet of the paper that is asked for', async () => {
    const { ask } = await fleet();
    const page = await ask('GET', '/v1/units/u-19/brief.html');
    expect(page.headers.get('content-type')).toMatch(/^text\/html; charset=utf-8/i);
    expect(page.headers.get('content-security-policy')).toContain("default-src 'none'");
    expect(await page.text()).toContain('The meter has registered nothing');
    for (const [query, size] of [
      ['', '595.28 841.89'],
      ['?paper=letter', '612 792'],
    ]) {
      const sheet = await ask('GET', `/v1/units/u-19/brief.pdf${query}`);
      expect(sheet.headers.get('content-type')).toBe('application/pdf');
      const pdf = Buffer.from(await sheet.arrayBuffer()).toString('latin1');
      expect(pdf).toMatch(/^%PDF-/);
      expect(pdf).toContain(`/MediaBox [0 0 ${size}]`);
    }
    expect((await ask('GET', '/v1/units/u-19/brief.pdf?paper=a5')).status).toBe(400);
  });

  it('of another company is as unknown as one of nobody', async () => {
    const { ask, store } = await fleet();
    const other = await keyOf(service(store), 'other-water');
    for (const form of ['', '.html', '.pdf']) {
      expect((await ask('GET', `/v1/units/u-19/brief${form}`, undefined, other)).status).toBe(404);
    }
  });
});

describe('a planned visit', () => {
  it('is told of, and closed by the report of it, which says what was used', async () => {
    const { ask, plan, sent, store } = await fleet();
    const visitId = await plan('2026-04-02');
    expect(bodies(sent.notify).map((message) => notifySchema.parse(message))).toEqual([
      {
        about: 'visit',
        companyId: COMPANY,
        unitId: 'u-19',
        visitId,
        date: '2026-04-02',
        occasion: 'planned',
      },
    ]);
    const report = {
      ...{ visitId, technician: 'tech-4', findings: ['meter-stalled'], work: ['meter replaced'] },
      parts: ['turbine meter'],
    };
    // Sent twice, as a telephone without a network may do.
    for (const _ of [1, 2]) {
      expect((await ask('POST', '/v1/units/u-19/visits/record', report)).status).toBe(202);
    }
    expect(await store.visits({ companyId: COMPANY, unitId: 'u-19' })).toEqual([]);
    const [event] = bodies(sent.ingest).map((message) => JSON.parse(receivedSchema.parse(message).line));
    expect(event.data).toEqual({
      ...{ technician: 'tech-4', findings: ['meter-stalled'], work: ['meter replaced'] },
      parts: ['turbine meter'],
    });
  });
});
