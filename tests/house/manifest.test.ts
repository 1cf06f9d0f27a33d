// What package.json promises the editor is there: files, commands, pages, and pages that hold true.
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { parseSection } from '../../grammar/parse.ts';
import { cutSections } from '../../grammar/sections.ts';
import { run } from '../../server/command-line/run.ts';
import { root } from './imports.ts';

const manifest = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'));
const offered = manifest.contributes;
const commands: readonly string[] = offered.commands.map((each: { command: string }) => each.command);
const walkthrough = join(root, 'client', 'walkthrough');
const client = readdirSync(join(root, 'client'))
  .filter((name) => name.endsWith('.ts'))
  .map((name) => readFileSync(join(root, 'client', name), 'utf8'))
  .join('\n');

/** Every text in the manifest, with the way to it. */
function texts(value: unknown, way = ''): readonly (readonly [string, string])[] {
  if (typeof value === 'string') return [[way, value]];
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, inner]) => texts(inner, `${way}.${key}`));
}

test('every file that is named is there', () => {
  const paths = texts(offered)
    .map(([, text]) => text)
    .filter((text) => /^(?:\.\/)?(?:client|grammar)\//.test(text));
  expect(paths.length).toBeGreaterThan(8);
  expect([...paths, manifest.icon].filter((path) => !existsSync(join(root, path)))).toEqual([]);
});

test('every command that is offered is carried out, and the other way round', () => {
  const registered = [...client.matchAll(/registerCommand\('(fettle\.\w+)'/g)].map((found) => found[1]);
  expect([...registered].sort()).toEqual([...commands].sort());
});

test('every command that a page or a menu names exists', () => {
  const named = texts(offered).flatMap(([, text]) =>
    [...text.matchAll(/(?:command:|^)(fettle\.[a-z]\w+)\b(?!\.)/gi)].map((found) => found[1]),
  );
  expect(named.length).toBeGreaterThan(5);
  expect(named.filter((name) => name !== undefined && !commands.includes(name))).toEqual([]);
});

test('the problem matcher reads what the command prints', async () => {
  const { regexp } = offered.problemMatchers[0].pattern;
  const sample = 'samples/faults/decimal-comma.fettle';
  const lines = readFileSync(join(root, sample), 'utf8').split('\n');
  const line = lines.findIndex((text) => text.includes('9,5')) + 1;
  const printed: string[] = [];
  const streams = {
    out: (text: string) => void printed.push(text),
    err: () => undefined,
    terminal: false,
    folder: root,
    stdin: async () => '',
  };
  expect(await run(['check', sample], streams, async () => 2)).toBe(1);
  const rows = printed
    .join('')
    .split('\n')
    .flatMap((line) => new RegExp(regexp).exec(line)?.slice(1) ?? []);
  expect(rows).toEqual([
    ...[sample, String(line), '10', 'error'],
    ...[expect.stringContaining('9,5'), 'syntax/decimal-comma'],
  ]);
});

describe('the walkthrough', () => {
  test.each(readdirSync(walkthrough))('the examples of %s are read without a fault', (name) => {
    const page = readFileSync(join(walkthrough, name), 'utf8');
    const examples = [...page.matchAll(/```fettle\n(.*?)```/gs)].map((found) => found[1] ?? '');
    const faults = examples
      .flatMap((text) => cutSections(text))
      .flatMap((section) => parseSection(section, false).faults);
    expect(faults).toEqual([]);
  });

  test('names every step of its own, in order', () => {
    const pages = offered.walkthroughs[0].steps.map((step: { media: { markdown: string } }) => step.media.markdown);
    expect(pages).toEqual(readdirSync(walkthrough).map((name) => `client/walkthrough/${name}`));
  });
});
