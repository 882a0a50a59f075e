import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { consoleHeaders, PLOT_STYLE_HASH } from '../../console/csp.ts';

const sourceOf = (name: string) =>
  readFileSync(new URL(`../../node_modules/@observablehq/plot/src/${name}`, import.meta.url), 'utf8');

test('the style that is allowed is the one that Plot puts into its figures', () => {
  const style = /append\("style"\)\.text\(\s*`([^`]+)`/.exec(sourceOf('plot.js'))?.[1] ?? '';
  const className = /defaultClassName = "([^"]+)"|return "(plot-[^"]+)"/
    .exec(sourceOf('style.js'))
    ?.slice(1)
    .find(Boolean);
  const text = style.replaceAll(/\$\{className\}/g, className ?? '');
  expect(text).toContain(':where(.plot-');
  expect(PLOT_STYLE_HASH).toBe(`sha256-${createHash('sha256').update(text).digest('base64')}`);
});

test('nothing inline and nothing from elsewhere is allowed', () => {
  const policy = consoleHeaders({ connect: ['https://issuer.example'] })['content-security-policy'] ?? '';
  expect(policy).not.toMatch(/unsafe|\*|http:/);
  expect(policy.match(/https:[^ ;]+/g)).toEqual(['https://issuer.example']);
  expect(policy).toContain("default-src 'none'");
  expect(policy).toContain(`style-src 'self' '${PLOT_STYLE_HASH}'`);
});
