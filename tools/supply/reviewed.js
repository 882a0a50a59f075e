// What somebody has looked at, and what is therefore let in. tests/tools/supply.test.ts holds the lockfile against it.

/** Licences under which code and fonts may be handed on with ours, by their SPDX expression. */
export const LICENCES = [
  '0BSD',
  'Apache-2.0',
  'Apache-2.0 AND BSL-1.0',
  'BSD-2-Clause',
  'BSD-3-Clause',
  'ISC',
  'MIT',
  'MIT-0',
  '(MIT OR CC0-1.0)',
  // Fonts: may be embedded and handed on, not sold by themselves.
  'OFL-1.1',
  // Given to the public.
  'Unlicense',
];

/** Licences of packages whose manifest names none, read in their LICENSE file. */
export const READ_LICENCES = {
  'png-js': 'MIT',
};

/** Packages that run something when they are installed, and what. No other may. */
export const INSTALL_SCRIPTS = {
  'classic-level': 'node-gyp-build: takes the built database that comes with it, or compiles that',
  esbuild: 'checks that the binary of this platform starts',
};
