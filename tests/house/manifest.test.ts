// What package.json promises the editor is there: files, commands, pages, and pages that hold true.
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { describe, expect, test } from 'vitest';
import { languagesIn } from '../../client/translations.mjs';
import { parseSection } from '../../grammar/parse.ts';
import { cutSections } from '../../grammar/sections.ts';
import { run } from '../../server/command-line/run.ts';
import { firstSpec } from '../../server/features/first-spec.ts';
import { analyse } from '../../server/workspace/analyse.ts';
import { root } from './imports.ts';

const manifest = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'));
const offered = manifest.contributes;
const commands: readonly string[] = offered.commands.map((each: { command: string }) => each.command);
const walkthrough = join(root, 'client', 'walkthrough');
const everyPage = readdirSync(walkthrough).filter((name) => name.endsWith('.md'));
// Those of another language have it in their name, where an editor looks for them.
const pagesOfIt = everyPage.filter((name) => !name.includes('.nls.'));
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

describe('the texts that the packed extension carries apart', () => {
  type Taken = { readonly manifest: object; readonly texts: Readonly<Record<string, string>> };
  const taking = async (): Promise<{
    readonly takeTexts: (manifest: object) => Taken;
    readonly putTexts: (manifest: object, texts: Taken['texts']) => object;
  }> => import(pathToFileURL(join(root, 'client', 'manifest-texts.mjs')).href);
  const keyIn = (text: string): string | undefined => /^%(.+)%$/.exec(text)?.[1];

  test('each key has its text, each text its key, and put back they are the manifest as it stands', async () => {
    const { takeTexts, putTexts } = await taking();
    const taken = takeTexts(manifest);
    const keys = texts(taken.manifest).flatMap(([, text]) => keyIn(text) ?? []);
    expect([...keys].sort()).toEqual(Object.keys(taken.texts).sort());
    expect(JSON.stringify(putTexts(taken.manifest, taken.texts))).toBe(JSON.stringify(manifest));
  });

  test('whatever has blanks in it and is shown is among them', async () => {
    const { takeTexts } = await taking();
    const left = texts((takeTexts(manifest).manifest as typeof manifest).contributes)
      .filter(
        ([way, text]) => text.includes(' ') && !/\.(?:when|key|mac|aliases\.\d|regexp|completionEvents\.\d)$/.test(way),
      )
      .map(([way]) => way);
    expect(left).toEqual([]);
    expect(takeTexts(manifest).texts).toMatchObject({
      'commands.fettle.newSpec.title': 'New engine spec',
      'walkthroughs.firstSpec.steps.add.title': 'Add a part and its bolts',
    });
  });
});

/** The examples of one page of the walkthrough. */
function examplesOf(page: string): readonly string[] {
  const text = readFileSync(join(walkthrough, page), 'utf8');
  return [...text.matchAll(/```fettle\n(.*?)```/gs)].map((found) => found[1] ?? '');
}

/** A step may only stand in a sequence. */
function faultsIn(example: string): readonly unknown[] {
  const text = example.startsWith('step ') ? `sequence work {\n${example}}\n` : example;
  return cutSections(text).flatMap((section) =>
    [section, ...section.children].flatMap((each) => parseSection(each, each !== section).faults),
  );
}

describe('the walkthrough', () => {
  test.each(languagesIn(root))('is there in %s, with the examples and pictures of the English pages', (language) => {
    const picturesOf = (name: string): readonly string[] =>
      [...readFileSync(join(walkthrough, name), 'utf8').matchAll(/\]\(([^)]+)\)/g)].map((found) => found[1] ?? '');
    for (const name of pagesOfIt) {
      const own = name.replace('.md', `.nls.${language}.md`);
      expect(everyPage).toContain(own);
      expect(examplesOf(own)).toEqual(examplesOf(name));
      expect(picturesOf(own)).toEqual(picturesOf(name));
    }
  });

  test.each(everyPage)('the examples of %s are read without a fault', (name) => {
    expect(examplesOf(name).flatMap(faultsIn)).toEqual([]);
  });

  test('names every step of its own, in order', () => {
    const pages = offered.walkthroughs[0].steps.map((step: { media: { markdown: string } }) => step.media.markdown);
    expect(pages).toEqual(pagesOfIt.map((name) => `client/walkthrough/${name}`));
  });

  test('leads where it says: a pump that nothing fits, worth knowing in a draft and an error after it, then fitted', () => {
    const findings = (text: string) =>
      analyse('file:///shop/first.fettle', text, { resolve: () => undefined, read: () => undefined }).findings.map(
        ({ code, severity }) => `${severity} ${code}`,
      );
    const first = firstSpec('first', { cylinders: 4, layout: 'inline' }).replace('  # firing-order', '  firing-order');
    const [pump] = examplesOf('4-add.md');
    const [step] = examplesOf('5-check.md');
    const added = `${first}\n${pump}`;
    const whole = added.replace(/^ {2}draft\n/m, '');
    const fitted = whole.replace(/ {2}step fit-sump \{.*?\n {2}\}\n/s, step ?? '');
    expect([whole, fitted]).not.toContain(added);
    expect(fitted).toContain('fit oil-pump onto block');
    expect(findings(first)).toEqual([]);
    expect(findings(added)).toEqual(['information sequence/never-fitted']);
    expect(findings(whole)).toEqual(['error sequence/never-fitted']);
    expect(findings(fitted)).toEqual([]);
  });
});
