/**
 * Libraries that are one function each, and hundreds of small CommonJS modules beneath it. A module that imports one would have
 * all of them run as it is loaded; in a bundle they are run when the function is first called, if it ever is.
 *
 * @param {RegExp} asked how they are named where they are imported; each is a function of three values
 * @returns {import('esbuild').Plugin}
 */
export function whenCalled(asked) {
  const namespace = 'when-called';
  return {
    name: namespace,
    setup({ onResolve, onLoad }) {
      onResolve({ filter: asked }, ({ kind, path, resolveDir }) =>
        kind === 'import-statement' ? { path, namespace, pluginData: resolveDir } : undefined,
      );
      onLoad({ filter: /./, namespace }, ({ path, pluginData }) => ({
        contents: `export default (a, b, c) => require(${JSON.stringify(path)})(a, b, c);`,
        resolveDir: pluginData,
      }));
    },
  };
}
