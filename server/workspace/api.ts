// What an analysis needs of the world round it. analyse.ts gives an Analysis; nobody reads a spec on the side.
import type { Written } from '../../grammar/written.ts';

export type { Analysis } from '../model/analysis.ts';

/** How other files are reached. `read` gives undefined where there is no such file. */
export interface Host {
  /** Resolves the path of a `use` from a file; undefined when it leaves the workspace folder. */
  resolve(from: string, path: string): string | undefined;
  read(file: string): string | undefined;
  /** The same in pieces, for who holds texts so. */
  readWritten?(file: string): Written | undefined;
  /**
   * Nobody looks at the earlier analyses of this file any more: what an edit left alone is moved where it stands. Set by who holds
   * open texts; others get analyses that stay as they are.
   */
  readonly supersedes?: boolean;
  /** Nobody edits the file, and it is checked for the first time: what is found is kept, and not how it was found. */
  readonly atRest?: boolean;
  /** Is told of each fault of Fettle itself, for a log; the analysis has it as a finding. */
  tellFault?(error: unknown): void;
}
