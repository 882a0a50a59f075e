import { spawnSync } from 'node:child_process';
import { readdir, symlink, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { parse } from 'csv-parse/sync';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { compact } from '../../functions/archive/compact.ts';
import { archiveOnce, bodiesOf } from '../support/archiving.ts';
import { brinebell, COMMAND } from '../support/command.ts';
import { wire } from '../support/events.ts';
import { registryOf } from '../support/fleet.ts';
import { noLog } from '../support/pipeline.ts';
import { lines, records } from '../support/smallFleet.ts';
import { sqlArchive } from '../support/sqlArchive.ts';

let archive: Awaited<ReturnType<typeof sqlArchive>>;
const NOTE = '=1+1; "quoted",\u001b[31m red\nnext line';

beforeAll(async () => {
  archive = await sqlArchive();
  const units = [...registryOf(...records).units.values()];
  const visit = wire('service-visit', 'visit', Date.UTC(2026, 2, 9), {
    ...{ technician: 't-1', findings: [], work: [], notes: NOTE },
  });
  const all = [...lines, JSON.stringify(visit)];
  const byUnit = units.map((unit) => ({
    unit,
    lines: all.filter((line) => JSON.parse(line).source.endsWith(`/${unit.unitId}`)),
  }));
  for (const each of byUnit) await archiveOnce(archive.files, bodiesOf([each]));
});

afterAll(() => archive.remove());

function sql(query: string, ...options: string[]) {
  return brinebell(['sql', query, '--archive', archive.folder, ...options]);
}

describe('brinebell sql', () => {
  it('rounds what is off in its last digit for people, and not for programs', () => {
    const query =
      'select 0.1::double + 0.2::double as sum, 12345678901.0::double as whole, 1e-12::double as small';
    expect(sql(query).stdout.split('\n')[2]?.trim().split(/\s+/)).toEqual(['0.3', '12345678901', '1e-12']);
    expect(JSON.parse(sql(query, '--format', 'json').stdout)).toEqual([
      { sum: 0.1 + 0.2, whole: 12345678901, small: 1e-12 },
    ]);
  });

  it('writes rows as a table, as CSV that reads back, and as JSON', () => {
    const query =
      'select unit_id, count(*) as days, cast(sum(volume_gal) as decimal(12, 1)) as gallons, null as nothing from flow_days group by unit_id order by unit_id';
    const gallons = ['u-17', 'u-18', 'u-19'].map((unitId) =>
      lines
        .map((line) => JSON.parse(line))
        .filter(({ source, type }) => source.endsWith(`/${unitId}`) && type === 'brinebell.flow-day.v1')
        .reduce((sum, { data }) => sum + data.volume.value, 0),
    );
    const table = sql(query);
    expect(table).toMatchObject({ status: 0, stderr: '' });
    expect(table.stdout.split('\n').map((line) => line.trim().split(/\s+/))).toEqual([
      ['unit_id', 'days', 'gallons', 'nothing'],
      ['-------', '----', '-------', '-------'],
      ['u-17', '28', String(gallons[0])],
      ['u-18', '28', String(gallons[1])],
      ['u-19', '28', String(gallons[2])],
      ['3', 'rows'],
      [''],
    ]);
    const json = JSON.parse(sql(query, '--format', 'json').stdout);
    expect(json[0]).toEqual({ unit_id: 'u-17', days: 28, gallons: gallons[0], nothing: null });
    expect(parse(sql(query, '--format', 'csv').stdout, { columns: true })).toMatchObject([
      { unit_id: 'u-17', days: '28', nothing: '' },
      { unit_id: 'u-18' },
      { unit_id: 'u-19' },
    ]);
    expect(sql('select 1 as one where false', '--format', 'json').stdout).toBe('[]\n');
  });

  it('keeps what people noted whole in CSV and JSON, and from the screen what would draw on it', () => {
    const query = 'select notes from visits';
    expect(JSON.parse(sql(query, '--format', 'json').stdout)).toEqual([{ notes: NOTE }]);
    expect(parse(sql(query, '--format', 'csv').stdout, { columns: true })).toEqual([{ notes: NOTE }]);
    expect(sql(query).stdout).not.toMatch(/\p{Cc}(?<!\n)/u);
  });

  it('streams what is too long to hold, and ends when nobody reads any more', () => {
    const many = sql('select r.range as n from range(300000) r', '--format', 'csv').stdout.split('\r\n');
    expect(many).toHaveLength(300_002);
    expect(many.at(-2)).toBe('299999');
    // Read to its end this would take minutes.
    const endless = `select * from range(10000000000)`;
    const script = '"$0" "$1" sql "$2" --archive "$3" --format csv | head -n 2; echo done';
    const { stdout, stderr } = spawnSync('sh', [
      '-c',
      script,
      process.execPath,
      COMMAND,
      endless,
      archive.folder,
    ]);
    expect(String(stderr)).toBe('');
    expect(String(stdout)).toBe('range\r\n0\r\ndone\n');
  });

  it('lists its views and their columns', () => {
    const { status, stdout } = brinebell(['sql']);
    expect(status).toBe(0);
    for (const name of ['facts', 'flow_days', 'region_months', 'fact_copies']) {
      expect(stdout).toMatch(new RegExp(`^${name}: `, 'm'));
    }
    expect(stdout).toMatch(/ {2}volume_gal +double +treated water of the day, US gallons/);
  });

  it('says where a query is wrong, and what to do where there is no archive', () => {
    expect(sql('select unit_id,\n  gallon from flow_days')).toMatchObject({
      status: 2,
      stderr: expect.stringMatching(/^brinebell: line 2, column 3: .*"gallon" not found/),
    });
    const long = `select ${Array.from({ length: 60 }, (_, n) => `unit_id as u${n}`).join(', ')}, gallon from flow_days`;
    expect(sql(long).stderr).toContain(`line 1, column ${long.indexOf('gallon') + 1}: `);
    expect(sql('select cast(unit_id as integer) from facts').stderr).toMatch(
      /^brinebell: .*Conversion Error/,
    );
    expect(sql('/* nothing */').stderr).toMatch(/^brinebell: it is no single select\n/);
    expect(brinebell(['sql', 'select 1', '--data', join(archive.folder, 'nowhere')])).toMatchObject({
      status: 2,
      stderr: expect.stringMatching(/^brinebell: there is no archive in .*\n.*npm start/),
    });
  });

  it('answers every example of its help', async () => {
    const { stdout } = brinebell(['sql', '--help']);
    const examples = [...stdout.matchAll(/^ {2}brinebell sql (['"])(.*?)\1(.*)$/gm)];
    expect(examples.length).toBeGreaterThan(3);
    for (const [, , query = '', rest = ''] of examples) {
      const format = rest.match(/--format (\w+)/)?.[1] ?? 'table';
      expect(sql(query, '--format', format), query).toMatchObject({ status: 0, stderr: '' });
    }
  });
});

describe('a query', () => {
  it('reads no file but those of the archive, and changes nothing', async () => {
    const { folder } = archive;
    const secret = join(folder, '..', 'secret.csv');
    await writeFile(secret, 'secret\nword\n');
    await symlink(secret, join(folder, 'facts', 'link.csv'));
    const before = await readdir(folder, { recursive: true });
    const refused = [
      "select * from read_text('/etc/passwd')",
      "select * from read_csv('/etc/passwd')",
      "select * from '/etc/passwd'",
      "select * from glob('/etc/*')",
      `select * from read_text('${secret}')`,
      `select * from read_text('${folder}/../secret.csv')`,
      `select * from read_text('${folder}/facts/link.csv')`,
      "select * from read_parquet('http://127.0.0.1:1/x.parquet')",
      "select * from query('select * from read_text(''/etc/passwd'')')",
      `copy (select 1) to '${folder}/facts/evil.parquet'`,
      `explain analyze copy (select 1) to '${folder}/facts/evil.parquet'`,
      `export database '${folder}/facts'`,
      `attach '${folder}/evil.db'`,
      'install httpfs',
      'load httpfs',
      'set enable_external_access = true',
      "set allowed_directories = ['/']",
      'reset lock_configuration',
      'create table t as select 1',
      'drop view facts',
      'select 1; drop view facts',
      'prepare p as select 1',
      'call enable_logging()',
    ];
    for (const query of refused) {
      await expect(archive.query(query), query).rejects.toMatchObject({ code: 'sql-refused' });
    }
    expect(await readdir(folder, { recursive: true })).toEqual(before);
    // The lock keeps out what is not of the archive, and not the archive.
    expect(await archive.query('select count(*) as facts from facts')).toEqual([{ facts: lines.length + 1 }]);
    await compact(archive.files, { log: noLog })();
    expect(await archive.query('select count(*) as facts from facts')).toEqual([{ facts: lines.length + 1 }]);
  });
});
