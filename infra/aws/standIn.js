import { join } from 'node:path';

/**
 * Puts a source of ours in the place of a module, for those whose paths match.
 *
 * @param {object} place
 * @param {RegExp} place.asked how the module is named where it is imported
 * @param {RegExp} place.by the path of who imports it, with slashes
 * @param {string} place.source from the root
 * @returns {import('esbuild').Plugin}
 */
export function standIn({ asked, by, source }) {
  return {
    name: `stand-in-${source}`,
    setup({ initialOptions: { absWorkingDir = '' }, onResolve }) {
      onResolve({ filter: asked }, ({ importer }) =>
        by.test(importer.replaceAll('\\', '/')) ? { path: join(absWorkingDir, source) } : undefined,
      );
    },
  };
}
