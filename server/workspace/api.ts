// What an analysis needs of the world round it. analyse.ts gives an Analysis; nobody reads a spec on the side.
export type { Analysis } from '../model/analysis.ts';

/** How other files are reached. `read` gives undefined where there is no such file. */
export interface Host {
  /** Resolves the path of a `use` from a file; undefined when it leaves the workspace folder. */
  resolve(from: string, path: string): string | undefined;
  read(file: string): string | undefined;
}
