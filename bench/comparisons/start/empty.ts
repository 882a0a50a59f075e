/** A function that does nothing: the least that any takes to start. */
export const handler = async (event: unknown) => event;
