// Writes a software bill of materials (CycloneDX, by npm itself) of all that is handed on: what the service and the
// command run, and what the console takes along into the browser, which npm only knows as tools for building. Chosen
// by the graph and not by `--omit dev`, with which npm 11.19.1 leaves out a dependency of ours (zod).
// usage: node tools/supply/sbom.js [FILE]
import { execFileSync } from 'node:child_process';
import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { READ_LICENCES } from './reviewed.js';

const root = fileURLToPath(new URL('../..', import.meta.url));
/** @type {Record<string, string>} */
const readLicences = READ_LICENCES;

/**
 * @typedef {{ 'bom-ref': string, name: string, version: string, licenses?: object[] }} Component
 * @typedef {{ bomFormat: string, metadata: { component: Component }, components: Component[],
 *   dependencies: { ref: string, dependsOn: string[] }[] }} Bom
 */

/**
 * The bill, from the lockfile alone: the same wherever it is made.
 *
 * @returns {Bom}
 */
export function sbom() {
  const args = ['sbom', '--sbom-format', 'cyclonedx', '--package-lock-only'];
  /** @type {Bom} */
  const bom = JSON.parse(
    execFileSync('npm', args, {
      cwd: root,
      encoding: 'utf8',
      maxBuffer: 1 << 28,
      stdio: ['ignore', 'pipe', 'inherit'],
      shell: process.platform === 'win32',
    }),
  );
  const manifest = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'));
  const { packages } = JSON.parse(readFileSync(join(root, 'package-lock.json'), 'utf8'));
  const roots = [...Object.keys(manifest.dependencies), ...consolePackages()].map(
    (name) => `${name}@${packages[`node_modules/${name}`].version}`,
  );
  const shipped = reachable(roots, bom.dependencies);
  // npm calls it by the name of the folder, which is nobody's business.
  const component = { ...bom.metadata.component, name: manifest.name };
  const own = component['bom-ref'];
  return {
    ...bom,
    metadata: { ...bom.metadata, component },
    components: bom.components.filter((each) => shipped.has(each['bom-ref'])).map(withLicence),
    dependencies: bom.dependencies.flatMap(({ ref, dependsOn }) => {
      if (ref === own) return [{ ref, dependsOn: [...new Set(roots)].sort() }];
      return shipped.has(ref) ? [{ ref, dependsOn: dependsOn.filter((each) => shipped.has(each)) }] : [];
    }),
  };
}

/** Packages that the console's own files import, but for files that take part in its build only. */
export function consolePackages() {
  const folder = join(root, 'console');
  const texts = readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((name) => /\.tsx?$/.test(name) && !name.includes('generated'))
    .map((name) => readFileSync(join(folder, name), 'utf8'))
    .filter((text) => !text.includes("from 'vite'"));
  const packages = texts
    .flatMap((text) => [...text.matchAll(/(?:from|import) '([^'.][^']*)'/g)])
    .map(([, specifier = '']) => specifier)
    // `node:` and what the build makes up.
    .filter((specifier) => !specifier.includes(':'))
    .map((specifier) => specifier.split('/', specifier.startsWith('@') ? 2 : 1).join('/'));
  return [...new Set(packages)].sort();
}

/**
 * @param {string[]} roots
 * @param {Bom['dependencies']} dependencies
 */
function reachable(roots, dependencies) {
  const leadsTo = new Map(dependencies.map(({ ref, dependsOn }) => [ref, dependsOn]));
  const found = new Set(roots);
  for (const ref of found) for (const next of leadsTo.get(ref) ?? []) found.add(next);
  return found;
}

/**
 * @param {Component} component
 * @returns {Component}
 */
function withLicence(component) {
  const id = component.licenses ? undefined : readLicences[component.name];
  return id === undefined ? component : { ...component, licenses: [{ license: { id } }] };
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) {
  const file = process.argv[2] ?? join(root, 'dist/sbom.cdx.json');
  const bom = sbom();
  mkdirSync(dirname(file), { recursive: true });
  writeFileSync(file, `${JSON.stringify(bom, null, 2)}\n`);
  console.log(`${bom.components.length} packages in ${file}`);
}
