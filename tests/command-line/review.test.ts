// `fettle review` as a shop runs it: two files, two folders, a git history, in every form.
import { execFileSync } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { run } from '../../server/command-line/run.ts';

const spec = readFileSync(join(import.meta.dirname, '../model/brindle-four.fettle'), 'utf8');
const tightened = spec.replace('torque 30 N.m, 60 N.m', 'torque 30 N.m, 65 N.m');
const reworded = spec.replace('Keep it level', 'Hold it level');

let folder = '';
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'fettle-test-'));
});
afterEach(() => {
  rmSync(folder, { recursive: true, force: true });
});

async function fettle(...args: readonly string[]): Promise<{ status: number; out: string; err: string }> {
  let [out, err] = ['', ''];
  const status = await run(
    args,
    {
      out: (text) => {
        out += text;
      },
      err: (text) => {
        err += text;
      },
      ...{ terminal: false, progress: false, folder, stdin: () => Promise.resolve('') },
    },
    () => Promise.resolve(0),
  );
  return { status, out, err };
}

function write(name: string, text: string): void {
  mkdirSync(join(folder, name, '..'), { recursive: true });
  writeFileSync(join(folder, name), text);
}

describe('two files', () => {
  beforeEach(() => {
    write('old.fettle', spec);
    write('new.fettle', tightened);
  });

  test('what is critical comes first, with both figures and by how much, and the exit status is 1', async () => {
    const { status, out } = await fettle('review', 'old.fettle', 'new.fettle');
    expect(status).toBe(1);
    expect(out).toContain('torque stage 2 was 60 N.m, is now 65 N.m: 5 N.m more (8.3 %).');
    expect(out).toContain('1 change: 1 critical.');
    expect(out).toContain("The maker's manual, local rules and licensed practice come first.");
  });

  test('json places both sides by line and column', async () => {
    const { out } = await fettle('review', 'old.fettle', 'new.fettle', '--format', 'json');
    const line = spec.split('\n').findIndex((each) => each.includes('torque 30 N.m')) + 1;
    const place = { start: { line, column: 3 }, end: { line, column: 40 } };
    expect(JSON.parse(out)).toEqual({
      changes: [
        {
          ...{ what: 'fastener.head-bolt.torque', kind: 'changed', weight: 'critical' },
          ...{ old: 'torque 30 N.m, 60 N.m, 90 deg, 90 deg', new: 'torque 30 N.m, 65 N.m, 90 deg, 90 deg' },
          message: 'Fastener head-bolt: torque stage 2 was 60 N.m, is now 65 N.m: 5 N.m more (8.3 %).',
          oldPlace: { file: 'old.fettle', ...place },
          newPlace: { file: 'new.fettle', ...place },
        },
      ],
    });
  });

  test('wording alone, or nothing, is exit status 0', async () => {
    write('new.fettle', reworded);
    const { status, out } = await fettle('review', 'old.fettle', 'new.fettle');
    expect([status, out.includes('1 of wording.')]).toEqual([0, true]);
    expect((await fettle('review', 'old.fettle', 'old.fettle')).status).toBe(0);
  });

  test('the output goes to a file, never over a spec', async () => {
    const { status, out } = await fettle(
      'review',
      'old.fettle',
      'new.fettle',
      '--format',
      'html',
      '--output',
      'page.html',
    );
    expect([status, out]).toEqual([1, 'page.html\n']);
    expect(readFileSync(join(folder, 'page.html'), 'utf8')).toContain('<!DOCTYPE html>');
    expect((await fettle('review', 'old.fettle', 'new.fettle', '--output', 'new.fettle')).status).toBe(2);
    expect(readFileSync(join(folder, 'new.fettle'), 'utf8')).toBe(tightened);
  });

  test('what can not be done is exit status 2, with one line', async () => {
    for (const args of [
      ['old.fettle'],
      ['old.fettle', 'missing.fettle'],
      ['old.fettle', '.'],
      ['old.fettle', 'new.fettle', 'old.fettle'],
      ['old.fettle', 'new.fettle', '--format', 'paper'],
    ]) {
      const { status, out, err } = await fettle('review', ...args);
      expect([status, out, err.trim().split('\n').length]).toEqual([2, '', 1]);
    }
  });
});

test('folders are paired by relative paths; a file without another side is said', async () => {
  write('a/engines/four.fettle', spec);
  write('a/gone.fettle', 'part block\n');
  write('b/engines/four.fettle', tightened);
  write('b/fresh.fettle', 'part block\n');
  const { status, out } = await fettle('review', 'a', 'b', '--format', 'json');
  const { changes } = JSON.parse(out) as { changes: { what: string; kind: string }[] };
  expect(status).toBe(1);
  expect(changes.map((each) => `${each.kind} ${each.what}`)).toEqual([
    'changed fastener.head-bolt.torque',
    'added file',
    'removed file',
  ]);
});

test('format --print gives git the layout to compare, and leaves the file alone', async () => {
  const crowded = spec.replaceAll(/\n +/g, '\n');
  write('crowded.fettle', crowded);
  expect(await fettle('format', '--print', 'crowded.fettle')).toEqual({ status: 0, out: spec, err: '' });
  expect(readFileSync(join(folder, 'crowded.fettle'), 'utf8')).toBe(crowded);
  expect((await fettle('format', '--print', 'crowded.fettle', 'crowded.fettle')).status).toBe(2);
});

describe('git', () => {
  const git = (...args: readonly string[]): void => {
    execFileSync('git', ['-C', folder, '-c', 'user.name=Q', '-c', 'user.email=q@example.org', ...args], {
      stdio: 'ignore',
    });
  };
  const commit = (): void => {
    git('add', '.');
    git('commit', '-m', 'next');
  };
  const uses = (text: string): string =>
    `use "bolts.fettle"\n\n${text.replace(/fastener head-bolt x10 \{[^}]*\}\n/, '')}`;
  const bolts = /fastener head-bolt x10 \{[^}]*\}\n/.exec(spec)?.[0] ?? '';

  beforeEach(() => {
    git('init');
    write('engine four.fettle', spec);
    commit();
    write('engine four.fettle', tightened);
  });

  test('a revision against the file as it stands, and two revisions', async () => {
    expect((await fettle('review', '--git', 'HEAD', 'engine four.fettle')).out).toContain('60 N.m, is now 65 N.m');
    commit();
    expect((await fettle('review', '--git', 'HEAD', 'engine four.fettle')).status).toBe(0);
    const { status, out } = await fettle('review', '--git', 'HEAD~1..HEAD', 'engine four.fettle', '--format', 'json');
    expect(status).toBe(1);
    expect(JSON.parse(out).changes[0].oldPlace.file).toBe('HEAD~1:engine four.fettle');
    expect((await fettle('review', '--git', 'HEAD..HEAD~1', '.')).out).toContain('65 N.m, is now 60 N.m');
  });

  test('what a file uses is read from the same revision', async () => {
    write('engine four.fettle', uses(spec));
    write('bolts.fettle', bolts);
    commit();
    write('bolts.fettle', bolts.replace('60 N.m', '65 N.m'));
    const { out } = await fettle('review', '--git', 'HEAD', 'engine four.fettle');
    expect(out).toContain('torque stage 2 was 60 N.m, is now 65 N.m');
    expect(out).toContain('1 change:');
  });

  test('a name that begins with a hyphen is never an option of git', async () => {
    for (const name of ['--output=stolen', '-h', '--output=stolen..HEAD', 'HEAD..--output=stolen', 'nowhere']) {
      const { status, out } = await fettle('review', `--git=${name}`, 'engine four.fettle');
      expect([name, status, out]).toEqual([name, 2, '']);
    }
    expect(existsSync(join(folder, 'stolen'))).toBe(false);
  });

  test('outside git, and for a file that was never there, it says what to do', async () => {
    expect((await fettle('review', '--git', 'HEAD', 'never.fettle')).status).toBe(2);
    const { status, err } = await fettle('review', '--git', 'HEAD', '/');
    expect(status).toBe(2);
    expect(err).toContain('lies in no git folder');
  });
});
