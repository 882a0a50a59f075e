/**
 * A text as one line: whatever breaks a line, controls a terminal or turns the direction of writing is a space. So
 * nothing that came with the data can begin a header or a line of its own.
 */
export function oneLine(text: string): string {
  return text.replace(/[\s\p{C}]+/gu, ' ').trim();
}
