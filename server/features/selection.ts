// What a growing selection takes in, from the innermost: name or figure, statement, braces, declaration, file.

import { toFile } from '../../grammar/section.ts';
import type { Span, Statement } from '../../grammar/tree.ts';
import type { Analysis } from '../model/analysis.ts';
import type { Placed } from '../model/placed.ts';
import { lengthOf, textOf } from '../model/text-of.ts';
import { nameAt, placedNear } from './place-in-tree.ts';
import { quantityAt } from './quantities.ts';

interface Stretch {
  readonly start: number;
  readonly end: number;
}

function statementsRound(placed: Placed, statements: readonly Statement[], offset: number): readonly Stretch[] {
  const at = (span: Span): Stretch => ({
    start: toFile(placed.section, span.start),
    end: toFile(placed.section, span.end),
  });
  const holds = ({ start, end }: Stretch): boolean => start <= offset && offset <= end;
  const found = statements.find((each) => holds(at(each)));
  if (found === undefined) return [];
  const body = found.kind === 'when' || found.kind === 'size' ? found.body : undefined;
  const inside =
    body === undefined || !holds(at(body)) ? [] : [at(body), ...statementsRound(placed, body.statements, offset)];
  return [at(found), ...inside];
}

/** The stretches round an offset, each inside the next. */
export function selectionAt(analysis: Analysis, offset: number): readonly Stretch[] {
  const stretches: Stretch[] = [{ start: 0, end: lengthOf(analysis.file) }];
  for (const placed of placedNear(analysis, offset)) {
    const { section, declaration } = placed;
    const at = (span: Span): Stretch => ({ start: toFile(section, span.start), end: toFile(section, span.end) });
    stretches.push(at(declaration));
    if (declaration.body !== undefined)
      stretches.push(at(declaration.body), ...statementsRound(placed, declaration.body.statements, offset));
  }
  const name = nameAt(analysis, offset)?.place;
  if (name !== undefined) stretches.push(name);
  const quantity = quantityAt(analysis, offset);
  if (quantity !== undefined) stretches.push(quantity);
  const word = /[\p{L}\p{M}\p{N}_.]*$/u.exec(textOf(analysis.file, offset - 100, offset))?.[0].length ?? 0;
  const rest = /^[\p{L}\p{M}\p{N}_.]*/u.exec(textOf(analysis.file, offset, offset + 100))?.[0].length ?? 0;
  if (word + rest > 0) stretches.push({ start: offset - word, end: offset + rest });
  const round = stretches
    .filter(({ start, end }) => start <= offset && offset <= end)
    .sort((one, other) => one.end - one.start - (other.end - other.start));
  // Each must hold the one before; what only overlaps is left out.
  const nested: Stretch[] = [];
  for (const { start, end } of round) {
    const inner = nested[nested.length - 1];
    if (inner === undefined || (start <= inner.start && end >= inner.end && end - start > inner.end - inner.start))
      nested.push({ start, end });
  }
  return nested;
}
