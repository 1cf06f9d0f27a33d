// What has been written up to the cursor: the block, the statement, the pieces of it before the cursor. For completion and for the
// hint on how a statement goes on.

import { lex } from '../../grammar/lexer.ts';
import type { Token } from '../../grammar/tokens.ts';
import type { Statement } from '../../grammar/tree.ts';
import { type Block, type StatementRow, statementRow } from '../../grammar/vocabulary.ts';
import type { Analysis } from '../model/analysis.ts';
import type { Placed } from '../model/placed.ts';
import { textOf } from '../model/text-of.ts';
import { blockAt, placedAt, statementBefore, toOwn } from './place-in-tree.ts';

export interface Cursor {
  readonly block: Block | undefined;
  readonly placed: Placed | undefined;
  /** The piece of a word that stands straight before the cursor. */
  readonly typed: string;
  /** A line end stands between what was written last and that piece. */
  readonly newLine: boolean;
  /** What is before that piece, from the start of the declaration. */
  readonly tokens: readonly Token[];
  readonly last: Token | undefined;
  /** The statement that the cursor is in or stands behind, with the tokens behind its word. */
  readonly statement: { readonly row: StatementRow; readonly behind: readonly Token[] } | undefined;
  /** Inside a comment or a text in quotes, where nothing is offered. */
  readonly inText: boolean;
}

const TYPED = /[\p{L}\p{M}\p{N}_-]*$/u;
/** A unit may hold signs that no name has. */
const TYPED_UNIT = /(?<=[\d½¼¾]\s+)[\p{L}µ°%·./²³'-]*$/u;

/** A unit that is written straight behind its number. */
const TIGHT_UNIT = /(?:^|[\s(±+]|\.\.)\d[\d.]*([\p{L}µ°%][\p{L}µ°%·./²³'-]*)$/u;
/** The code of a finding has a stroke in it. */
const CODE = /\ballow\s+([a-z-]+\/[a-z/-]*)$/i;

/** Everything before the cursor, or only up to the start of the word there. */
export function cursorAt(analysis: Analysis, offset: number): Cursor {
  const block = blockAt(analysis, offset);
  const placed = placedAt(analysis, offset);
  const before =
    placed === undefined
      ? textOf(analysis.file, offset - 400, offset)
      : placed.section.text.slice(0, toOwn(placed.section, offset));
  const tight = TIGHT_UNIT.exec(before.slice(-80))?.[1];
  const typed =
    CODE.exec(before.slice(-200))?.[1] ??
    tight ??
    (TYPED_UNIT.exec(before.slice(-80)) ?? TYPED.exec(before.slice(-200)))?.[0] ??
    '';
  const from = before.length - typed.length;
  const context = { unclosedTexts: [], holes: placed?.section.holes ?? [] };
  const { tokens, comments } = lex(before.slice(0, from), context);
  const last = tokens[tokens.length - 1];
  const openText =
    last?.tokenType.name === 'Text' && (last.endOffset ?? 0) + 1 >= from && !/^["“„].*["”“]$/su.test(last.image);
  const inComment = comments.some((comment) => comment.end >= from && !/[\r\n]$/.test(before.slice(0, from)));
  return {
    block,
    placed,
    typed,
    newLine: /[\r\n]/.test(before.slice(last === undefined ? 0 : (last.endOffset ?? 0) + 1, from)),
    tokens,
    last,
    statement: statementAt(placed, block, from, tokens),
    inText: openText || inComment,
  };
}

function statementAt(
  placed: Placed | undefined,
  block: Block | undefined,
  from: number,
  tokens: readonly Token[],
): Cursor['statement'] {
  if (placed === undefined || block === undefined) return undefined;
  const found: Statement | undefined = statementBefore(placed.declaration.body?.statements ?? [], from);
  if (found === undefined) return undefined;
  const row = statementRow(block, found.word);
  if (row === undefined) return undefined;
  return { row, behind: tokens.filter((token) => token.startOffset >= found.wordSpan.end) };
}
