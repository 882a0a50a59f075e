import { hashOf } from '../../../functions/secrets.ts';
import { live } from '../../../tests/functions/api/service.ts';
import { lines, records } from '../../../tests/support/smallFleet.ts';
import { testTable } from '../../../tests/support/table.ts';
import { DESK } from './cases.ts';

/** The table, in a process of its own, with a small fleet in it. */
const { store, endpoint, tableName } = await testTable();
const companyId = 'fenwick-water';
await store.putCompany({ companyId, name: 'Fenwick Water', channels: [], rules: {} });
await store.putPrincipal({ name: DESK.name, companyId, unitId: null, secretHash: hashOf(DESK.secret) });
await live(store, records, lines);
process.send?.({ endpoint, tableName });
