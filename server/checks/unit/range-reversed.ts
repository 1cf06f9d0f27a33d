// A range whose first value is the larger one.
import { told } from '../../../grammar/told.ts';
import type { PlainValue, Range } from '../../../grammar/tree.ts';
import { compare, exact } from '../../mechanics/exact.ts';
import type { Placed } from '../../model/placed.ts';
import type { DeclarationCheck, Report } from '../check.ts';
import page from './range-reversed.md';
import { writtenValues } from './written-values.ts';

function isReversed(value: Range): boolean {
  const [low, high] = [exact(value.low.text), exact(value.high.text)];
  return low !== undefined && high !== undefined && compare(low, high) > 0;
}

function say(placed: Placed, value: PlainValue | undefined, report: Report): void {
  if (value === undefined) return;
  const before = 'restated' in value ? value.restated : undefined;
  if (value.kind !== 'range') {
    say(placed, before, report);
    return;
  }
  if (!isReversed(value)) {
    say(placed, before, report);
    return;
  }
  // Both ends in both units the wrong way round are one slip.
  const edits = [value, before].flatMap((each) =>
    each?.kind === 'range' && isReversed(each)
      ? [
          { placed, span: each.low, text: each.high.text },
          { placed, span: each.high, text: each.low.text },
        ]
      : [],
  );
  const unit = value.unit === undefined ? '' : ` ${value.unit.text}`;
  const right = `${value.high.text}..${value.low.text}`;
  report(
    placed,
    { start: value.start, end: value.unit?.end ?? value.high.end },
    told`A range runs from the lowest to the highest: ${right}${unit}.`,
    {
      fixes: [{ title: told`Write ${right}${unit}`, edits }],
    },
  );
}

export const rangeReversed: DeclarationCheck = {
  code: 'unit/range-reversed',
  severity: 'error',
  scope: 'declaration',
  page,
  run(placed, _view, report) {
    for (const { value } of writtenValues(placed)) say(placed, value, report);
  },
};
