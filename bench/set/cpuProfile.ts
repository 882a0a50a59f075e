import { readFileSync } from 'node:fs';
import type { SourceMap } from 'node:module';

/** A part of the time, from 0 to 1, and what it went to. */
export interface Share {
  readonly name: string;
  readonly share: number;
}

/** The work that a source stands for: the first that fits. */
export type Work = readonly (readonly [work: string, source: RegExp])[];

/**
 * How long a process was at each source by a profile of the runtime, in microseconds. What belongs to no file, as what is
 * built into the runtime, is its caller's; what nobody calls is under the runtime's own name for it. Idle time is left out.
 *
 * @param mapOf the source map of a file that was run, by its URL
 */
export function timesBySource(
  profile: string,
  mapOf: (url: string) => SourceMap | undefined,
): Map<string, number> {
  const { nodes, samples, timeDeltas }: CpuProfile = JSON.parse(readFileSync(profile, 'utf8'));
  const sources = sourcesOf(nodes, mapOf);
  const times = new Map<string, number>();
  samples.forEach((id, index) => {
    const source = sources.get(id) ?? '';
    if (source !== '(idle)') times.set(source, (times.get(source) ?? 0) + (timeDeltas[index] ?? 0));
  });
  return times;
}

/** Times by the work that their sources stand for. */
export function byWork(times: ReadonlyMap<string, number>, works: Work): Map<string, number> {
  const found = new Map<string, number>();
  for (const [source, time] of times) {
    const work = works.find(([, pattern]) => pattern.test(source))?.[0] ?? '';
    found.set(work, (found.get(work) ?? 0) + time);
  }
  return found;
}

/** Times as parts of all of them, most first. */
export function sharesOf(times: ReadonlyMap<string, number>): Share[] {
  const total = [...times.values()].reduce((sum, time) => sum + time, 0);
  return [...times].sort((a, b) => b[1] - a[1]).map(([name, time]) => ({ name, share: time / total }));
}

/** "31 % forecasts, 20 % fold": those that take a twentieth or more. */
export function inWords(parts: readonly Share[]): string {
  return parts
    .filter(({ share }) => share >= 0.05)
    .map(({ name, share }) => `${(100 * share).toFixed(0)} % ${name}`)
    .join(', ');
}

interface CpuProfile {
  /** The first is their root. */
  nodes: Node[];
  samples: number[];
  timeDeltas: number[];
}

interface Node {
  id: number;
  callFrame: CallFrame;
  children?: number[];
}

interface CallFrame {
  functionName: string;
  url: string;
  lineNumber: number;
  columnNumber: number;
}

/** The source that each node's time is charged to. */
function sourcesOf(
  nodes: readonly Node[],
  mapOf: (url: string) => SourceMap | undefined,
): ReadonlyMap<number, string> {
  const byId = new Map(nodes.map((node) => [node.id, node]));
  const sources = new Map<number, string>();
  const charge = (node: Node, caller: string | undefined) => {
    const source = node.callFrame.url === '' ? caller : sourceOf(node.callFrame, mapOf);
    sources.set(node.id, source ?? node.callFrame.functionName);
    for (const id of node.children ?? []) {
      const child = byId.get(id);
      if (child) charge(child, source);
    }
  };
  const [root] = nodes;
  if (root) charge(root, undefined);
  return sources;
}

function sourceOf(
  { url, lineNumber, columnNumber }: CallFrame,
  mapOf: (url: string) => SourceMap | undefined,
): string {
  const entry = mapOf(url)?.findEntry(lineNumber, columnNumber);
  return entry && 'originalSource' in entry ? entry.originalSource.replace(/^(\.\.\/)+/, '') : url;
}
