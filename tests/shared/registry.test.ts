import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { RegistryError, readRegistry } from '../../shared/registry.ts';
import { zoneNamed } from '../../shared/time/zone.ts';
import { anyText, damaged } from '../support/damaged.ts';
import { unitRecord } from '../support/fleet.ts';

const one = unitRecord();
const two = unitRecord({ unitId: 'u-18', arrangement: 'alternating' });
const three = unitRecord({ unitId: 'u-19', senses: [] });
const ndjson = (...records: unknown[]) => records.map((record) => JSON.stringify(record)).join('\n');
const idsOf = (text: string) => [...readRegistry(text).units.keys()];

describe('a registry', () => {
  const array = JSON.stringify([one, two]);
  const lines = ndjson(one, two);
  it.each([
    ['a JSON array', array],
    ['a JSON array over several lines', JSON.stringify([one, two], null, 2)],
    ['a JSON array after a byte order mark', `\uFEFF${array}`],
    ['NDJSON', lines],
    ['NDJSON with a final newline', `${lines}\n`],
    ['NDJSON after a byte order mark', `\uFEFF${lines}`],
    [
      'NDJSON with the line ends of Windows and blank lines',
      `\r\n${lines.replace('\n', '\r\n\r\n')}\r\n  \r\n`,
    ],
  ])('is read as %s', (_, text) => {
    expect(readRegistry(text).problems).toEqual([]);
    expect(idsOf(text)).toEqual(['u-17', 'u-18']);
  });

  it.each(['', ' \n\n', '\uFEFF', '[]'])('without units is %j', (text) => {
    expect(readRegistry(text)).toEqual({ units: new Map(), problems: [] });
  });

  it.each([
    ['a table', 'unitId,companyId\nu-17,fenwick-water\n'],
    ['an array that breaks off', JSON.stringify([one, two]).slice(0, -1)],
    ['an array that breaks off between two lines', `[\n${ndjson(one)},\n${ndjson(two)}\n`],
    ['one record that breaks off', JSON.stringify(one).slice(0, -1)],
  ])('cannot be read from %s, and the error says what to give instead', (_, text) => {
    const attempt = () => readRegistry(text);
    expect(attempt).toThrow(RegistryError);
    expect(attempt).toThrow(expect.objectContaining({ code: 'registry-unreadable' }));
    expect(attempt).toThrow('one record a line');
  });

  it('never loses a record: each becomes a unit or is set aside and named', () => {
    const bad = damaged([{ ...two, iron: { value: 1, unit: 'mg/L' }, occupants: 2 }]);
    const record = fc.oneof(bad, bad, fc.json());
    fc.assert(
      fc.property(fc.array(record, { maxLength: 6 }), fc.boolean(), (records, asArray) => {
        const all = [JSON.stringify(one), ...records];
        const { units, problems } = readRegistry(asArray ? `[${all.join()}]` : all.join('\n'));
        const named = new Set(problems.map(({ record }) => record));
        const left = all.filter((_, index) => !named.has(index + 1)).map((text) => JSON.parse(text).unitId);
        const conflicts = problems.filter(({ message }) => message.includes('none stands'));
        const fallen = new Set(conflicts.map(({ unitId }) => unitId));
        expect([...units.keys()]).toEqual(left.filter((unitId) => !fallen.has(unitId)));
        expect(named.size).toBe(problems.length);
      }),
      { numRuns: 300 },
    );
  });

  it('is read or refused as a whole, and throws nothing else, whatever the text', () => {
    fc.assert(
      fc.property(fc.oneof(anyText, fc.json()), (text) => {
        try {
          return readRegistry(text).units.size === 0;
        } catch (error) {
          return error instanceof RegistryError;
        }
      }),
    );
  });
});

describe('a record', () => {
  it('becomes a unit in the trade’s units', () => {
    const record = unitRecord({
      saltDose: { value: 6 * 0.45359237, unit: 'kg' },
      hardness: { value: 20 * 17.11806, unit: 'mg/L' },
      iron: { value: 1.5, unit: 'mg/L' },
      programmed: {
        hardness: { value: 24, unit: '[gr]/[gal_us]' },
        capacity: { value: 20_000 * 0.06479891, unit: 'g' },
        regenerationHour: 3,
      },
      saltTank: { value: 250, unit: '[lb_av]' },
      arrangement: 'alternating',
      formerRegions: [{ region: 'mill-valley', until: '2026-01-31' }],
      round: 'mill-road',
      occupants: 4,
      colour: 'a member that the contract does not name',
    });
    expect(readRegistry(ndjson(record))).toEqual({
      problems: [],
      units: new Map([
        [
          'u-17',
          {
            unitId: 'u-17',
            companyId: 'fenwick-water',
            siteId: 'site-17',
            region: 'alder-county',
            formerRegions: [{ region: 'mill-valley', until: 20_484 }],
            round: 'mill-road',
            zone: zoneNamed('America/New_York'),
            // 2026-01-05: 56 years of 365 days, 14 leap days and 4 days after 1970-01-01.
            installedOn: 56 * 365 + 14 + 4,
            resinCubicFeet: 1,
            saltDoseLb: expect.closeTo(6, 9),
            hardnessGpg: expect.closeTo(20, 5),
            ironMgPerL: 1.5,
            programmed: { hardnessGpg: 24, capacityGrains: expect.closeTo(20_000, 6), regenerationHour: 3 },
            saltTankLb: 250,
            alternating: true,
            senses: ['salt-level', 'brine-draw'],
            occupants: 4,
          },
        ],
      ]),
    });
  });

  it.each<[what: string, over: Record<string, unknown>, message: string]>([
    ['no unit id', { unitId: undefined }, 'unitId: '],
    ['a unit id with a space', { unitId: 'u 17' }, 'unitId: is not an id'],
    ['a region of 65 characters', { region: 'r'.repeat(65) }, 'region: is not an id'],
    ['a zone that is none', { timeZone: 'America/Gotham' }, 'America/Gotham is not an IANA time zone'],
    ['a bare offset for a zone', { timeZone: '-05:00' }, '-05:00 is not an IANA time zone'],
    ['an offset behind a name for a zone', { timeZone: 'Site-05:00' }, 'Site-05:00 is not an IANA time zone'],
    ['a zone that is a number', { timeZone: 5 }, 'timeZone: '],
    [
      'a day of installation that does not exist',
      { installedOn: '2026-02-30' },
      'installedOn: is not a date',
    ],
    ['no resin', { resin: { value: 0, unit: '[cft_i]' } }, 'resin.value: '],
    ['resin in litres', { resin: { value: 28, unit: 'L' } }, 'resin.unit: '],
    ['a salt dose of 0', { saltDose: { value: 0, unit: '[lb_av]' } }, 'saltDose: must be more than 0'],
    ['negative iron', { iron: { value: -1, unit: 'mg/L' } }, 'iron.value: '],
    [
      'an hour that no clock shows',
      { programmed: { ...one.programmed, regenerationHour: 24 } },
      'programmed.',
    ],
    ['an arrangement of its own', { arrangement: 'triple' }, 'arrangement: '],
    ['a sense of its own', { senses: ['smell'] }, 'senses.0: '],
    ['half an occupant', { occupants: 2.5 }, 'occupants: '],
  ])('with %s is set aside and named, and its neighbours stand', (_, over, message) => {
    const bad = { ...unitRecord({ unitId: 'u-20' }), ...over };
    const { units, problems } = readRegistry(JSON.stringify([one, bad, two]));
    expect([...units.keys()]).toEqual(['u-17', 'u-18']);
    expect(problems).toEqual([
      {
        record: 2,
        unitId: 'unitId' in over ? over.unitId : 'u-20',
        message: expect.stringContaining(message),
      },
    ]);
  });

  it.each([null, 7, 'u-17', [one]].map((value) => [value]))('is not %j', (value) => {
    for (const text of [JSON.stringify([one, value, two]), ndjson(one, value, two)]) {
      const { units, problems } = readRegistry(text);
      expect([...units.keys()]).toEqual(['u-17', 'u-18']);
      expect(problems).toMatchObject([{ record: 2, message: expect.stringContaining('object') }]);
    }
  });

  it('on a line that is not JSON is set aside alone, wherever it stands', () => {
    const good = [one, two, three].map((record) => JSON.stringify(record));
    for (const place of [0, 1, 3]) {
      const text = good.toSpliced(place, 0, '{"unitId":"u-20",').join('\n');
      expect(idsOf(text)).toEqual(['u-17', 'u-18', 'u-19']);
      expect(readRegistry(text).problems).toEqual([
        { record: place + 1, message: expect.stringContaining('is not JSON') },
      ]);
    }
  });

  it('that comes twice counts once, whatever the order of its members, and is named', () => {
    const turned = Object.fromEntries(Object.entries(one).reverse());
    const { units, problems } = readRegistry(ndjson(one, two, turned));
    expect([...units.keys()]).toEqual(['u-17', 'u-18']);
    expect(problems).toMatchObject([
      { record: 3, unitId: 'u-17', message: expect.stringContaining('counted once') },
    ]);
  });

  it('that shares its id with a different one stands as little as that one, in any order', () => {
    const other = unitRecord({ occupants: 3 });
    for (const records of [
      [one, other, two],
      [other, two, one],
      [one, other, two, one],
      [one, one, other, two],
    ]) {
      const { units, problems } = readRegistry(JSON.stringify(records));
      expect([...units.keys()]).toEqual(['u-18']);
      expect(problems).toHaveLength(records.length - 2);
      expect(problems.at(-1)).toMatchObject({
        unitId: 'u-17',
        message: expect.stringContaining('none stands'),
      });
    }
  });
});
