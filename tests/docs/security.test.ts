import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';

const text = readFileSync('docs/security.md', 'utf8');
const proofs = [...text.matchAll(/`(tests\/[^`]+)` "([^"]+)"/g)].map(([, file = '', title = '']) => ({
  file,
  title,
}));
/** The rows of its tables: threat, control, proof, what remains. */
const rows = [...text.matchAll(/^\| (?!---|threat )(.*) \|$/gm)].map(([, row = '']) =>
  row.split(' | ').map((cell) => cell.trim()),
);

describe('the threat model', () => {
  it('tells of each actor', () => {
    const headings = [...text.matchAll(/^## (.*)$/gm)].map(([, heading]) => heading);
    for (const actor of ['Meter', 'Gateway', 'Tenant', 'Person', 'Household', 'Insider', 'Supply chain']) {
      expect(headings.filter((heading) => heading?.startsWith(actor))).toHaveLength(1);
    }
    expect(rows.length).toBeGreaterThan(50);
  });

  it('has for each threat a proof, or says that there is none and what remains', () => {
    for (const [threat = '', , proof = '', remains = ''] of rows) {
      const isProved = /`tests\/[^`]+` "[^"]+"/.test(proof);
      const isTold = proof.startsWith('no test') && /\*\*(high|medium|low)\*\*/.test(remains);
      expect([threat, isProved || isTold]).toEqual([threat, true]);
    }
  });

  it('names tests that there are', () => {
    expect(proofs.length).toBeGreaterThan(50);
    // Tests of the cloud's stacks stand beside those: there is nothing to prove where there are none.
    const hasCloud = existsSync('infra/aws/app.ts');
    const missing = proofs.filter(({ file, title }) => {
      if (!hasCloud && file.startsWith('tests/infra/aws/')) return false;
      return !existsSync(file) || !isTitleIn(readFileSync(file, 'utf8'), title);
    });
    expect(missing).toEqual([]);
  });
});

/** Whether a test of that very title stands in a file. */
function isTitleIn(source: string, title: string): boolean {
  return [`'${title}'`, `"${title}"`, `\`${title}\``].some(
    (quoted) =>
      source.includes(`it(${quoted}`) || source.includes(`test(${quoted}`) || isOnItsOwnLine(source, quoted),
  );
}

/** Where the formatter broke the line behind `it(` or `it.each(...)(`. */
function isOnItsOwnLine(source: string, quoted: string): boolean {
  return source.split('\n').some((line) =>
    line
      .trim()
      .replace(/^it\.each\(.*\)\(/, '')
      .startsWith(`${quoted},`),
  );
}
