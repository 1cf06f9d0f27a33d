// How the compiler reads all of the project at once, for the tests that ask it for types.
import { join } from 'node:path';
import ts from 'typescript';
import { root } from './imports.ts';

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
