// Reads which file imports which, for the tests of the layers. It judges nothing.
import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, normalize, relative } from 'node:path';
import ts from 'typescript';

/** One import as written: by which file, of what, and whether types alone come through it. */
export interface Import {
  readonly by: string;
  /** A path from the root of the project for our own files, else the name of a package. */
  readonly of: string;
  readonly ours: boolean;
  readonly typesAlone: boolean;
}

/** The root of the project. */
export const root = join(import.meta.dirname, '../..');

/** Every TypeScript file below a folder of the project, as paths from its root. */
export function sourcesBelow(folder: string): readonly string[] {
  return readdirSync(join(root, folder), { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && /(?<!\.d)\.tsx?$/.test(entry.name))
    .map((entry) => relative(root, join(entry.parentPath, entry.name)))
    .sort();
}

/** The imports of one file. The text may be given, for a file that is not there. */
export function importsOf(path: string, text = readFileSync(join(root, path), 'utf8')): readonly Import[] {
  const found: Import[] = [];
  const add = (specifier: ts.Node | undefined, typesAlone: boolean) => {
    if (specifier === undefined || !ts.isStringLiteral(specifier)) return;
    const ours = specifier.text.startsWith('.');
    const of = ours ? normalize(join(dirname(path), specifier.text)) : specifier.text;
    found.push({ by: path, of, ours, typesAlone });
  };
  const visit = (node: ts.Node) => {
    if (ts.isImportDeclaration(node)) add(node.moduleSpecifier, namesTypesAlone(node));
    else if (ts.isExportDeclaration(node)) add(node.moduleSpecifier, node.isTypeOnly);
    else if (ts.isCallExpression(node) && node.expression.kind === ts.SyntaxKind.ImportKeyword)
      add(node.arguments[0], false);
    else if (ts.isImportTypeNode(node) && ts.isLiteralTypeNode(node.argument)) add(node.argument.literal, true);
    ts.forEachChild(node, visit);
  };
  visit(ts.createSourceFile(path, text, ts.ScriptTarget.Latest, false));
  return found;
}

function namesTypesAlone(node: ts.ImportDeclaration): boolean {
  const clause = node.importClause;
  if (clause === undefined) return false;
  if (clause.phaseModifier === ts.SyntaxKind.TypeKeyword) return true;
  const names = clause.namedBindings;
  return (
    clause.name === undefined &&
    names !== undefined &&
    ts.isNamedImports(names) &&
    names.elements.every((name) => name.isTypeOnly)
  );
}
