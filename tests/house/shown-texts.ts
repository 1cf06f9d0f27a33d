// Reads the texts in the sources that somebody may be shown and that are not told`…`: words in quotes. It judges nothing.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import ts from 'typescript';
import { root, sourcesBelow } from './imports.ts';
import { SAYING } from './sentences.ts';

export interface ShownText {
  readonly path: string;
  readonly where: string;
  readonly text: string;
}

/** Three words in a row, or two where a sentence begins or ends: what no name, key or code is. */
const PROSE = /[A-Za-z]{2,},? [a-z]{2,},? [a-z(]{2,}|[A-Z][a-z]+ [a-z]{2,}.*[.…?]$/;

/** What goes to our own log, to who mends Fettle, or between programs. */
const LOGGED = /^(?:connection\.console\.\w+|reportFault|console\.\w+)$/;

function textOf(node: ts.Node): string | undefined {
  if (ts.isStringLiteral(node) || ts.isNoSubstitutionTemplateLiteral(node) || ts.isJsxText(node)) return node.text;
  if (!ts.isTemplateExpression(node)) return undefined;
  return node.head.text + node.templateSpans.map((span, i) => `{${i}}${span.literal.text}`).join('');
}

/** Whether nobody is shown what stands below this node: types, faults of ours, the log. */
function isUnseen(node: ts.Node): boolean {
  return (
    ts.isImportDeclaration(node) ||
    ts.isTypeNode(node) ||
    (ts.isNewExpression(node) && /^(?:Error|ResponseError)$/.test(node.expression.getText())) ||
    (ts.isCallExpression(node) && LOGGED.test(node.expression.getText()))
  );
}

/** Every text with words in it below these folders that is not told`…`. */
export function shownTextsBelow(...folders: readonly string[]): readonly ShownText[] {
  const found: ShownText[] = [];
  for (const path of folders.flatMap(sourcesBelow)) {
    const source = readFileSync(join(root, path), 'utf8');
    const file = ts.createSourceFile(path, source, ts.ScriptTarget.Latest, true);
    const visit = (node: ts.Node): void => {
      if (isUnseen(node)) return;
      if (ts.isTaggedTemplateExpression(node) && SAYING.has(node.tag.getText())) {
        if (ts.isTemplateExpression(node.template))
          for (const { expression } of node.template.templateSpans) visit(expression);
        return;
      }
      const text = textOf(node);
      const line = file.getLineAndCharacterOfPosition(node.getStart()).line + 1;
      if (text !== undefined && PROSE.test(text)) found.push({ path, where: `${path}:${line}`, text });
      ts.forEachChild(node, visit);
    };
    visit(file);
  }
  return found;
}

/** The keys of `l10n.t(…)` in the client. */
export function keysOfClient(): readonly string[] {
  const keys = new Set<string>();
  for (const path of sourcesBelow('client')) {
    const source = readFileSync(join(root, path), 'utf8');
    const file = ts.createSourceFile(path, source, ts.ScriptTarget.Latest, true);
    const visit = (node: ts.Node): void => {
      const isAsked = ts.isCallExpression(node) && /^(?:l10n\.t|label)$/.test(node.expression.getText());
      const [key] = isAsked ? node.arguments : [];
      if (key !== undefined && ts.isStringLiteralLike(key)) keys.add(key.text);
      ts.forEachChild(node, visit);
    };
    visit(file);
  }
  return [...keys];
}
