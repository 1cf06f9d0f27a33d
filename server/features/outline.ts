// The outline of a file, and what may be folded.
import { toFile } from '../../grammar/sections.ts';
import type { Analysis } from '../model/analysis.ts';
import { type Placed, placeOf } from '../model/placed.ts';

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
    children: placed.steps.filter((step) => step !== undefined).map(item),
  };
}

/** Declarations in the order of the file, steps inside their sequence, changes inside their spec. */
export function outline(analysis: Analysis): readonly OutlineItem[] {
  return analysis.file.declarations.map(item).sort((a, b) => a.start - b.start);
}

/** Stretches that may be folded: braces over more than one line, and runs of comment lines. */
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
  for (const run of analysis.file.text.matchAll(/(?:^[ \t]*#[^\n]*(?:\n|$(?![\r\n]))){2,}/gm))
    out.push({ start: run.index, end: run.index + run[0].trimEnd().length, comment: true });
  return out;
}
