// What the parts above the checks ask of an analysis. analyse.ts gives it; nobody reads a spec on the side.
import type { Finding } from '../model/finding.ts';
import type { ReadFile } from '../model/placed.ts';
import type { View } from '../model/view.ts';

/** How other files are reached. `read` gives undefined where there is no such file. */
export interface Host {
  /** Resolves the path of a `use` from a file; undefined when it leaves the workspace folder. */
  resolve(from: string, path: string): string | undefined;
  read(file: string): string | undefined;
}

export interface Analysis {
  readonly file: ReadFile;
  /** Every file that it uses, directly or not, read. */
  readonly used: readonly ReadFile[];
  readonly variants: readonly string[];
  /** One view for each variant, or one without. */
  readonly views: readonly View[];
  /** The findings that stand in this file, by place. */
  readonly findings: readonly Finding[];
}
