// Reads the texts that stand in elements, or in what of an element is read out, and are said in no language. It judges nothing.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import ts from 'typescript';
import { root, sourcesBelow } from './imports.ts';

/** What of an element somebody reads. */
const READ = new Set(['label', 'title', 'text', 'alt', 'placeholder', 'aria-label', 'description', 'lang']);

/** Two letters and more that are no entity and no unit of a style. */
const LETTERS = /[A-Za-z]{2}/;

/** The texts that an expression may become, as they stand. */
function becomes(node: ts.Expression): readonly string[] {
  if (ts.isParenthesizedExpression(node)) return becomes(node.expression);
  if (ts.isConditionalExpression(node)) return [...becomes(node.whenTrue), ...becomes(node.whenFalse)];
  if (ts.isBinaryExpression(node))
    return node.operatorToken.kind === ts.SyntaxKind.EqualsEqualsEqualsToken ||
      node.operatorToken.kind === ts.SyntaxKind.ExclamationEqualsEqualsToken
      ? []
      : [...becomes(node.left), ...becomes(node.right)];
  if (ts.isStringLiteralLike(node)) return [node.text];
  if (ts.isTemplateExpression(node))
    return [node.head.text, ...node.templateSpans.flatMap((span) => [...becomes(span.expression), span.literal.text])];
  return [];
}

/** Every text with words that stands in an element in the files below these folders. */
export function loneTextsBelow(...folders: readonly string[]): readonly string[] {
  const found: string[] = [];
  for (const path of folders.flatMap(sourcesBelow)) {
    const source = readFileSync(join(root, path), 'utf8');
    const file = ts.createSourceFile(path, source, ts.ScriptTarget.Latest, true);
    const tell = (node: ts.Node, texts: readonly string[]): void => {
      const line = file.getLineAndCharacterOfPosition(node.getStart()).line + 1;
      for (const text of texts) if (LETTERS.test(text)) found.push(`${path}:${line} ${text.trim()}`);
    };
    const visit = (node: ts.Node): void => {
      if (ts.isJsxText(node)) tell(node, [node.text]);
      if (ts.isJsxExpression(node) && node.expression !== undefined && !ts.isJsxAttribute(node.parent))
        tell(node, becomes(node.expression));
      if (ts.isJsxAttribute(node) && READ.has(node.name.getText()) && node.initializer !== undefined) {
        const { initializer } = node;
        if (ts.isStringLiteral(initializer)) tell(node, [initializer.text]);
        if (ts.isJsxExpression(initializer) && initializer.expression !== undefined)
          tell(node, becomes(initializer.expression));
      }
      if (ts.isPropertyAssignment(node) && READ.has(node.name.getText()) && path.startsWith('server/pictures/'))
        tell(node, becomes(node.initializer));
      ts.forEachChild(node, visit);
    };
    visit(file);
  }
  return found;
}
