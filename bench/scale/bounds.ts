/** What single functions can do before their time is over, by plain sums: where no queue helps, no simulation is needed. */
import { FUNCTIONS, QUEUES } from '../../infra/topology.ts';
import { ASSUMED, LIMITS } from './limits.ts';
import type { Measured } from './measured.ts';

/** Records that a page of the registry has (`functions/everything.ts`), and calls that an outlet makes at once with ten messages each. */
const PAGE = 500;
const SENDS_AT_ONCE = 16;
const IN_A_CALL = 10;
/** CPU of one call of the SDK to a queue, milliseconds. A guess, no source: some four times less than an assess of five calls. */
const SEND_CPU_MS = 1;
/** Bytes of an alert as it is listed (docs/data.md), and what a page of a query and a read unit hold. */
const ALERT_BYTES = 1_060;
const READ_UNIT_BYTES = 4_096;
/** Notices of silent units that an environment judges in a second. A guess, no source. */
const NOTICES_A_SECOND = 10;

/** Seconds that a run of the sweep takes for a company with so many units, of which it is noon for a share. */
export function sweepSeconds(measured: Measured, units: number, share: number, memoryMb: number): number {
  const cpuShare = Math.min(1, memoryMb / LIMITS.lambda.mbAVcpu.value) * ASSUMED.vcpuSpeed;
  const roster = Math.ceil(units / PAGE) * ASSUMED.tableMs;
  const due = units * share;
  const calls = due / IN_A_CALL;
  const cpu = (units * measured.sweepCpuMsAUnit + calls * SEND_CPU_MS) / cpuShare;
  return (roster + cpu + (calls / SENDS_AT_ONCE) * ASSUMED.sendMs) / 1000;
}

/** The largest company whose zone a run of the sweep gets through in its time. */
export function sweepReach(measured: Measured, share: number, memoryMb: number): number {
  const time = FUNCTIONS.sweep.timeoutSeconds;
  let [fits, tooMany] = [0, 100_000_000];
  while (tooMany - fits > 1) {
    const units = Math.floor((fits + tooMany) / 2);
    if (sweepSeconds(measured, units, share, memoryMb) <= time) fits = units;
    else tooMany = units;
  }
  return fits;
}

/**
 * Read units when so many units of a company fall silent at once: each environment reads all open alerts of the company once
 * a minute (functions/silence.ts) until the last notice has been judged.
 */
export function silenceReads(silent: number): number {
  const environments = QUEUES.notify.batchesAtOnce;
  const minutes = Math.ceil(silent / (environments * NOTICES_A_SECOND) / 60);
  return environments * minutes * Math.ceil((silent * ALERT_BYTES) / READ_UNIT_BYTES) * 0.5;
}
