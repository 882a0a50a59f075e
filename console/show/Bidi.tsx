/** Text that people wrote: in whatever direction its script runs, it does not upset the words around it. */
export function Bidi({ children }: { children: string }) {
  return <bdi>{children}</bdi>;
}
