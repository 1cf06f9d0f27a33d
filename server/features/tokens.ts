// Semantic tokens: what each word is, where the colouring rules alone can't know it.

import { toFile } from '../../grammar/section.ts';
import type { Statement } from '../../grammar/tree.ts';
import { type Block, statementRow } from '../../grammar/vocabulary.ts';
import type { Analysis } from '../model/analysis.ts';
import type { Placed } from '../model/placed.ts';
import { blockOf } from '../model/statements.ts';
import { type NameAt, namesOfPlaced, thingOf } from './place-in-tree.ts';

/** In the order of the legend. */
export const TOKEN_TYPES = [
  'keyword',
  'class',
  'property',
  'enumMember',
  'variable',
  'decorator',
  'parameter',
  'function',
  'namespace',
  'interface',
  'type',
] as const;
type TokenType = (typeof TOKEN_TYPES)[number];

/** Kinds of things look different: each has a type of its own, of those that editors have colours for. */
const TYPE_OF_KIND: ReadonlyMap<string, TokenType> = new Map([
  ['part', 'class'],
  ['fastener', 'decorator'],
  ['limit', 'parameter'],
  ['step', 'function'],
  ['sequence', 'function'],
  ['job', 'function'],
  ['supply', 'namespace'],
  ['drive', 'interface'],
  ['valve-timing', 'interface'],
  ['grades', 'interface'],
  ['spec', 'type'],
  ['record', 'type'],
]);
export const TOKEN_MODIFIERS = ['declaration'] as const;

export interface SemanticToken {
  readonly start: number;
  readonly length: number;
  readonly type: TokenType;
  readonly declares: boolean;
}

/** A token as it is kept: of a name that may be of several kinds of things, that name stands there. */
interface CachedToken extends SemanticToken {
  readonly thing?: string;
}

const cache = new WeakMap<Placed, { readonly at: number; readonly tokens: readonly CachedToken[] }>();

/** The tokens of a declaration; kept as long as it stands where it stood. */
function ofPlaced(placed: Placed): readonly CachedToken[] {
  const known = cache.get(placed);
  if (known?.at === placed.section.start) return known.tokens;
  const tokens = tokensOf(placed);
  cache.set(placed, { at: placed.section.start, tokens });
  return tokens;
}

function tokensOf(placed: Placed): readonly CachedToken[] {
  const out: CachedToken[] = [];
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
              : (TYPE_OF_KIND.get(kindOf(placed, name) ?? '') ?? 'class'),
      declares: name.declares,
      ...(name.set === 'thing' && kindOf(placed, name) === undefined ? { thing: name.thing } : {}),
    });
  }
  return out;
}

/** The kind of a thing where the place of its name tells it; undefined where several may stand there. */
function kindOf({ declaration }: Placed, name: NameAt): string | undefined {
  if (name.set === 'spec' || name.set === 'record') return name.set;
  if (name.set !== 'thing') return undefined;
  if (name.declares) return declaration.changed?.word ?? declaration.word;
  return name.use?.kinds.length === 1 ? name.use.kinds[0] : undefined;
}

/** All semantic tokens of a file by place, none over another. */
export function semanticTokens(analysis: Analysis): readonly SemanticToken[] {
  return [...tokensBySection(analysis, 0, Number.POSITIVE_INFINITY)].flat();
}

/** The same for the sections that a stretch touches, one after the other. */
export function* tokensBySection(analysis: Analysis, from: number, to: number): Generator<readonly SemanticToken[]> {
  let last = -1;
  for (const { section, every, whens } of analysis.file.sections) {
    if (section.end < from || section.start > to) continue;
    const sorted = [...every, ...whens].flatMap(ofPlaced).sort((a, b) => a.start - b.start || b.length - a.length);
    yield sorted
      .filter((token) => {
        if (token.start < last || token.length <= 0) return false;
        last = token.start + token.length;
        return true;
      })
      .map(({ thing, ...token }) => {
        const type = thing === undefined ? undefined : TYPE_OF_KIND.get(thingOf(analysis, thing)?.kind ?? '');
        return type === undefined ? token : { ...token, type };
      });
  }
}
