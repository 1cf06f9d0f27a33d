// What is kept for a file from reading to reading is kept in maps made here, so that all of it goes when the file does. What it is, and
// when it is good no more, is the affair of who keeps it.

/** More files than a workspace has; when so many are kept, all are let go of. */
const MOST_FILES = 500;

const all: Map<string, unknown>[] = [];

export interface KeptByFile<value> {
  get(file: string): value | undefined;
  set(file: string, value: value): void;
}

/** A map by the address of a file, for the whole run of the program. */
export function keptByFile<value>(most = MOST_FILES): KeptByFile<value> {
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

/** Lets go of all that is kept for a file that is there no more. */
export function letGoOf(file: string): void {
  for (const map of all) map.delete(file);
}

/** The files of which anything is kept. */
export function filesKept(): readonly string[] {
  return [...new Set(all.flatMap((map) => [...map.keys()]))];
}
