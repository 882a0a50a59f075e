import { join } from 'node:path';
import { compact } from '../../../functions/archive/compact.ts';
import { report } from '../../../functions/report.ts';
import { hashOf } from '../../../functions/secrets.ts';
import { parseFaultMix } from '../../../lib/simulation/faultMix.ts';
import { planFleet } from '../../../lib/simulation/plan.ts';
import type { Instant } from '../../../shared/time/instant.ts';
import { secretIn } from '../keyFile.ts';
import type { Service, ServiceClock } from '../service.ts';
import { DemoClock } from './demoClock.ts';
import { startMeters } from './demoMeters.ts';
import { readState, writeState } from './demoState.ts';
import { DemoUnit } from './demoUnit.ts';
import { tellHistory } from './history.ts';
import { DEMO_PEOPLE } from './people.ts';
import { demoSite } from './sites.ts';

const DAY_MS = 86_400_000;
const UNITS = 200;
/** How long the fleet has been watched when the demonstration begins, and how long it goes on after that. */
const DAYS_BEFORE = 182;
const DAYS_AFTER = 730;
const SEED = 20;
/** How long the file that says how far it has come may lag behind, milliseconds. */
const NOTED_EVERY_MS = 5_000;
export const DEMO_COMPANY_ID = 'larkwater';
const COMPANY = { companyId: DEMO_COMPANY_ID, name: 'Lark Water Service', channels: [], rules: {} };

export interface DemoOptions {
  readonly dataDir: string;
  /** Days that pass in a minute; undefined for real time. */
  readonly daysAMinute?: number | undefined;
  /** 200 by default. */
  readonly units?: number;
  /** What time it is when it is first begun; by default, now. */
  readonly from?: Instant;
}

/** A demonstration: an invented company, whose invented fleet has been watched for half a year and goes on. */
export interface Demo {
  /** The clock that the service is to go by. */
  readonly clock: ServiceClock;
  /** Tells the fleet's history, the first time, and starts its meters. */
  begin(service: Service, options: BeginOptions): Promise<RunningDemo>;
}

export interface BeginOptions {
  /** Told how much of the history is told, 0 to 1. */
  readonly onProgress: (share: number) => void;
  /** Ends the telling, which then throws, and is done from the beginning the next time. */
  readonly signal: AbortSignal;
}

export interface RunningDemo {
  /** The company's key to the API. */
  readonly key: string;
  stop(): Promise<void>;
}

/** Prepares the demonstration of a data folder, which goes on from where it was. */
export async function openDemo({
  dataDir,
  daysAMinute,
  units: size = UNITS,
  from: begins = Date.now(),
}: DemoOptions): Promise<Demo> {
  const path = join(dataDir, 'demo.json');
  const kept = await readState(path);
  const from = Math.max(begins, kept?.until ?? 0);
  const start = kept?.start ?? Math.floor(from / DAY_MS) - DAYS_BEFORE;
  const clock = new DemoClock(from, daysAMinute);

  const begin = async ({ ports, files, mqttUrl }: Service, { onProgress, signal }: BeginOptions) => {
    const faults = parseFaultMix('balanced');
    const days = DAYS_BEFORE + DAYS_AFTER;
    const plans = planFleet({ units: size, days, start, seed: SEED, faults });
    const units = plans.map((plan) => new DemoUnit(plan));
    const name = `${COMPANY.companyId}~demo`;
    const secret = await secretIn(join(dataDir, 'demo-key'), name);
    if (kept) {
      for (const unit of units) unit.take(kept.until);
    } else {
      const { companyId } = COMPANY;
      await ports.store.putCompany(COMPANY);
      for (const person of DEMO_PEOPLE) await ports.store.putPerson(companyId, person);
      await ports.store.putPrincipal({ name, companyId, unitId: null, secretHash: hashOf(secret) });
      await ports.store.putRecords(
        companyId,
        units.map(({ record }, index) => ({ ...record, site: demoSite(index) })),
      );
      let told = 0;
      const onUnit = () => {
        told += 1;
        onProgress(told / size);
      };
      await tellHistory(ports, units, from, { files, onUnit, signal });
      // Else there were none for a day: they were made before there was anything to tell.
      await report(ports, files)();
      await compact(files, ports)();
      await writeState(path, { start, until: from });
    }
    clock.start();
    let notedAt = performance.now();
    const onTold = async (until: Instant) => {
      if (performance.now() < notedAt + NOTED_EVERY_MS) return;
      notedAt = performance.now();
      await writeState(path, { start, until });
    };
    const stop = await startMeters({ ports, mqttUrl, units, onTold });
    return { key: `${name}.${secret}`, stop };
  };
  return { clock, begin };
}
