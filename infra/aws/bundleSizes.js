/**
 * What a bundle weighs, bytes.
 *
 * @typedef {object} BundleSizes
 * @property {number} start what is loaded when a function starts: its entry and what that imports
 * @property {number} onDemand what is loaded only when it is needed
 */

/**
 * @param {import('esbuild').Metafile} metafile of one function
 * @returns {BundleSizes}
 */
export function bundleSizes(metafile) {
  const atStart = filesAtStart(metafile);
  const sum = { start: 0, onDemand: 0 };
  for (const [path, { bytes }] of Object.entries(metafile.outputs)) {
    if (!path.endsWith('.map')) sum[atStart.has(path) ? 'start' : 'onDemand'] += bytes;
  }
  return sum;
}

/**
 * The sources of which a function loads anything when it starts.
 *
 * @param {import('esbuild').Metafile} metafile of one function
 */
export function sourcesAtStart(metafile) {
  const inputs = [...filesAtStart(metafile)].flatMap((path) =>
    Object.entries(metafile.outputs[path]?.inputs ?? {}),
  );
  return inputs.filter(([, { bytesInOutput }]) => bytesInOutput > 0).map(([input]) => input);
}

/** @param {import('esbuild').Metafile} metafile */
function filesAtStart({ outputs }) {
  const entry = Object.keys(outputs).find((path) => path.endsWith('/index.mjs'));
  if (!entry) throw new Error('a bundle has no index.mjs: bundle it anew');
  const atStart = new Set([entry]);
  // What is added while it is walked is walked too.
  for (const path of atStart) {
    for (const { path: imported, kind } of outputs[path]?.imports ?? []) {
      if (kind === 'import-statement' && imported in outputs) atStart.add(imported);
    }
  }
  return atStart;
}
