/** In which order texts come, by their UTF-16 units: the same in every place and language. For `sort`. */
export function compareText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
