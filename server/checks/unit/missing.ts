// A number without a unit where one is needed.
import type { PlainValue } from '../../../grammar/tree.ts';
import { USUAL_UNIT } from '../../../grammar/vocabulary/units.ts';
import type { Placed } from '../../model/placed.ts';
import type { DeclarationCheck, Report } from '../check.ts';
import { insert } from '../support.ts';
import page from './missing.md';
import { type Written, writtenValues } from './written-values.ts';

const BARE_IS_RIGHT = new Set(['ratio', 'any']);

function unitOf(value: PlainValue): string | undefined {
  return 'unit' in value ? value.unit?.text : undefined;
}

/** The unit to offer: that of the other values of a list, else the usual one of the kind. */
function offered(written: Written): string {
  const neighbour = written.list?.map(unitOf).find((unit) => unit !== undefined);
  return neighbour ?? USUAL_UNIT[written.kinds[0] ?? 'length'] ?? 'mm';
}

function say(placed: Placed, written: Written, report: Report): void {
  const { value } = written;
  if (value.kind !== 'quantity' && value.kind !== 'range' && value.kind !== 'tolerance') return;
  if (written.kinds.length === 0 || written.kinds.some((kind) => BARE_IS_RIGHT.has(kind))) return;
  const sayAt = (part: PlainValue): void => {
    if (!('unit' in part) && (part.kind === 'quantity' || part.kind === 'range' || part.kind === 'tolerance')) {
      const unit = offered(written);
      const end =
        part.kind === 'quantity'
          ? part.number.end
          : part.kind === 'range'
            ? part.high.end
            : Math.max(part.plus.end, part.minus.end);
      const text = placed.section.text.slice(part.start, end);
      report(
        placed,
        { start: part.start, end },
        `${text} has no unit. After ${written.word} a number needs one: is ${text} ${unit} meant?`,
        { fixes: [insert(placed, end, ` ${unit}`, `Write ${text} ${unit}`)] },
      );
    }
  };
  sayAt(value);
  if (value.restated !== undefined) sayAt(value.restated);
}

export const missing: DeclarationCheck = {
  code: 'unit/missing',
  severity: 'error',
  scope: 'declaration',
  page,
  run(placed, _view, report) {
    for (const written of writtenValues(placed)) say(placed, written, report);
  },
};
