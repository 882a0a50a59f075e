import { readFileSync } from 'node:fs';
import { afterAll, expect, it } from 'vitest';
import { brinebell, scratch } from './support/command.ts';

const readme = readFileSync('README.md', 'utf8');
const blocks = [...readme.matchAll(/```(\w+)\n([\s\S]*?)```/g)].map(([, language, text]) => ({
  language,
  text: text ?? '',
}));

const work = scratch();
afterAll(work.remove);

it('shows the fleet of real homes as the command prints it', () => {
  const out = work.folder();
  const commands = blocks
    .filter(({ language, text }) => language === 'sh' && text.includes('out/real'))
    .flatMap(({ text }) => text.trim().split('\n'))
    .map((line) => line.replace('npx brinebell ', '').replaceAll('out/real', out).split(' '));
  expect(commands).toHaveLength(2);
  const runs = commands.map((args) => brinebell(args));
  expect(runs.map(({ status }) => status)).toEqual([0, 0]);
  const shown = blocks.find(({ language }) => language === 'text')?.text ?? '';
  const printed = runs.at(-1)?.stdout ?? '';
  expect(withoutSpeed(printed.replaceAll(out, 'out/real'))).toEqual(withoutSpeed(shown));
});

/** Lines but that of elapsed time. */
function withoutSpeed(text: string): string[] {
  return text
    .trim()
    .split('\n')
    .filter((line) => !line.includes('events a second'));
}
