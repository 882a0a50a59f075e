import { describe, expect, it } from 'vitest';
import { csvExample, recordExample } from '../../../functions/api/examples.ts';
import { recordsFromCsv } from '../../../functions/api/registryCsv.ts';
import { touchedSchema } from '../../../functions/messages.ts';
import { judgeRecords, RegistryError } from '../../../shared/registry.ts';
import { unitRecord } from '../../support/fleet.ts';
import { keyOf, service } from './service.ts';

const COMPANY = 'fenwick-water';
const CSV = 'text/csv';
const [HEADER = '', ROW = ''] = csvExample.split('\r\n');

async function company() {
  const made = service();
  return { ...made, key: await keyOf(made, COMPANY) };
}

describe('an import', () => {
  it.each([
    ['JSON', 'application/json', JSON.stringify([unitRecord()])],
    ['NDJSON', 'application/x-ndjson', `${JSON.stringify(unitRecord())}\n`],
    ['CSV', CSV, csvExample],
  ])('of %s adds units and has them looked at anew; the same again does nothing', async (_, type, body) => {
    const { ask, key, store, sent } = await company();
    const first = await ask('PUT', '/v1/units', { key, type, body });
    expect(await first.json()).toEqual({ accepted: 1, unchanged: 0, problems: [] });
    expect((await store.records(COMPANY, { limit: 9 })).items).toEqual([unitRecord()]);
    expect(sent.assess.map(({ body, group }) => [touchedSchema.parse(JSON.parse(body)), group])).toEqual([
      [{ companyId: COMPANY, unitId: 'u-17', facts: [], changed: true }, `${COMPANY}/u-17`],
    ]);
    const revision = await store.revision(COMPANY);
    const again = await ask('PUT', '/v1/units', { key, type, body });
    expect(await again.json()).toEqual({ accepted: 1, unchanged: 1, problems: [] });
    expect([sent.assess.length, await store.revision(COMPANY)]).toEqual([1, revision]);
  });

  it('names what is bad and takes what is good; another company’s unit is bad, whatever it says', async () => {
    const { ask, key, store, sent } = await company();
    const others = unitRecord({ companyId: 'tarn-softening', occupants: 5 });
    const body = [
      others,
      unitRecord(),
      unitRecord({ unitId: 'u-18', region: 'a b' }),
      unitRecord({ unitId: 'u-19' }),
    ];
    const response = await ask('PUT', '/v1/units', { key, body });
    expect(await response.json()).toEqual({
      accepted: 2,
      unchanged: 0,
      problems: [
        { record: 1, unitId: 'u-17', message: 'companyId: must be fenwick-water' },
        { record: 3, unitId: 'u-18', message: expect.stringContaining('region: is not an id') },
      ],
    });
    expect((await store.records(COMPANY, { limit: 9 })).items.map(({ unitId }) => unitId)).toEqual([
      'u-17',
      'u-19',
    ]);
    expect((await store.records('tarn-softening', { limit: 9 })).items).toEqual([]);
    expect(sent.assess).toHaveLength(2);
  });

  it('that cannot be read as a whole is refused and changes nothing', async () => {
    const { ask, key, store } = await company();
    for (const [type, body] of [
      ['application/json', '[{'],
      [CSV, 'unit_id\nu-17\n'],
      ['application/x-ndjson', 'u-17'],
    ]) {
      const response = await ask('PUT', '/v1/units', { key, body, ...(type && { type }) });
      expect([response.status, await response.json()]).toMatchObject([
        400,
        { type: '/problems/registry-unreadable' },
      ]);
    }
    expect(await store.revision(COMPANY)).toBe(
      await company().then(({ store: fresh }) => fresh.revision(COMPANY)),
    );
  });
});

describe('CSV', () => {
  const read = (text: string) => judgeRecords(recordsFromCsv(text, COMPANY), COMPANY);

  it('says the same as the record that it stands for, in any order of its columns', () => {
    expect(read(csvExample).records.get('u-17')).toEqual(recordExample);
    const turned = [HEADER, ROW].map((line) => line.split(',').reverse().join(',')).join('\n');
    expect(read(turned).records.get('u-17')).toEqual(recordExample);
  });

  it('takes the columns that may be missing, quotes, a byte order mark and empty cells', () => {
    const text = `\uFEFF${HEADER},iron_mg_per_l,salt_tank_lb,occupants\n"u-17"${ROW.slice(4)},1.5,250,4\n${ROW.replace('u-17', 'u-18')},,,\n`;
    const { records, problems } = read(text);
    expect(problems).toEqual([]);
    expect(records.get('u-17')).toEqual({
      ...recordExample,
      iron: { value: 1.5, unit: 'mg/L' },
      saltTank: { value: 250, unit: '[lb_av]' },
      occupants: 4,
    });
    expect(records.get('u-18')).toEqual({ ...recordExample, unitId: 'u-18' });
  });

  it('takes rounds, former regions and what people call the site, and loses none of them on the way', async () => {
    const moved = {
      ...recordExample,
      formerRegions: [
        { region: 'north-fork', until: '2026-01-31' },
        { region: 'mill-valley', until: '2026-02-28' },
      ],
      round: 'mill-road',
      site: { name: '4 Mill Road', address: '4 Mill Road, Old Town' },
    };
    const text = `${HEADER},former_regions,round,site_name,site_address\n${ROW},north-fork:2026-01-31 mill-valley:2026-02-28,mill-road,4 Mill Road,"4 Mill Road, Old Town"\n`;
    expect(read(text).records.get('u-17')).toEqual(moved);
    // What a backup holds comes back as it was.
    const { ask, key, store } = await company();
    await ask('PUT', '/v1/units', { key, type: CSV, body: text });
    const backup = await (await ask('GET', '/v1/backup/units.ndjson', { key })).text();
    const again = await ask('PUT', '/v1/units', { key, type: 'application/x-ndjson', body: backup });
    expect(await again.json()).toEqual({ accepted: 1, unchanged: 1, problems: [] });
    expect((await store.records(COMPANY, { limit: 9 })).items).toEqual([moved]);
    const wrong = read(`${HEADER},former_regions\n${ROW},north-fork\n`);
    expect(wrong.problems[0]?.message).toContain('former_regions: "north-fork" is no list such as');
    const unordered = read(`${HEADER},former_regions\n${ROW},a:2026-02-28 b:2026-01-31\n`);
    expect(unordered.problems[0]?.message).toContain('must be ordered');
  });

  it.each([
    ['a cell that is no number', ROW.replace(',6,', ',six,'), 'salt_dose_lb: "six" is not a number'],
    ['a cell that must not be empty', ROW.replace('alder-county', ''), 'region: is empty'],
    ['a cell too many', `${ROW},4`, 'has 14 cells and not 13'],
    ['a value that no unit has', ROW.replace(',1,6,', ',0,6,'), 'resin.value: '],
    ['a sense of its own', ROW.replace('salt-level', 'smell'), 'senses.0: '],
  ])('with %s is bad in that row alone', (_, bad, message) => {
    const good = ROW.replace('u-17', 'u-18');
    const { records, problems } = read([HEADER, bad, good].join('\r\n'));
    expect([...records.keys()]).toEqual(['u-18']);
    expect(problems).toEqual([{ record: 1, unitId: 'u-17', message: expect.stringContaining(message) }]);
  });

  it.each([
    ['an unknown column', `${HEADER},colour\n`, '"colour" is unknown'],
    [
      'a column in another unit',
      `${HEADER.replace('salt_dose_lb', 'salt_dose_kg')}\n`,
      'salt_dose_lb is missing',
    ],
    ['a column twice', `${HEADER},region\n`, 'region is there twice'],
    ['a name of every object', `${HEADER},toString\n`, '"toString" is unknown'],
    ['a quote that does not end', `${HEADER}\n"${ROW}`, 'it is no CSV'],
  ])('with %s is refused, by name', (_, text, message) => {
    expect(() => read(text)).toThrow(RegistryError);
    expect(() => read(text)).toThrow(message);
  });
});
