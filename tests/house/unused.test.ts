// No circle of imports, nothing exported that nobody imports, and no package that nobody uses: what is there is needed.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import ts from 'typescript';
import { expect, test } from 'vitest';
import { importsOf, root, sourcesBelow } from './imports.ts';

const ours = ['grammar', 'server', 'client'].flatMap(sourcesBelow);
const all = [...ours, ...sourcesBelow('tests')];

/** A way of imports that comes back to where it began, or undefined where there is none. */
function circleIn(edges: ReadonlyMap<string, readonly string[]>): readonly string[] | undefined {
  const done = new Set<string>();
  const way: string[] = [];
  const from = (file: string): readonly string[] | undefined => {
    if (way.includes(file)) return [...way.slice(way.indexOf(file)), file];
    if (done.has(file)) return undefined;
    way.push(file);
    for (const next of edges.get(file) ?? []) {
      const circle = from(next);
      if (circle !== undefined) return circle;
    }
    way.pop();
    done.add(file);
    return undefined;
  };
  for (const file of edges.keys()) {
    const circle = from(file);
    if (circle !== undefined) return circle;
  }
  return undefined;
}

test('a circle is found', () => {
  const edges = (rows: readonly (readonly [string, readonly string[]])[]) => new Map(rows);
  expect(
    circleIn(
      edges([
        ['a', ['b', 'c']],
        ['b', ['c']],
        ['c', ['d']],
        ['d', ['b']],
      ]),
    ),
  ).toEqual(['b', 'c', 'd', 'b']);
  expect(
    circleIn(
      edges([
        ['a', ['b', 'c']],
        ['b', ['c']],
        ['c', []],
      ]),
    ),
  ).toBeUndefined();
});

test('imports run in no circle', () => {
  const edges = new Map(ours.map((file) => [file, importsOf(file).flatMap((each) => (each.ours ? [each.of] : []))]));
  expect(edges.size).toBeGreaterThan(300);
  expect(circleIn(edges)).toBeUndefined();
});

/** The functions and values that a file exports by name. */
function exportedBy(file: string): readonly string[] {
  const source = ts.createSourceFile(file, readFileSync(join(root, file), 'utf8'), ts.ScriptTarget.Latest, false);
  return source.statements.flatMap((statement) => {
    if (!ts.canHaveModifiers(statement)) return [];
    if (!ts.getModifiers(statement)?.some(({ kind }) => kind === ts.SyntaxKind.ExportKeyword)) return [];
    if (ts.isFunctionDeclaration(statement) || ts.isClassDeclaration(statement)) return statement.name?.text ?? [];
    if (!ts.isVariableStatement(statement)) return [];
    return statement.declarationList.declarations.flatMap(({ name }) => (ts.isIdentifier(name) ? name.text : []));
  });
}

test('what is exported is used in another file', () => {
  const words = new Map(all.map((file) => [file, wordsOf(file)]));
  // What builds and starts Fettle is JavaScript, and takes what it needs from the sources.
  const scripts = new Set(
    ['client/build.mjs', 'grammar/generate.mjs', 'client/draw-pictures.mjs'].flatMap((file) => [...wordsOf(file)]),
  );
  const uses = new Map<string, number>();
  for (const each of words.values()) for (const word of each) uses.set(word, (uses.get(word) ?? 0) + 1);
  const unused = all.flatMap((file) =>
    exportedBy(file).flatMap((name) => ((uses.get(name) ?? 0) > 1 || scripts.has(name) ? [] : `${file}: ${name}`)),
  );
  // What a platform calls by name.
  expect(unused.filter((each) => !/^client\/(node|browser)\.ts: (de)?activate$/.test(each))).toEqual([]);
});

function wordsOf(file: string): ReadonlySet<string> {
  return new Set(readFileSync(join(root, file), 'utf8').match(/[\p{ID_Start}$_][\p{ID_Continue}$]*/gu) ?? []);
}

test('every package is used', () => {
  const { dependencies = {}, devDependencies = {} } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'));
  const scripts = JSON.stringify(JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')).scripts);
  const named = new Set(
    all.flatMap((file) => importsOf(file)).flatMap((each) => (each.ours ? [] : packageOf(each.of))),
  );
  const texts = [...all, ...['client', 'grammar', 'tests'].flatMap(scriptsBelow)].map((file) =>
    readFileSync(join(root, file), 'utf8'),
  );
  const unused = Object.keys({ ...dependencies, ...devDependencies }).filter(
    (name) =>
      !named.has(name) &&
      // Types are named by what they are the types of; the rest is run by name.
      !name.startsWith('@types/') &&
      !texts.some((text) => text.includes(`'${name}`) || text.includes(`/${name}/`)) &&
      !scripts.includes(COMMANDS.get(name) ?? name),
  );
  expect(unused).toEqual([]);
});

/** Packages whose command has another name. */
const COMMANDS: ReadonlyMap<string, string> = new Map([
  ['typescript', 'tsc'],
  ['@biomejs/biome', 'biome'],
]);

function packageOf(specifier: string): string {
  return specifier
    .split('/')
    .slice(0, specifier.startsWith('@') ? 2 : 1)
    .join('/');
}

function scriptsBelow(folder: string): readonly string[] {
  return ts.sys
    .readDirectory(join(root, folder), ['.mjs'], ['node_modules'], undefined)
    .map((path) => path.slice(root.length + 1));
}
