// What git may not do when a revision is looked at. For each entry of the list an attack is planted in a repository of the test's own:
// it works when git is called plainly, it does nothing with that one entry, and nothing of all of them runs in a review.
import { execFileSync, spawnSync } from 'node:child_process';
import { chmodSync, chownSync, existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { delimiter, join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { git as asked, BARRED, barring } from '../../server/command-line/git-barred.ts';
import { run } from '../../server/command-line/run.ts';

let root = '';
let repository = '';
let ran = '';
let evil = '';

const OWN = ['-c', 'user.name=Q', '-c', 'user.email=q@example.org', '-c', 'init.defaultBranch=main'];
/** Where the planted programs may run: git as a person calls it, of the same settings of the machine for each. */
const plainEnv = (): NodeJS.ProcessEnv => ({ ...process.env, GIT_TERMINAL_PROMPT: '0', HOME: root });

function git(folder: string, ...args: readonly string[]): string {
  return execFileSync('git', ['-C', folder, ...OWN, ...args], {
    env: plainEnv(),
    stdio: ['ignore', 'pipe', 'ignore'],
    encoding: 'utf8',
  }).trim();
}

function put(name: string, text: string, mode = 0o644): string {
  const path = join(root, name);
  mkdirSync(join(path, '..'), { recursive: true });
  writeFileSync(path, text);
  chmodSync(path, mode);
  return path;
}

beforeEach(() => {
  root = mkdtempSync(join(tmpdir(), 'fettle-git-'));
  repository = join(root, 'work');
  ran = join(root, 'ran');
  evil = put('evil.sh', `#!/bin/sh\necho "$@" >> '${ran}'\nexit 1\n`, 0o755);
  mkdirSync(repository);
  git(repository, 'init');
  put('work/block.fettle', 'part block\n');
  git(repository, 'add', '.');
  git(repository, 'commit', '-m', 'first');
  put('work/block.fettle', 'part block\n\npart sump\n');
});
afterEach(() => {
  vi.unstubAllEnvs();
  rmSync(root, { recursive: true, force: true });
});

const config = (name: string, value: string): string => git(repository, 'config', name, value);

/** Takes the committed file out of the store, and says who has it. */
function promise(folder: string, url: string, more: Readonly<Record<string, string>> = {}): void {
  const blob = git(folder, 'rev-parse', 'HEAD:block.fettle');
  const store = git(folder, 'rev-parse', '--absolute-git-dir');
  rmSync(join(store, 'objects', blob.slice(0, 2), blob.slice(2)));
  const settings = {
    'core.repositoryFormatVersion': '1',
    'extensions.partialClone': 'evil',
    'remote.evil.promisor': 'true',
    'remote.evil.url': url,
    ...more,
  };
  for (const [name, value] of Object.entries(settings)) git(folder, 'config', name, value);
}

/** A repository inside another, with a file watcher of its own. */
function inner(): void {
  const made = join(root, 'inner');
  mkdirSync(made);
  git(made, 'init');
  put('inner/pump.fettle', 'part pump\n');
  git(made, 'add', '.');
  git(made, 'commit', '-m', 'first');
  git(repository, '-c', 'protocol.file.allow=always', 'submodule', 'add', made, 'inner');
  git(repository, 'commit', '-am', 'with another');
  git(join(repository, 'inner'), 'config', 'core.fsmonitor', evil);
}

interface Attack {
  /** The entry of the list that stands against it. */
  readonly entry: string;
  readonly plant: () => void;
  /** What sets it off when git is called plainly. */
  readonly sets: readonly string[];
  readonly input?: string;
  readonly below?: string;
  /** Where the attack leaves no mark of its own: what git answers with it, which it does not with the entry. */
  readonly answers?: () => string;
}

const fetching: readonly string[] = ['cat-file', 'blob', 'HEAD:block.fettle'];
/** How often a file was made to look changed. */
let planted = 0;

const attacks: Readonly<Record<string, Attack>> = {
  'a lost object, promised by a remote whose program is ours': {
    entry: 'fetching what is missing',
    plant: () => promise(repository, `file://${repository}`, { 'remote.evil.uploadpack': evil }),
    sets: fetching,
  },
  'the same, with its protocol allowed by name': {
    entry: 'every protocol',
    plant: () =>
      promise(repository, `file://${repository}`, { 'remote.evil.uploadpack': evil, 'protocol.file.allow': 'always' }),
    sets: fetching,
  },
  'a remote that is a command': {
    entry: 'every protocol',
    plant: () => promise(repository, `ext::${evil} %S`, { 'protocol.ext.allow': 'always' }),
    sets: fetching,
  },
  'a remote over ssh, with a program for it': {
    entry: 'every protocol',
    plant: () => promise(repository, 'ssh://example.invalid/x', { 'core.sshCommand': evil }),
    sets: fetching,
  },
  'a remote of the git protocol, with a program between': {
    entry: 'every protocol',
    plant: () =>
      promise(repository, 'git://example.invalid/x', { 'core.gitProxy': evil, 'protocol.git.allow': 'always' }),
    sets: fetching,
  },
  'an address that another is put in the place of': {
    entry: 'every protocol',
    plant: () =>
      promise(repository, 'https://example.invalid/x', {
        [`url.ext::${evil} .insteadOf`]: 'https://example.invalid/',
        'protocol.ext.allow': 'always',
      }),
    sets: fetching,
  },
  'a folder that is itself a history': {
    entry: 'bare repositories that nobody named',
    plant: () => {
      git(root, 'clone', '--bare', repository, join(repository, 'engines'));
      promise(join(repository, 'engines'), `file://${repository}`, { 'remote.evil.uploadpack': evil });
    },
    sets: fetching,
    below: 'engines',
  },
  'a hook': {
    entry: 'hooks',
    plant: () => {
      for (const name of ['reference-transaction', 'post-index-change', 'post-checkout'])
        put(`work/.git/hooks/${name}`, readFileSync(evil, 'utf8'), 0o755);
    },
    sets: ['update-ref', 'refs/heads/other', 'HEAD'],
  },
  'hooks in a folder of the repository': {
    entry: 'hooks',
    plant: () => {
      put('work/hooks/post-index-change', readFileSync(evil, 'utf8'), 0o755);
      config('core.hooksPath', 'hooks');
    },
    sets: ['update-index', '--force-write-index'],
  },
  'a file watcher': { entry: 'the file watcher', plant: () => void config('core.fsmonitor', evil), sets: ['status'] },
  'settings that are taken in from a file of the repository': {
    entry: 'the file watcher',
    plant: () => {
      put('work/more.txt', `[core]\n  fsmonitor = ${evil}\n`);
      config('include.path', '../more.txt');
    },
    sets: ['status'],
  },
  'a pager': {
    entry: 'pagers',
    plant: () => void config('core.pager', evil),
    sets: ['var', 'GIT_PAGER'],
    answers: () => evil,
  },
  'a helper that is told passwords': {
    entry: 'programs that know passwords',
    plant: () => void config('credential.helper', evil),
    sets: ['credential', 'fill'],
    input: 'protocol=https\nhost=example.invalid\nusername=q\n\n',
  },
  'a program that asks for a password': {
    entry: 'questions',
    plant: () => void config('core.askPass', evil),
    sets: ['credential', 'fill'],
    input: 'protocol=https\nhost=example.invalid\nusername=q\n\n',
  },
  'a repository inside this one, with a file watcher': {
    entry: 'repositories inside this one',
    plant: inner,
    sets: ['status'],
  },
  'a command for what another store has': {
    entry: 'a command that lists what another repository has',
    plant: () => {
      const other = join(root, 'other');
      git(root, 'clone', '--bare', repository, other);
      put('work/.git/objects/info/alternates', `${join(other, 'objects')}\n`);
      config('core.alternateRefsCommand', evil);
    },
    sets: ['receive-pack', '.'],
    input: '0000',
  },
  'a program that judges signatures': {
    entry: 'signatures',
    plant: () => {
      config('log.showSignature', 'true');
      config('gpg.program', evil);
      const commit = git(repository, 'cat-file', 'commit', 'HEAD');
      const signed = commit.replace(
        '\n\n',
        '\ngpgsig -----BEGIN PGP SIGNATURE-----\n \n x\n -----END PGP SIGNATURE-----\n\n',
      );
      const file = put('signed', `${signed}\n`);
      git(repository, 'update-ref', 'HEAD', git(repository, 'hash-object', '-t', 'commit', '-w', file));
    },
    sets: ['log'],
  },
  'tidying up, with a hook before it': {
    entry: 'tidying up',
    plant: () => {
      config('gc.auto', '1');
      config('gc.autoDetach', 'false');
      put('work/.git/hooks/pre-auto-gc', readFileSync(evil, 'utf8'), 0o755);
      for (let i = 0; i < 600; i += 1) put(`work/.git/objects/17/${String(i).padStart(38, '0')}`, '');
    },
    sets: ['gc', '--auto'],
  },
  'an index that is written while it is looked at': {
    entry: 'writing the index when it looks at it',
    plant: () => {
      put('work/.git/hooks/post-index-change', readFileSync(evil, 'utf8'), 0o755);
      // Each time another day: one that the index has already would have nothing written.
      planted += 1;
      execFileSync('touch', ['-d', `2001-02-${(planted % 27) + 1}`, join(repository, 'block.fettle')]);
    },
    sets: ['status'],
  },
};

/** Whether the planted program ran, or git gave the answer that shows it. */
function setsOff({ sets, input, below = '', answers }: Attack, entries: readonly string[] = []): boolean {
  rmSync(ran, { force: true });
  const { options, env } = barring(BARRED.filter((each) => entries.includes(each.what)));
  const { stdout } = spawnSync('git', ['-C', join(repository, below), ...OWN, ...options, ...sets], {
    env: { ...(entries.length === 0 ? plainEnv() : env), HOME: root },
    input: input ?? '',
    encoding: 'utf8',
  });
  return existsSync(ran) || (answers !== undefined && stdout.trim() === answers());
}

async function review(...args: readonly string[]): Promise<{ readonly status: number; readonly said: string }> {
  let said = '';
  const say = (text: string): void => {
    said += text;
  };
  const streams = { out: say, err: say, terminal: false, folder: repository, stdin: () => Promise.resolve('') };
  return { status: await run(['review', ...args], streams, () => Promise.resolve(0)), said };
}

/** All the ways in which a review asks git. */
async function reviewed(): Promise<void> {
  await review('--git', 'HEAD', 'block.fettle');
  await review('--git', 'HEAD...HEAD', '.');
  await review('--git', 'main..HEAD', 'engines/block.fettle');
  await review('--git', 'HEAD', 'engines');
  await review('--git', 'HEAD', 'inner/pump.fettle');
}

test('every entry of the list has an attack', () => {
  const tried = new Set(Object.values(attacks).map((each) => each.entry));
  expect(BARRED.map((each) => each.what).filter((what) => !tried.has(what))).toEqual([]);
});

describe.each(Object.entries(attacks))('%s', (_name, attack) => {
  test('works in git by itself, not with its entry, and nothing runs in a review', async () => {
    attack.plant();
    expect(setsOff(attack)).toBe(true);
    expect(setsOff(attack, [attack.entry])).toBe(false);
    rmSync(ran, { force: true });
    await reviewed();
    expect(existsSync(ran) ? readFileSync(ran, 'utf8') : 'nothing ran').toBe('nothing ran');
  });
});

describe('programs that attributes of a file name', () => {
  beforeEach(() => {
    put('work/.gitattributes', '*.fettle diff=evil filter=evil merge=evil\n');
    for (const name of ['diff.evil.textconv', 'diff.evil.command', 'filter.evil.clean', 'filter.evil.smudge'])
      config(name, evil);
    config('diff.external', evil);
    config('alias.cat-file', `!${evil}`);
    config('alias.rev-parse', `!${evil}`);
  });

  test.each([
    [['diff']],
    [['cat-file', '--textconv', 'HEAD:block.fettle']],
    [['cat-file', '--filters', 'HEAD:block.fettle']],
    [['add', '.']],
  ])('git by itself runs them: %j', (sets) => {
    expect(setsOff({ entry: '', plant: () => undefined, sets })).toBe(true);
  });

  test('nothing that is asked here looks at them', async () => {
    rmSync(ran, { force: true });
    expect((await review('--git', 'HEAD', 'block.fettle')).status).toBe(1);
    await reviewed();
    expect(existsSync(ran)).toBe(false);
  });

  test.each(['diff', 'show', 'status', 'fetch', 'checkout', 'log'])('git %s is never asked', (command) => {
    expect(() => asked(repository, command)).toThrow();
  });
});

test('a folder that is itself a history is none, in a git that does not know the setting either', async () => {
  const bare = join(root, 'bare');
  git(root, 'clone', '--bare', repository, bare);
  git(bare, 'config', 'core.bare', 'false');
  git(bare, 'config', 'core.worktree', bare);
  put('bare/block.fettle', 'part block\n\npart sump\n');
  const streams = { out: () => undefined, terminal: false, folder: bare, stdin: () => Promise.resolve('') };
  let said = '';
  const err = (text: string): void => {
    said += text;
  };
  expect(await run(['review', '--git', 'HEAD', 'block.fettle'], { ...streams, err }, async () => 0)).toBe(2);
  // An empty `.git` beside it makes it look like a work tree; git then takes the folder itself.
  mkdirSync(join(bare, '.git'));
  expect(git(bare, 'rev-parse', '--absolute-git-dir')).toBe(bare);
  said = '';
  expect(await run(['review', '--git', 'HEAD', 'block.fettle'], { ...streams, err }, async () => 0)).toBe(2);
  expect(said).toContain('git does not open the history');
});

test('a work tree of its own, and a repository inside another, are compared as any', async () => {
  inner();
  const second = join(root, 'second');
  git(repository, 'worktree', 'add', second);
  put('second/block.fettle', 'part block\n\npart sump\n\npart cover\n');
  put('work/inner/pump.fettle', 'part pump\n\npart sump\n');
  expect((await review('--git', 'HEAD', join(second, 'block.fettle'))).said).toContain('cover');
  expect((await review('--git', 'HEAD', join('inner', 'pump.fettle'))).said).toContain('sump');
});

test('what is not on this disk is said, and is no change: what a clone without all objects lacks is not fetched', async () => {
  promise(repository, `file://${repository}`);
  const { status, said } = await review('--git', 'HEAD', 'block.fettle');
  expect([status, said]).toEqual([2, expect.stringContaining('is not on this disk as it was then')]);
  expect((await review('--git', 'HEAD', '.')).status).toBe(2);
});

test('a program called git that lies in the folder is not git', async () => {
  put('work/git', readFileSync(evil, 'utf8'), 0o755);
  const before = process.cwd();
  vi.stubEnv('PATH', ['.', '', 'bin', process.env['PATH'] ?? ''].join(delimiter));
  process.chdir(repository);
  try {
    expect((await review('--git', 'HEAD', 'block.fettle')).status).toBe(1);
  } finally {
    process.chdir(before);
  }
  expect(existsSync(ran)).toBe(false);
});

test('variables that name another history do not lead there', async () => {
  const other = join(root, 'elsewhere');
  mkdirSync(other);
  git(other, 'init');
  vi.stubEnv('GIT_DIR', join(other, '.git'));
  vi.stubEnv('GIT_WORK_TREE', other);
  vi.stubEnv('GIT_OBJECT_DIRECTORY', join(other, '.git', 'objects'));
  vi.stubEnv('GIT_CONFIG_PARAMETERS', `'core.worktree=${other}'`);
  expect((await review('--git', 'HEAD', 'block.fettle')).status).toBe(1);
});

// Only root can give a folder away; where another runs the tests, whom git trusts is asked of git's own settings alone.
test('whose folder it is, is held to as git holds to it', async () => {
  const isRoot = process.getuid?.() === 0;
  if (isRoot) {
    for (const path of [repository, join(repository, '.git')]) chownSync(path, 4321, 4321);
    vi.stubEnv('SUDO_UID', '');
  }
  const trusts = (): boolean =>
    spawnSync('git', ['-C', repository, 'rev-parse', 'HEAD'], { env: { ...process.env, HOME: root } }).status === 0;
  vi.stubEnv('HOME', root);
  expect(trusts()).toBe(!isRoot);
  const { status, said } = await review('--git', 'HEAD', 'block.fettle');
  expect(status).toBe(isRoot ? 2 : 1);
  if (isRoot) expect(said).toContain('git does not open the history');
});
