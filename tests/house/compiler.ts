// How the compiler reads all of the project at once, for the tests that ask it for types.
import { join } from 'node:path';
import ts from 'typescript';
import { root, sourcesBelow } from './imports.ts';

/** The project's own options, with the types of all that it runs in. */
export const options: ts.CompilerOptions = {
  ...ts.parseJsonConfigFileContent(
    ts.readConfigFile(join(root, 'tsconfig.json'), ts.sys.readFile).config,
    { ...ts.sys, readDirectory: () => [] },
    root,
  ).options,
  lib: ['lib.es2023.d.ts', 'lib.webworker.d.ts'],
  types: ['node', 'vscode'],
};

/** All sources of the project, and the program of them. */
interface All {
  readonly program: ts.Program;
  readonly files: readonly string[];
}

let all: All | undefined;

/** The program of all sources, read once for all who ask. */
export function programOfAll(): All {
  if (all === undefined) {
    const files = ['grammar', 'server', 'client'].flatMap(sourcesBelow).map((file) => join(root, file));
    all = { program: ts.createProgram(files, options), files };
  }
  return all;
}

/** A program of texts that are in no file, and the names that they have in it. */
export function programOf(codes: readonly string[]): {
  readonly program: ts.Program;
  readonly files: readonly string[];
} {
  const texts = new Map(codes.map((code, i) => [join(root, `grammar/case-${i}.ts`), code]));
  const host = ts.createCompilerHost(options);
  const { fileExists, getSourceFile } = host;
  host.fileExists = (file) => texts.has(file) || fileExists(file);
  host.getSourceFile = (file, version, ...more) => {
    const text = texts.get(file);
    return text === undefined ? getSourceFile(file, version, ...more) : ts.createSourceFile(file, text, version, true);
  };
  const files = [...texts.keys()];
  return { program: ts.createProgram(files, { ...options, types: [] }, host), files };
}
