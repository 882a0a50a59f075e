/** Something that is made when it is first asked for, and then kept; where that fails it is tried again the next time. */
export function later<Made>(make: () => Promise<Made>): () => Promise<Made> {
  let made: Promise<Made> | undefined;
  return () => {
    made ??= make().catch((error) => {
      made = undefined;
      throw error;
    });
    return made;
  };
}
