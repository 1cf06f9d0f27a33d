// biome-ignore-all lint/suspicious/noTemplateCurlyInString: the cases are code
// Holds that no object is put into a text as it is: it would stand there as [object Object]. What is said has a way to become a text
// (grammar/told.ts, `textOf`), and the compiler's own types tell where it was forgotten.
import { relative } from 'node:path';
import ts from 'typescript';
import { describe, expect, test } from 'vitest';
import { programOf, programOfAll } from './compiler.ts';
import { root } from './imports.ts';

/** Whether it may be an object that has no text of its own. */
function isBare(type: ts.Type, checker: ts.TypeChecker): boolean {
  if (type.isUnion()) return type.types.some((each) => isBare(each, checker));
  if (type.isIntersection()) return type.types.every((each) => isBare(each, checker));
  if ((type.flags & ts.TypeFlags.Object) === 0) return false;
  if (checker.isArrayType(type) || checker.isTupleType(type))
    return checker.getTypeArguments(type as ts.TypeReference).some((each) => isBare(each, checker));
  const own = checker.getPropertyOfType(type, 'toString')?.declarations ?? [];
  return own.every(({ parent }) => ts.isInterfaceDeclaration(parent) && parent.name.text === 'Object');
}

/** Where a bare object becomes a text, as `file:line code`. */
function bareObjects(program: ts.Program, files: readonly string[]): readonly string[] {
  const checker = program.getTypeChecker();
  const found: string[] = [];
  for (const file of files) {
    const source = program.getSourceFile(file);
    if (source === undefined) throw new Error(`${file} was not read`);
    const look = (node: ts.Expression): void => {
      if (!isBare(checker.getTypeAtLocation(node), checker)) return;
      const { line } = source.getLineAndCharacterOfPosition(node.getStart());
      found.push(`${relative(root, file)}:${line + 1} ${node.getText()}`);
    };
    const isText = (node: ts.Expression): boolean =>
      (checker.getTypeAtLocation(node).flags & ts.TypeFlags.StringLike) !== 0;
    const visit = (node: ts.Node): void => {
      if (ts.isTemplateExpression(node) && !ts.isTaggedTemplateExpression(node.parent))
        for (const span of node.templateSpans) look(span.expression);
      else if (ts.isBinaryExpression(node) && node.operatorToken.kind === ts.SyntaxKind.PlusToken) {
        if (isText(node.left)) look(node.right);
        if (isText(node.right)) look(node.left);
      } else if (ts.isCallExpression(node)) {
        const called = node.expression;
        if (ts.isPropertyAccessExpression(called) && called.name.text === 'join') look(called.expression);
        else if (ts.isIdentifier(called) && called.text === 'String' && node.arguments[0]) look(node.arguments[0]);
      }
      ts.forEachChild(node, visit);
    };
    visit(source);
  }
  return found;
}

test('no object is put into a text as it is', { timeout: 120_000 }, () => {
  const { program, files } = programOfAll();
  expect(files.length).toBeGreaterThan(200);
  expect(bareObjects(program, files)).toEqual([]);
});

describe('what is objected to', () => {
  const head =
    'interface Name { readonly text: string }\nclass Said { toString(): string { return ""; } }\ndeclare const name: Name;\n';
  const cases: readonly (readonly [code: string, isBare: boolean])[] = [
    ['export const f = `${name} is on`;', true],
    ['export const f = (one: string | Name) => `${one} is on`;', true],
    ['export const f = "it is " + name;', true],
    ['export const f = [name].join(", ");', true],
    ['export const f = String(name);', true],
    ['export const f = `${name.text} is on`;', false],
    ['export const f = (one: string | number | Said) => `${one} is on`;', false],
    ['export const f = [name.text, new Said()].join(", ");', false],
    ['const tag = (_: TemplateStringsArray, ...args: Name[]) => args;\nexport const f = tag`${name} is on`;', false],
  ];
  test('and what is not', { timeout: 120_000 }, () => {
    const { program, files } = programOf(cases.map(([code]) => head + code));
    const said = files.map((file) => bareObjects(program, [file]).length > 0);
    expect(cases.map(([code], i) => [code, said[i]])).toEqual(cases);
  });
});
