import { writeFile } from 'node:fs/promises';
import { CommandError, reasonOf } from './errors.ts';

/**
 * Writes a file that was asked for by an option.
 *
 * @param option its name, as `--json`
 * @throws CommandError `output-unusable`
 */
export async function writeText(path: string, text: string, option: string): Promise<void> {
  try {
    await writeFile(path, text);
  } catch (error) {
    throw new CommandError(
      'output-unusable',
      `cannot write to ${path}: ${reasonOf(error)}`,
      `Choose a file for ${option} that you may write to.`,
    );
  }
}
