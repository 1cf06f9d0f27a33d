// What goes out is for people who rebuild engines, and says whose it is; what is missing before it can go is told.
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { describe, expect, test } from 'vitest';
import { run } from '../../server/command-line/run.ts';
import { root } from './imports.ts';

type Settings = Readonly<Record<string, string>>;
type State = {
  readonly changed: readonly string[];
  readonly tags: readonly string[];
  readonly has: (path: string) => boolean;
  readonly changelog: string;
  readonly sizes: Readonly<Record<string, number>>;
};
type Manifest = Readonly<Record<string, unknown>> & { readonly version: string; readonly files: readonly string[] };
const {
  commandManifest,
  extensionManifest,
  missingForRelease,
  packedLinks,
}: {
  readonly commandManifest: (manifest: Manifest, settings: Settings) => Manifest;
  readonly extensionManifest: (manifest: Manifest, settings: Settings) => Manifest;
  readonly missingForRelease: (manifest: Manifest, settings: Settings, state: State) => readonly string[];
  readonly packedLinks: (text: string, packed: (path: string) => boolean, settings: Settings) => string;
} = await import(pathToFileURL(join(root, 'client', 'publishing.mjs')).href);

const manifest: Manifest = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'));
const settings: Settings = { publisher: 'quarry-lane', repository: 'https://code.example/quarry-lane/fettle' };
const nothingWrong: State = {
  changed: [],
  tags: [],
  has: () => true,
  changelog: `# Changelog\n\n## [${manifest.version}] - 2026-01-31\n\n- All of it.\n`,
  sizes: { 'dist/fettle.vsix': 900_000 },
};

describe('the manifests that go out', () => {
  test('are not private, and carry nothing of how the project is built', () => {
    for (const made of [extensionManifest(manifest, settings), commandManifest(manifest, settings)]) {
      expect(Object.keys(made)).not.toEqual(expect.arrayContaining(['private']));
      expect([made['private'], made['scripts'], made['devDependencies']]).toEqual([undefined, undefined, undefined]);
      expect(made['repository']).toEqual({ type: 'git', url: 'https://code.example/quarry-lane/fettle.git' });
      expect(made['bugs']).toEqual({ url: 'https://code.example/quarry-lane/fettle/issues' });
    }
    expect(extensionManifest(manifest, settings)['publisher']).toBe('quarry-lane');
  });

  test('say nothing of a home that nobody named', () => {
    const made = commandManifest(manifest, {});
    expect([made['repository'], made['homepage'], made['bugs']]).toEqual([undefined, undefined, undefined]);
  });

  test('name only files that are there or are made by the build', () => {
    const { files } = commandManifest(manifest, {});
    expect(files).toEqual(
      expect.arrayContaining(['dist/fettle.js', 'dist/fettle-all.js', 'dist/words-*.json', 'server/library/*.fettle']),
    );
    expect(files.filter((path) => path.includes('client'))).toEqual([]);
    const lost = files.filter((path) => !/^dist\/|\*/.test(path) && !existsSync(join(root, path)));
    expect(lost).toEqual([]);
  });
});

describe('the first page of the packed extension', () => {
  const page = readFileSync(join(root, 'client', 'extension-readme.md'), 'utf8');
  const links = (text: string) => [...text.matchAll(/\]\(([^)]+)\)/g)].map((found) => found[1]);

  test('opens with what Fettle is for, and no npm anywhere before that', () => {
    const [first = ''] = page.split('\n\n').slice(1);
    expect(first).toMatch(/^Fettle is for people who rebuild engines\./);
    expect(page).not.toContain('npm');
    expect(page).toContain('no telemetry');
  });

  test('leads nowhere but into the package or to the home that was named', () => {
    const packed = (path: string) => path === 'grammar/reference.md' || path === 'client/media/editor.png';
    const alone = links(packedLinks(page, packed, {}));
    expect(alone.length).toBeGreaterThan(0);
    expect(alone.filter((to) => !packed(to ?? ''))).toEqual([]);
    const more = `${page}\n![Another](client/media/icon.svg) and [why](DEVELOPERS.md#rules)\n`;
    const named = links(packedLinks(more, packed, settings)).filter((to) => !packed(to ?? ''));
    const home = 'https://code.example/quarry-lane/fettle';
    expect(named).toEqual([
      `${home}/raw/main/client/media/minute.gif`,
      `${home}/raw/main/client/media/icon.svg`,
      `${home}/blob/main/DEVELOPERS.md#rules`,
    ]);
    expect(packedLinks(more, packed, {})).toMatch(/ and why\n$/);
  });

  test('names files that are there', () => {
    expect(links(page).filter((to) => to !== undefined && !existsSync(join(root, to)))).toEqual([]);
  });

  test('gives the words of findings in the samples of faults', async () => {
    const printed: string[] = [];
    const streams = {
      out: (text: string) => void printed.push(text),
      err: () => undefined,
      terminal: false,
      folder: root,
      stdin: async () => '',
    };
    await run(['check', 'samples/faults'], streams, async () => 2);
    const rows = [...page.matchAll(/^\| .*? +\| (.*?) +\|$/gm)].map((found) => found[1] ?? '').slice(1);
    const answers = rows.filter((row) => !/^-+$/.test(row));
    expect(answers.length).toBeGreaterThan(4);
    const all = printed.join('');
    expect(answers.filter((answer) => !all.includes(answer))).toEqual([]);
  });
});

describe('what is missing for a release', () => {
  test('is nothing where all is there', () => {
    expect(missingForRelease(manifest, settings, nothingWrong)).toEqual([]);
  });

  test.each<[string, Settings, Partial<State>, RegExp]>([
    ['files that were not committed', settings, { changed: ['a.ts'] }, /^Not committed: a\.ts\.$/],
    ['a version that is out', settings, { tags: [`v${manifest.version}`] }, /is out already/],
    ['no heading of the version', settings, { changelog: '# Changelog\n' }, /has no heading/],
    [
      'lines that belong to no version',
      settings,
      { changelog: `## Unreleased\n\n- More.\n\n${nothingWrong.changelog}` },
      /under "Unreleased"/,
    ],
    ['nobody to publish it', { repository: settings['repository'] ?? '' }, {}, /"publisher"/],
    ['no home', { publisher: 'quarry-lane' }, {}, /"repository"/],
    ['an address that is none', { ...settings, bugs: 'mail us' }, {}, /"bugs"/],
    ['a package that was not made', settings, { sizes: {} }, /was not made/],
    ['a package that is too large', settings, { sizes: { 'dist/fettle.vsix': 1_000_001 } }, /more than 1000000/],
    ['a page that is gone', settings, { has: (path: string) => path !== 'LICENSE' }, /^LICENSE is not there\.$/],
  ])('tells %s', (_, said, differs, line) => {
    const lines = missingForRelease(manifest, said, { ...nothingWrong, ...differs });
    expect(lines).toHaveLength(1);
    expect(lines[0]).toMatch(line);
  });
});
