// The outline of a file, and what may be folded.
import { toFile } from '../../grammar/section.ts';
import type { Span, Statement } from '../../grammar/tree.ts';
import type { Analysis } from '../model/analysis.ts';
import { type Placed, placeOf } from '../model/placed.ts';
import { everyPlaced } from './place-in-tree.ts';

export interface OutlineItem {
  readonly name: string;
  readonly detail: string;
  readonly word: string;
  readonly start: number;
  readonly end: number;
  readonly nameStart: number;
  readonly nameEnd: number;
  readonly children: readonly OutlineItem[];
}

/** The sizes, marks and cases of a declaration, as the outline shows them. */
function inside(placed: Placed, statements: readonly Statement[]): readonly OutlineItem[] {
  return statements.flatMap((each): readonly OutlineItem[] => {
    const own = (
      name: Span & { readonly text?: string },
      word: string,
      children: readonly OutlineItem[],
    ): OutlineItem => {
      const [whole, at] = [placeOf(placed, each), placeOf(placed, name)];
      return {
        name: name.text ?? placed.section.text.slice(name.start, name.end),
        detail: word,
        word,
        start: whole.start,
        end: whole.end,
        nameStart: at.start,
        nameEnd: at.end,
        children,
      };
    };
    switch (each.kind) {
      case 'dimension':
      case 'figure':
      case 'mark':
      case 'size':
      case 'grade':
        return [own(each.name, each.kind, [])];
      case 'when': {
        const names = each.variants;
        const [first, last] = [names[0], names[names.length - 1]];
        return first === undefined || last === undefined
          ? []
          : [own({ start: first.start, end: last.end }, 'when', inside(placed, each.body.statements))];
      }
      default:
        return [];
    }
  });
}

function item(placed: Placed): OutlineItem {
  const { declaration } = placed;
  const whole = placeOf(placed, declaration);
  const { changed } = declaration;
  const name = placeOf(placed, declaration.name ?? declaration.path ?? changed ?? declaration.wordSpan);
  return {
    name: declaration.name?.text ?? declaration.path?.value ?? changed?.word ?? declaration.word,
    detail: declaration.title?.value ?? (changed === undefined ? '' : `${declaration.word} ${changed.word}`),
    word: changed?.word ?? declaration.word,
    start: whole.start,
    end: whole.end,
    nameStart: name.start,
    nameEnd: name.end,
    children: [
      ...inside(placed, declaration.body?.statements ?? []),
      ...placed.steps.filter((step) => step !== undefined).map(item),
    ].sort((a, b) => a.start - b.start),
  };
}

/** Declarations in the order of the file, steps inside their sequence, changes inside their spec. */
export function outline(analysis: Analysis): readonly OutlineItem[] {
  return analysis.file.declarations.map(item).sort((a, b) => a.start - b.start);
}

/**
 * Whether a name is meant by what was typed to find it: its letters in their order, small or capital, hyphens left out, each word of the
 * query anywhere.
 */
export function isMeant(name: string, query: string): boolean {
  const plain = (text: string): string => text.toLowerCase().replace(/[-_\s]/g, '');
  const letters = plain(name);
  const asked = plain(query);
  if (letters.includes(asked)) return true;
  let at = 0;
  for (const letter of letters) if (letter === asked[at]) at += 1;
  return asked.length > 2 && at === asked.length;
}

/** Stretches that may be folded: braces and statements over more than one line, runs of comment lines and of `use`. */
export function folds(
  analysis: Analysis,
): readonly { readonly start: number; readonly end: number; readonly comment: boolean }[] {
  const out: { start: number; end: number; comment: boolean }[] = [];
  const add = (placed: Placed): void => {
    const { declaration } = placed;
    const body = declaration.body;
    out.push({
      start: toFile(placed.section, declaration.start),
      end: toFile(placed.section, body?.end ?? declaration.end),
      comment: false,
    });
    for (const step of placed.steps) if (step !== undefined) add(step);
  };
  for (const placed of [...analysis.file.declarations, ...analysis.file.whens]) add(placed);
  for (const placed of everyPlaced(analysis))
    for (const each of placed.declaration.body?.statements ?? [])
      if (each.kind !== 'hole') out.push({ ...placeOf(placed, each), comment: false });
  const uses = analysis.file.declarations.filter((placed) => placed.declaration.word === 'use');
  const [first, last] = [uses[0], uses[uses.length - 1]];
  if (first !== undefined && last !== undefined && first !== last) {
    const [start, end] = [placeOf(first, first.declaration).start, placeOf(last, last.declaration).end];
    // A run of them: nothing else stands between.
    const between = analysis.file.declarations.slice(
      analysis.file.declarations.indexOf(first),
      analysis.file.declarations.indexOf(last) + 1,
    );
    if (between.length === uses.length) out.push({ start, end, comment: false });
  }
  for (const run of analysis.file.text.matchAll(/(?:^[ \t]*#[^\n]*(?:\n|$(?![\r\n]))){2,}/gm))
    out.push({ start: run.index, end: run.index + run[0].trimEnd().length, comment: true });
  return out;
}
