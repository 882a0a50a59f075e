import { type KeyboardEvent, type RefObject, useCallback } from 'react';
import type { Row } from './rows.ts';

const A_SCREEN = 8;

/**
 * Keys while the focus is within a row: they go from unit to unit, and open its acts. A key does something only there,
 * so none of them is in the way of anybody's own (WCAG 2.1, 2.1.4).
 */
export function useRowKeys(
  body: RefObject<HTMLElement | null>,
  rows: readonly Row[],
  scrollTo: (index: number) => void,
) {
  return useCallback(
    (event: KeyboardEvent<HTMLElement>) => {
      const { key, target, ctrlKey, metaKey, altKey } = event;
      if (ctrlKey || metaKey || altKey || !(target instanceof HTMLElement)) return;
      const row = target.closest<HTMLElement>('[data-index]');
      if (!row) return;
      if (key.toLowerCase() === 'a') {
        event.preventDefault();
        row.querySelector('button')?.click();
        return;
      }
      const next = nextIndex(key, Number(row.dataset.index), rows.length - 1);
      if (next === undefined) return;
      event.preventDefault();
      const selector = target.tagName === 'BUTTON' ? 'button' : 'a';
      if (focusIn(body.current, next, selector)) return;
      scrollTo(next);
      focusSoon(body, next, selector);
    },
    [body, rows, scrollTo],
  );
}

function nextIndex(key: string, index: number, last: number): number | undefined {
  const steps: Readonly<Record<string, number>> = {
    ArrowDown: index + 1,
    ArrowUp: index - 1,
    PageDown: index + A_SCREEN,
    PageUp: index - A_SCREEN,
    Home: 0,
    End: last,
  };
  const next = steps[key];
  return next === undefined ? undefined : Math.min(Math.max(next, 0), last);
}

/** Puts the focus into a row. False if it is not in the page. */
function focusIn(body: HTMLElement | null, index: number, selector: string): boolean {
  const found = body?.querySelector<HTMLElement>(`[data-index="${index}"] ${selector}`);
  found?.focus();
  return found !== undefined && found !== null;
}

/** A row that was out of sight comes into the page a frame or two after the scrolling. */
function focusSoon(body: RefObject<HTMLElement | null>, index: number, selector: string, tries = 20): void {
  if (tries === 0) return;
  requestAnimationFrame(() => {
    if (!focusIn(body.current, index, selector)) focusSoon(body, index, selector, tries - 1);
  });
}
