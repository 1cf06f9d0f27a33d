// Holds that no word of a user is looked up in a plain object: `constructor` and `toString` are found in every one. The compiler's
// own types tell it: a key that may be any text is for a Map, or goes through `lookUp` (grammar/look-up.ts).
import { relative } from 'node:path';
import ts from 'typescript';
import { describe, expect, test } from 'vitest';
import { programOf, programOfAll } from './compiler.ts';
import { root } from './imports.ts';

/** Whether a key may be any text at all; a key out of a closed list of words may not, nor a number. */
function mayBeAnyText(type: ts.Type): boolean {
  if (type.isUnion()) return type.types.some(mayBeAnyText);
  const constraint = type.flags & ts.TypeFlags.TypeParameter ? type.getConstraint() : undefined;
  if (constraint !== undefined) return mayBeAnyText(constraint);
  return (
    (type.flags &
      (ts.TypeFlags.String |
        ts.TypeFlags.TemplateLiteral |
        ts.TypeFlags.StringMapping |
        ts.TypeFlags.Any |
        ts.TypeFlags.Unknown |
        ts.TypeFlags.TypeParameter)) !==
    0
  );
}

/** What is looked up where any text may be the key, as `file:line code`. */
function looseLookUps(program: ts.Program, files: readonly string[]): readonly string[] {
  const checker = program.getTypeChecker();
  const isLoose = (key: ts.Expression): boolean => {
    let inner: ts.Expression = key;
    while (ts.isAsExpression(inner) || ts.isParenthesizedExpression(inner) || ts.isNonNullExpression(inner))
      inner = inner.expression;
    const type = checker.getTypeAtLocation(inner);
    // The trap of a proxy is handed what the program itself asks for.
    if (inner !== key && type.isUnion() && type.types.some((each) => each.flags & ts.TypeFlags.ESSymbol)) return false;
    return mayBeAnyText(type);
  };
  /** `Object.hasOwn(table, key) ? table[key] : …` is what `lookUp` does. */
  const isGuarded = (node: ts.ElementAccessExpression): boolean =>
    ts.isConditionalExpression(node.parent) &&
    node.parent.whenTrue === node &&
    node.parent.condition.getText() ===
      `Object.hasOwn(${node.expression.getText()}, ${node.argumentExpression.getText()})`;
  const found: string[] = [];
  for (const file of files) {
    const source = program.getSourceFile(file);
    if (source === undefined) throw new Error(`${file} was not read`);
    const say = (node: ts.Node): void => {
      const { line } = source.getLineAndCharacterOfPosition(node.getStart());
      found.push(`${relative(root, file)}:${line + 1} ${node.getText()}`);
    };
    const visit = (node: ts.Node): void => {
      if (ts.isElementAccessExpression(node)) {
        if (isLoose(node.argumentExpression) && !isGuarded(node)) say(node);
      } else if (ts.isBinaryExpression(node) && node.operatorToken.kind === ts.SyntaxKind.InKeyword) {
        if (!ts.isPrivateIdentifier(node.left) && isLoose(node.left)) say(node);
      } else if (ts.isBindingElement(node) && node.propertyName && ts.isComputedPropertyName(node.propertyName)) {
        if (isLoose(node.propertyName.expression)) say(node);
      }
      ts.forEachChild(node, visit);
    };
    visit(source);
  }
  return found;
}

test('no word of a user is looked up in a plain object', { timeout: 120_000 }, () => {
  const { program, files } = programOfAll();
  expect(files.length).toBeGreaterThan(200);
  expect(looseLookUps(program, files)).toEqual([]);
});

describe('what is objected to', () => {
  const head =
    "type Word = 'a' | 'b';\nconst table: Readonly<Record<string, number>> = { a: 1 };\nconst list = [1];\nconst map = new Map([['a', 1]]);\n";
  const cases: readonly (readonly [code: string, isLoose: boolean])[] = [
    ['export const f = (word: string) => table[word];', true],
    ['export const f = (word: string) => table[word.toLowerCase()] ?? 0;', true],
    ['export const f = (word: string | undefined) => table[word ?? ""];', true],
    ['export const f = (word: string) => word in table;', true],
    ['export const f = (word: string) => ({ a: 1, b: 2 })[word as Word];', true],
    ['export const f = (word: Uppercase<string>) => table[word];', true],
    ['export const f = (word: string) => { const { [word]: found } = table; return found; };', true],
    [
      'export const f = (word: string, n: number) => { const made: Record<string, number> = {}; made[word] = n; };',
      true,
    ],
    ['export const f = (word: string) => (Object.hasOwn(table, "a") ? table[word] : 0);', true],
    ['export const f = <Key extends string>(word: Key) => table[word];', true],
    ['export const f = (word: Word) => table[word];', false],
    ['export const f = <Key extends Word>(word: Key) => table[word];', false],
    ['export const f = (at: number) => list[at];', false],
    ['export const f = (word: string) => (Object.hasOwn(table, word) ? table[word] : undefined);', false],
    ['export const f = (word: string) => map.get(word);', false],
  ];
  test('and what is not', { timeout: 120_000 }, () => {
    const { program, files } = programOf(cases.map(([code]) => head + code));
    const said = files.map((file) => looseLookUps(program, [file]).length > 0);
    expect(cases.map(([code], i) => [code, said[i]])).toEqual(cases);
  });
});
