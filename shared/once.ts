/**
 * Makes something when it is first asked for, and then gives the same again. Schemas take time to make, which is most of
 * what a function of the cloud does before its first invocation; few invocations need them all.
 */
export function once<Made>(make: () => Made): () => Made {
  let made: { readonly value: Made } | undefined;
  return () => {
    made ??= { value: make() };
    return made.value;
  };
}
