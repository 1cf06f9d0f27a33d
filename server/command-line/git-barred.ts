// The one way to git, and the one list of what git may not do there. A repository comes from strangers too: its own settings can name
// programs that git runs, and places that it fetches from. Here it reads what lies on this disk, and runs nothing.

import { execFileSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { devNull } from 'node:os';
import { delimiter, dirname, isAbsolute } from 'node:path';
import { told } from '../../grammar/told.ts';
import { LARGEST } from '../workspace/disk.ts';
import { CannotDo } from './streams.ts';

/** One thing that git may not do: the settings that outweigh the repository's own, and what is set round it. */
export interface Barred {
  readonly what: string;
  readonly options?: readonly string[];
  readonly settings?: Readonly<Record<string, string>>;
  readonly env?: Readonly<Record<string, string>>;
}

/** Each of these is enough by itself, where git knows it. Which attack each stands against is in tests/command-line/git-barred.test.ts. */
export const BARRED: readonly Barred[] = [
  // A lost object is fetched from the remote that promised it, by a program that the repository names. Since git 2.39.4.
  { what: 'fetching what is missing', env: { GIT_NO_LAZY_FETCH: '1' } },
  // In every git, of every protocol: ext, file, ssh, git, http, helpers. The list of those that may be is empty, and no setting adds to it.
  { what: 'every protocol', env: { GIT_ALLOW_PROTOCOL: '' }, settings: { 'protocol.allow': 'never' } },
  // An ordinary folder of a repository can be a git directory of its own, with settings of its own. Since git 2.38.
  { what: 'bare repositories that nobody named', settings: { 'safe.bareRepository': 'explicit' } },
  { what: 'hooks', settings: { 'core.hooksPath': devNull } },
  { what: 'the file watcher', settings: { 'core.fsmonitor': 'false' } },
  { what: 'pagers', options: ['--no-pager'], env: { GIT_PAGER: 'cat' } },
  { what: 'programs that know passwords', settings: { 'credential.helper': '' } },
  { what: 'questions', env: { GIT_ASKPASS: '', SSH_ASKPASS: '', GIT_TERMINAL_PROMPT: '0' } },
  {
    what: 'repositories inside this one',
    settings: { 'submodule.recurse': 'false', 'diff.ignoreSubmodules': 'all' },
  },
  // `true` is a word of the shell that it is given to.
  { what: 'a command that lists what another repository has', settings: { 'core.alternateRefsCommand': 'true' } },
  { what: 'signatures', settings: { 'log.showSignature': 'false' } },
  { what: 'tidying up', settings: { 'gc.auto': '0', 'maintenance.auto': 'false' } },
  { what: 'writing the index when it looks at it', env: { GIT_OPTIONAL_LOCKS: '0' } },
];

/** All that is asked of git. None of these looks at attributes, so that no filter, no textconv and no diff program is run. */
const ASKED: ReadonlySet<string> = new Set(['rev-parse', 'merge-base', 'cat-file', 'ls-tree']);

/** Of git's own variables, those that say whom the user trusts and where the user's settings lie. What would lead it to another history goes. */
const KEPT = /^GIT_(?:CEILING_DIRECTORIES|DISCOVERY_ACROSS_FILESYSTEM|EXEC_PATH|CONFIG_(?!PARAMETERS$).*)$/i;

/** A program is found where the user's path leads, never in the folder that is being looked at. */
function pathAlone(path: string): string {
  return path
    .split(delimiter)
    .filter((folder) => isAbsolute(folder))
    .join(delimiter);
}

/** How git is called: the arguments before the command, and what is round it. */
export function barring(barred: readonly Barred[]): {
  readonly options: readonly string[];
  readonly env: Readonly<Record<string, string>>;
} {
  const env = new Map<string, string>();
  for (const [name, value] of Object.entries(process.env)) {
    if (value === undefined || (/^GIT_/i.test(name) && !KEPT.test(name))) continue;
    env.set(name, /^path$/i.test(name) ? pathAlone(value) : value);
  }
  const settings = barred.flatMap((each) => Object.entries(each.settings ?? {}));
  return {
    options: [
      ...barred.flatMap((each) => each.options ?? []),
      ...settings.flatMap(([name, value]) => ['-c', `${name}=${value}`]),
    ],
    env: Object.assign(Object.fromEntries(env), ...barred.map((each) => each.env ?? {})),
  };
}

/** Longer than any answer takes. In milliseconds. */
const LONGEST = 60_000;

/** What git answers in a folder; undefined where it says no. Throws CannotDo where there is no git, or it never answers. */
export function git(folder: string, command: string, ...args: readonly string[]): Buffer | undefined {
  if (!ASKED.has(command)) throw new Error(`git ${command} is not among what may be asked of git`);
  const { options, env } = barring(BARRED);
  try {
    return execFileSync('git', ['-C', folder, '--literal-pathspecs', ...options, command, ...args], {
      // Windows looks for a program in the folder that it is called from, before it looks along the path.
      cwd: dirname(process.execPath),
      ...{ maxBuffer: 4 * LARGEST, windowsHide: true, timeout: LONGEST, killSignal: 'SIGKILL', env },
      stdio: ['ignore', 'pipe', 'ignore'],
    });
  } catch (error) {
    const { code } = error as { readonly code?: string };
    if (code === 'ENOENT' && existsSync(folder))
      throw new CannotDo(told`git was not found. Install git, or compare two files without --git.`);
    if (code === 'ETIMEDOUT') throw new CannotDo(told`git gave no answer. Compare two files without --git.`);
    return undefined;
  }
}
