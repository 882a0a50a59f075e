import { join } from 'node:path';
import { Command, Option } from 'commander';
import { openArchive } from '../sql/archiveDatabase.ts';
import { FORMATS } from '../sql/formats.ts';
import { listing } from '../sql/listing.ts';
import { ask } from '../sql/query.ts';

const HELP = `
Without a query it lists the views, the tables that they are made of, and their columns. The same views are in Athena,
where the service runs in the cloud. Times are UTC, and dates those of the site. The archive lags behind by some minutes,
and month accounts by up to a day.

A query is one select of DuckDB's SQL. It can read the archive and no other file, and can change nothing.

Examples:
  brinebell sql
  brinebell sql 'select * from region_months order by month, region'
  brinebell sql "select unit_id, sum(volume_gal) as gallons from flow_days where month = '2026-03' group by unit_id"
  brinebell sql 'select * from regenerations' --format csv
  brinebell sql 'select count(*) as events from facts' --archive /srv/brinebell/archive --format json`;

interface Options {
  data: string;
  archive?: string;
  format: keyof typeof FORMATS;
}

/** `brinebell sql`: questions to the archive. */
export function sqlCommand(): Command {
  return new Command('sql')
    .description('ask the archive of facts and month accounts in SQL')
    .argument('[query]', 'one select')
    .option('--data <dir>', 'data folder of the service', 'data')
    .option('--archive <dir>', 'folder of the archive (default: archive in the data folder)')
    .addOption(
      new Option('--format <format>', 'how rows are written')
        .choices(Object.keys(FORMATS))
        .default('table' satisfies keyof typeof FORMATS),
    )
    .addHelpText('after', HELP)
    .action(async (query: string | undefined, { data, archive, format }: Options) => {
      if (query === undefined) {
        await write(`${listing()}\n`);
        return;
      }
      const database = await openArchive(archive ?? join(data, 'archive'));
      try {
        await FORMATS[format](await ask(database.connection, query), write);
      } finally {
        await database.close();
      }
    });
}

/** Writes to standard output no faster than it is read; false once nobody reads it. */
function write(text: string): Promise<boolean> {
  return new Promise((resolve) => process.stdout.write(text, (error) => resolve(!error)));
}
