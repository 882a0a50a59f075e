import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fatesOf, fatesText } from './fates.ts';

/** What a teardown does things with. */
export interface TeardownParts {
  /** Runs the toolkit with arguments; gives its exit status. */
  cdk(args: readonly string[]): Promise<number>;
  say(text: string): void;
  /** Asks a question; undefined where nobody can answer. */
  ask(question: string): Promise<string | undefined>;
  /** An empty folder. */
  readonly folder: string;
}

/** Exit statuses: done; not done, as somebody wished; asked for wrongly. */
const STATUS = { done: 0, declined: 1, unusable: 2 } as const;

const USAGE = `Usage: npm run teardown -- --context stage=small [--context NAME=VALUE ...] [--yes]
  the same --context as it was deployed with; --yes asks nothing`;

const SUFFIX = '.template.json';

/**
 * Takes a deployment down: says from its templates what stays and what goes, asks, and has the toolkit do it by the same
 * templates. Returns the exit status.
 */
export async function teardown(args: readonly string[], parts: TeardownParts): Promise<number> {
  const asked = read(args);
  if (!asked) {
    parts.say(USAGE);
    return STATUS.unusable;
  }
  const { folder } = parts;
  const status = await parts.cdk(['synth', '--quiet', '--output', folder, ...asked.contexts]);
  if (status !== 0) return status;
  parts.say(fatesText(fatesOf(templatesIn(folder))));
  if (!asked.isSure) {
    const answer = await parts.ask('\nTake it down? Only "yes" does: ');
    if (answer === undefined) parts.say('Nobody is there to ask: say --yes.');
    if (answer?.trim() !== 'yes') {
      parts.say('Nothing was taken down.');
      return STATUS.declined;
    }
  }
  return parts.cdk(['destroy', '--all', '--force', '--app', folder]);
}

function read(args: readonly string[]): { contexts: string[]; isSure: boolean } | undefined {
  const contexts: string[] = [];
  let isSure = false;
  for (let at = 0; at < args.length; at += 1) {
    const value = args[at + 1];
    if (args[at] === '--yes') isSure = true;
    else if (args[at] === '--context' && value?.includes('=')) {
      contexts.push('--context', value);
      at += 1;
    } else return undefined;
  }
  return contexts.length > 0 ? { contexts, isSure } : undefined;
}

function templatesIn(folder: string): ReadonlyMap<string, unknown> {
  const files = readdirSync(folder).filter((name) => name.endsWith(SUFFIX));
  return new Map(
    files
      .sort()
      .map((name) => [name.slice(0, -SUFFIX.length), JSON.parse(readFileSync(join(folder, name), 'utf8'))]),
  );
}
