import type { Metafile } from 'esbuild';

/** The sources of which something is in what a bundle loads when it starts. */
export function inputsAtStart({ outputs }: Pick<Metafile, 'outputs'>): string[] {
  const [entry] = Object.keys(outputs).filter((path) => path.endsWith('/index.mjs'));
  const atStart = new Set([entry ?? '']);
  for (const path of atStart) {
    for (const { path: imported, kind } of outputs[path]?.imports ?? []) {
      if (kind === 'import-statement' && imported in outputs) atStart.add(imported);
    }
  }
  return [...atStart].flatMap((path) =>
    Object.entries(outputs[path]?.inputs ?? {}).flatMap(([input, { bytesInOutput }]) =>
      bytesInOutput > 0 ? [input] : [],
    ),
  );
}
