import { ASSUMED, LIMITS } from './limits.ts';
import type { BatchTimes } from './measured.ts';

/** How long a batch takes in the cloud: its CPU at the share of a vCPU that the memory brings, and its calls one by one. */
export function batchSeconds(
  times: readonly BatchTimes[],
  messages: number,
  { memoryMb, sendMs }: { memoryMb: number; sendMs: number },
): number {
  const { cpuMs, tableRounds, sendRounds } = timesOf(times, messages);
  const share = Math.min(1, memoryMb / LIMITS.lambda.mbAVcpu.value) * ASSUMED.vcpuSpeed;
  return (cpuMs / share + tableRounds * ASSUMED.tableMs + sendRounds * sendMs) / 1000;
}

/** Between two sizes that were measured it is a straight line; beyond the largest it goes on as that one by message. */
export function timesOf(times: readonly BatchTimes[], messages: number): Omit<BatchTimes, 'messages'> {
  const above = times.find((each) => each.messages >= messages) ?? times.at(-1);
  const below = times.findLast((each) => each.messages <= messages) ?? times[0];
  if (!above || !below) throw new Error('nothing was measured of this function: run with --measure');
  const part =
    above.messages === below.messages ? 0 : (messages - below.messages) / (above.messages - below.messages);
  const beyond = Math.max(1, messages / above.messages);
  const at = (value: (each: BatchTimes) => number) =>
    (value(below) + part * (value(above) - value(below))) * beyond;
  return {
    cpuMs: at((each) => each.cpuMs),
    tableRounds: at((each) => each.tableRounds),
    sendRounds: at((each) => each.sendRounds),
    logBytes: at((each) => each.logBytes),
  };
}
