// A range whose first value is the larger one.
import type { PlainValue } from '../../../grammar/tree.ts';
import { compare, exact } from '../../mechanics/exact.ts';
import type { Placed } from '../../model/placed.ts';
import type { Report, SpecCheck } from '../check.ts';
import page from './range-reversed.md';
import { writtenValues } from './written-values.ts';

function say(placed: Placed, value: PlainValue | undefined, report: Report): void {
  if (value === undefined) return;
  if ('restated' in value) say(placed, value.restated, report);
  if (value.kind !== 'range') return;
  const [low, high] = [exact(value.low.text), exact(value.high.text)];
  if (low === undefined || high === undefined || compare(low, high) <= 0) return;
  const unit = value.unit === undefined ? '' : ` ${value.unit.text}`;
  const right = `${value.high.text}..${value.low.text}`;
  report(placed, { start: value.start, end: value.unit?.end ?? value.high.end }, `A range runs from the lowest to the highest: ${right}${unit}.`, {
    fixes: [{ title: `Write ${right}${unit}`, edits: [{ placed, span: value.low, text: value.high.text }, { placed, span: value.high, text: value.low.text }] }],
  });
}

export const rangeReversed: SpecCheck = {
  code: 'unit/range-reversed', severity: 'error', scope: 'spec', page,
  run({ file, report }) {
    for (const placed of file.declarations.flatMap((each) => [each, ...each.steps])) {
      if (placed === undefined) continue;
      for (const { value } of writtenValues(placed)) say(placed, value, report);
    }
  },
};
