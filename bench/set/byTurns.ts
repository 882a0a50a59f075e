/** One side of a comparison: what it does once a round, and what it says of it. */
export interface Side<Said> {
  readonly name: string;
  run(): Said | Promise<Said>;
}

/**
 * Lets the sides take turns, so that whatever else the machine does meets all of them. Every other round goes backwards,
 * so that none always follows the same one.
 *
 * @returns what each side said, one entry a round, under its name
 */
export async function byTurns<Said>(
  sides: readonly Side<Said>[],
  rounds: number,
  say: (line: string) => void,
): Promise<ReadonlyMap<string, readonly Said[]>> {
  const said = new Map<string, Said[]>(sides.map(({ name }) => [name, []]));
  for (let round = 0; round < rounds; round += 1) {
    for (const { name, run } of round % 2 === 0 ? sides : [...sides].reverse()) {
      say(`round ${round + 1} of ${rounds}: ${name}`);
      said.get(name)?.push(await run());
    }
  }
  return said;
}
