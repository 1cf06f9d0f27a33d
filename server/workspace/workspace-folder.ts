// Which folder a file's `use` lines may not leave, where no editor has opened one. Where they lead is in paths.ts.
import { existsSync } from 'node:fs';
import { dirname, join } from 'node:path';

/** The nearest folder upward, the first included, that is the top of a git work tree. */
export function gitTop(folder: string): string | undefined {
  for (let at = folder; ; at = dirname(at)) {
    if (existsSync(join(at, '.git'))) return at;
    if (dirname(at) === at) return undefined;
  }
}

/**
 * The workspace folder of a file: the top of its git work tree, as an editor opens it; outside git, the folder that the command
 * was given and found the file in; else the folder that the file lies in.
 */
export function workspaceFolder(path: string, given?: string): string {
  return gitTop(dirname(path)) ?? given ?? dirname(path);
}
