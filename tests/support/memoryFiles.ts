import type { ArchiveFiles } from '../../lib/archive/files.ts';

/** Files that are gone afterwards. What is asked of them is counted. */
export function memoryFiles() {
  const kept = new Map<string, Uint8Array>();
  const asked = { put: 0, opened: 0, bytesRead: 0 };
  const files: ArchiveFiles = {
    async put(path, content) {
      asked.put += 1;
      kept.set(path, typeof content === 'string' ? new TextEncoder().encode(content) : content.slice());
    },
    async list(prefix) {
      return [...kept.keys()].filter((path) => path.startsWith(prefix)).sort();
    },
    async open(path) {
      const content = kept.get(path);
      if (!content) throw new Error(`there is no ${path}`);
      asked.opened += 1;
      return {
        byteLength: content.length,
        async slice(start, end = content.length) {
          asked.bytesRead += end - start;
          return content.slice(start, end).buffer;
        },
      };
    },
    async drop(paths) {
      for (const path of paths) kept.delete(path);
    },
  };
  return { files, kept, asked, text: (path: string) => new TextDecoder().decode(kept.get(path)) };
}
