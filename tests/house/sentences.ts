// Reads what is said: every told`…` and spoken`…` of the sources, with what is put into it. It judges nothing.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import ts from 'typescript';
import { keyOf } from '../../grammar/told.ts';
import { root, sourcesBelow } from './imports.ts';

export interface Sentence {
  readonly where: string;
  /** The English sentence, with `{0}`, `{1}` for what is put in. */
  readonly english: string;
  /** How many things are put in. */
  readonly many: number;
  /** Texts of ours that are put in as they are, and so would stay English in every language. */
  readonly bare: readonly string[];
}

/** Parts of an argument that may become its value: the branches of a condition, what stands in for nothing. */
function valuesOf(node: ts.Expression): readonly ts.Expression[] {
  if (ts.isParenthesizedExpression(node)) return valuesOf(node.expression);
  if (ts.isConditionalExpression(node)) return [...valuesOf(node.whenTrue), ...valuesOf(node.whenFalse)];
  if (ts.isBinaryExpression(node) && node.operatorToken.kind === ts.SyntaxKind.QuestionQuestionToken)
    return [...valuesOf(node.left), ...valuesOf(node.right)];
  return [node];
}

function bareText(node: ts.Expression): readonly string[] {
  return valuesOf(node).flatMap((each) =>
    (ts.isStringLiteral(each) || ts.isNoSubstitutionTemplateLiteral(each) || ts.isTemplateExpression(each)) &&
    /[a-z]{2,} [a-z]{2,}/i.test(each.getText())
      ? [each.getText()]
      : [],
  );
}

/** The tags of what is said. */
export const SAYING: ReadonlySet<string> = new Set(['told', 'spoken']);

/** Every sentence in the files below these folders. */
export function sentencesBelow(...folders: readonly string[]): readonly Sentence[] {
  const found: Sentence[] = [];
  for (const path of folders.flatMap(sourcesBelow)) {
    const text = readFileSync(join(root, path), 'utf8');
    if (!text.includes('told`') && !text.includes('spoken`')) continue;
    const file = ts.createSourceFile(path, text, ts.ScriptTarget.Latest, true);
    const visit = (node: ts.Node): void => {
      if (ts.isTaggedTemplateExpression(node) && SAYING.has(node.tag.getText())) {
        const { template } = node;
        const spans = ts.isTemplateExpression(template) ? template.templateSpans : [];
        const pieces = ts.isTemplateExpression(template)
          ? [template.head.text, ...spans.map((span) => span.literal.text)]
          : [template.text];
        const line = file.getLineAndCharacterOfPosition(node.getStart()).line + 1;
        const bare = spans.flatMap((span) => bareText(span.expression));
        found.push({ where: `${path}:${line}`, english: keyOf(pieces), many: spans.length, bare });
      }
      ts.forEachChild(node, visit);
    };
    visit(file);
  }
  return found;
}
