import type { ReactNode, Ref } from 'react';

interface ScrollsProps {
  /** What is in it: whoever comes to it by keys hears this. */
  readonly name: string;
  readonly className: string | undefined;
  readonly ref?: Ref<HTMLElement>;
  readonly children: ReactNode;
}

/** A part of a page that scrolls by itself; keys reach it, and the arrows then scroll it. */
export function Scrolls({ name, className, ref, children }: ScrollsProps) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reached by keys (axe: scrollable-region-focusable).
    <section ref={ref} className={className} aria-label={name} tabIndex={0}>
      {children}
    </section>
  );
}
