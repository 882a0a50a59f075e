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
export function bundleSizes({ outputs }) {
  const files = Object.entries(outputs).filter(([path]) => !path.endsWith('.map'));
  const entry = files.find(([path]) => path.endsWith('/index.mjs'));
  if (!entry) throw new Error('a bundle has no index.mjs: bundle it anew');
  const atStart = new Set([entry[0]]);
  // What is added while it is walked is walked too.
  for (const path of atStart) {
    for (const { path: imported, kind } of outputs[path]?.imports ?? []) {
      if (kind === 'import-statement' && imported in outputs) atStart.add(imported);
    }
  }
  const sum = { start: 0, onDemand: 0 };
  for (const [path, { bytes }] of files) sum[atStart.has(path) ? 'start' : 'onDemand'] += bytes;
  return sum;
}
