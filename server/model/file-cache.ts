// Caches by file, from reading to reading, are made here, so that all of a file is evicted when it goes. What is in them, and when it is good no
// more, is the affair of who has them.

/** More files than a workspace has; when so many are cached, all are evicted. */
const MOST_FILES = 500;

const all: Map<string, unknown>[] = [];

export interface FileCache<value> {
  get(file: string): value | undefined;
  set(file: string, value: value): void;
}

/** A map by the address of a file, for the whole run of the program. */
export function fileCache<value>(most = MOST_FILES): FileCache<value> {
  const map = new Map<string, value>();
  all.push(map);
  return {
    get: (file) => map.get(file),
    set(file, value) {
      if (map.size >= most && !map.has(file)) map.clear();
      map.set(file, value);
    },
  };
}

/** Evicts all that is cached for a file that is there no more. */
export function evictFile(file: string): void {
  for (const map of all) map.delete(file);
}

/** The files of which anything is cached. */
export function cachedFiles(): readonly string[] {
  return [...new Set(all.flatMap((map) => [...map.keys()]))];
}
