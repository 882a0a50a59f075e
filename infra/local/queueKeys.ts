import type { Instant } from '../../shared/time/instant.ts';

/** What is kept of a message: itself, how often it was handed out, or it as a dead letter. */
export type Kind = 'm' | 'r' | 'd';

const DIGITS = 16;

/** The key of a message: those of a queue and kind are next to each other, in the order of their numbers. */
export function keyOf(queue: string, kind: Kind, number: number, group = ''): string {
  return `${queue}:${kind}:${idOf(number)}:${group}`;
}

/** All keys of a queue and kind. The character after `:` is `;`. */
export function rangeOf(queue: string, kind: Kind): { gte: string; lt: string } {
  return { gte: `${queue}:${kind}:`, lt: `${queue}:${kind};` };
}

export function numberIn(key: string): number {
  const start = key.indexOf(':', key.indexOf(':') + 1) + 1;
  return Number(key.slice(start, start + DIGITS));
}

export function groupIn(key: string): string {
  const start = key.indexOf(':', key.indexOf(':') + 1) + 1;
  return key.slice(start + DIGITS + 1);
}

export function idOf(number: number): string {
  return String(number).padStart(DIGITS, '0');
}

/** A message's number after `last`: it tells when the message was sent, and a millisecond has a thousand. */
export function numberAt(now: Instant, last: number): number {
  return Math.max(last + 1, Math.floor(now) * 1000);
}

export function sentAtOf(number: number): Instant {
  return Math.floor(number / 1000);
}
