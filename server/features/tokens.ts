// Semantic tokens: what each word is, where the colouring rules alone can't know it.

import { toFile } from '../../grammar/sections.ts';
import type { Statement } from '../../grammar/tree.ts';
import { type Block, statementRow } from '../../grammar/vocabulary.ts';
import type { Analysis } from '../model/analysis.ts';
import type { Placed } from '../model/placed.ts';
import { blockOf } from '../model/statements.ts';
import { everyPlaced, namesOfPlaced } from './place-in-tree.ts';

/** In the order of the legend. */
export const TOKEN_TYPES = ['keyword', 'class', 'property', 'enumMember', 'variable'] as const;
export const TOKEN_MODIFIERS = ['declaration'] as const;

export interface SemanticToken {
  readonly start: number;
  readonly length: number;
  readonly type: (typeof TOKEN_TYPES)[number];
  readonly declares: boolean;
}

const kept = new WeakMap<Placed, { readonly at: number; readonly tokens: readonly SemanticToken[] }>();

/** The tokens of a declaration; kept as long as it stands where it stood. */
function ofPlaced(placed: Placed): readonly SemanticToken[] {
  const known = kept.get(placed);
  if (known?.at === placed.section.start) return known.tokens;
  const tokens = tokensOf(placed);
  kept.set(placed, { at: placed.section.start, tokens });
  return tokens;
}

function tokensOf(placed: Placed): readonly SemanticToken[] {
  const out: SemanticToken[] = [];
  const keyword = (span: { readonly start: number; readonly end: number }): void => {
    out.push({
      start: toFile(placed.section, span.start),
      length: span.end - span.start,
      type: 'keyword',
      declares: false,
    });
  };
  keyword(placed.declaration.wordSpan);
  if (placed.declaration.changed !== undefined) keyword(placed.declaration.changed);
  const walk = (statements: readonly Statement[], block: Block): void => {
    for (const each of statements) {
      if (statementRow(block, each.word) !== undefined) keyword(each.wordSpan);
      if (each.kind === 'drop' && each.what.word !== 'grade') keyword(each.what);
      if (each.kind === 'when') walk(each.body.statements, block);
      if (each.kind === 'size' && each.body !== undefined) walk(each.body.statements, 'size');
    }
  };
  walk(placed.declaration.body?.statements ?? [], blockOf(placed.declaration));
  for (const name of namesOfPlaced(placed)) {
    out.push({
      start: name.place.start,
      length: name.place.end - name.place.start,
      type:
        name.set === 'feature'
          ? 'property'
          : name.set === 'variant' || name.set === 'place'
            ? 'enumMember'
            : name.set === 'source'
              ? 'variable'
              : 'class',
      declares: name.declares,
    });
  }
  return out;
}

/** All semantic tokens of a file by place, none over another. */
export function semanticTokens(analysis: Analysis): readonly SemanticToken[] {
  const sorted = everyPlaced(analysis)
    .flatMap(ofPlaced)
    .sort((a, b) => a.start - b.start || b.length - a.length);
  let last = -1;
  return sorted.filter((token) => {
    if (token.start < last || token.length <= 0) return false;
    last = token.start + token.length;
    return true;
  });
}
