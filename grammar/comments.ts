// Where comments stand: on a line of their own or behind something, with an empty line before them or none. Every comment
// of a text comes out as an item of the layout; what they say is never looked at.
import { isBlank, isLineEnd } from './characters.ts';
import { lex } from './lexer.ts';
import type { Comment } from './lexing.ts';

/** A comment in the order of what is printed. */
export interface CommentItem {
  readonly kind: 'comment';
  readonly text: string;
  /** True when nothing stands before it on its line. */
  readonly own: boolean;
  /** True when an empty line stands before it. */
  readonly emptyLineBefore: boolean;
}

/** How many line ends stand between an offset and the last thing before it. */
export function lineEndsBefore(text: string, offset: number): number {
  let lineEnds = 0;
  for (let at = offset; at > 0 && isBlank(text.charCodeAt(at - 1)); at -= 1) {
    if (!isLineEnd(text.charCodeAt(at - 1))) continue;
    lineEnds += 1;
    if (text.charCodeAt(at - 1) === 10 && text.charCodeAt(at - 2) === 13) at -= 1;
  }
  return lineEnds;
}

/** Whether nothing but blanks stands before an offset. */
function isAtStart(text: string, offset: number): boolean {
  let at = offset;
  while (at > 0 && isBlank(text.charCodeAt(at - 1))) at -= 1;
  return at === 0;
}

/** A comment of a text as an item. */
export function commentItem(text: string, comment: Comment): CommentItem {
  const lineEnds = lineEndsBefore(text, comment.start);
  const own = lineEnds > 0 || isAtStart(text, comment.start);
  return { kind: 'comment', text: comment.text, own, emptyLineBefore: lineEnds > 1 };
}

/** The comments before the first declaration, where nothing else stands. */
export function commentsBefore(text: string, firstDeclaration: number): readonly CommentItem[] {
  const before = text.slice(0, firstDeclaration);
  return lex(before, { unclosedTexts: [], holes: [] }).comments.map((comment) => commentItem(before, comment));
}

/**
 * Where a declaration ends that is printed as it stands: after its last word, or after the comment behind that. Comments on
 * lines of their own after it are for what comes next.
 */
export function endWithoutComments(text: string, comments: readonly Comment[]): number {
  let end = text.trimEnd().length;
  for (const comment of [...comments].reverse()) {
    if (comment.end < end || lineEndsBefore(text, comment.start) === 0) break;
    end = text.slice(0, comment.start).trimEnd().length;
  }
  return end;
}
