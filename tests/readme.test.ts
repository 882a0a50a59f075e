import { readFileSync } from 'node:fs';
import { afterAll, expect, it } from 'vitest';
import { readResults } from '../bench/set/readResults.ts';
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

it('tells of speed what was found last', () => {
  const results = readResults('bench/results', ['replay', 'engine', 'largest', 'live']);
  const bounds = new Map(results.map(({ name, found }) => [name, found.bounds]));
  const told = [
    ...['replay', 'engine', 'largest'].map((name) => bounds.get(name)?.[0]),
    ...(bounds.get('live') ?? []).slice(0, 2),
  ];
  const rows = readme.split('\n').filter((line) => line.startsWith('| ') && line.split('|').length === 5);
  for (const bound of told)
    expect(rows.filter((row) => row.includes(`| ${bound?.measured} |`))).toHaveLength(1);
});
