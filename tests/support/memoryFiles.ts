import type { ArchiveFiles } from '../../lib/archive/files.ts';

/** Files of an archive that forgets, and how often each was put. */
export function memoryFiles(): ArchiveFiles & { readonly puts: Map<string, number> } {
  const contents = new Map<string, Uint8Array>();
  const puts = new Map<string, number>();
  return {
    puts,
    async put(path, content) {
      contents.set(path, typeof content === 'string' ? new TextEncoder().encode(content) : content.slice());
      puts.set(path, (puts.get(path) ?? 0) + 1);
    },
    list: async (prefix) => [...contents.keys()].filter((path) => path.startsWith(prefix)).sort(),
    async open(path) {
      const content = contents.get(path);
      if (!content) throw new Error(`there is no ${path}`);
      return {
        byteLength: content.length,
        slice: async (start, end) => new Uint8Array(content.slice(start, end)).buffer,
      };
    },
    async drop(paths) {
      for (const path of paths) contents.delete(path);
    },
  };
}
