// A number without a unit where one is needed.

import { lookUp } from '../../../grammar/look-up.ts';
import { type Told, told } from '../../../grammar/told.ts';
import type { PlainValue } from '../../../grammar/tree.ts';
import { USUAL_UNIT } from '../../../grammar/vocabulary/units.ts';
import { kindName, kindOfDimension, type UnitKind } from '../../mechanics/units.ts';
import type { BuiltView } from '../../model/build-view.ts';
import { bareSide, dimensionsOf, isPlain } from '../../model/expression-kind.ts';
import { plainValues } from '../../model/measure.ts';
import type { Placed } from '../../model/placed.ts';
import { showsInches } from '../../model/units-shown.ts';
import type { DeclarationCheck, Report } from '../check.ts';
import { insert } from '../support.ts';
import page from './missing.md';
import { type Written, writtenValues } from './written-values.ts';

const BARE_IS_RIGHT = new Set(['ratio', 'any']);

/** What a measured limit of a kind measures. Kinds that are not here may have a bare number. */
const KIND_OF_RULE: Readonly<Partial<Record<string, UnitKind>>> = {
  'oil-clearance': 'length',
  'ring-gap': 'length',
  'ring-side-clearance': 'length',
  'end-play': 'length',
  'side-clearance': 'length',
  'piston-clearance': 'length',
  'pin-clearance': 'length',
  'guide-clearance': 'length',
  'valve-lash': 'length',
  'piston-to-valve': 'length',
  squish: 'length',
  protrusion: 'length',
  'press-fit': 'length',
  runout: 'length',
  'out-of-round': 'length',
  taper: 'length',
  'spring-load': 'force',
  volume: 'volume',
};

function unitOf(value: PlainValue): string | undefined {
  return 'unit' in value ? value.unit?.text : undefined;
}

/** The usual units of a spec that shows inches first, where they differ. */
const USUAL_INCH: Readonly<Partial<Record<string, string>>> = {
  length: 'in',
  torque: 'lbf.ft',
  force: 'lbf',
  pressure: 'psi',
  volume: 'in3',
  mass: 'lb',
  temperature: 'degF',
  'spring-rate': 'lbf/in',
};

/** The unit to offer: that of the other values of a list, else the usual one of the kind. */
function offered(kind: string | undefined, list: readonly PlainValue[] | undefined, view: BuiltView): string {
  const neighbour = list?.map(unitOf).find((unit) => unit !== undefined);
  if (neighbour !== undefined) return neighbour;
  const usual = lookUp(USUAL_UNIT, kind ?? 'length') ?? 'mm';
  return showsInches(view) ? (lookUp(USUAL_INCH, kind ?? 'length') ?? usual) : usual;
}

/** Where the number of a value that has no unit ends; undefined for one that has a unit, or is no number. */
function bareEnd(value: PlainValue): number | undefined {
  if (value.kind !== 'quantity' && value.kind !== 'range' && value.kind !== 'tolerance') return undefined;
  if (value.unit !== undefined) return undefined;
  return value.kind === 'quantity'
    ? value.number.end
    : value.kind === 'range'
      ? value.high.end
      : Math.max(value.plus.end, value.minus.end);
}

function say(placed: Placed, value: PlainValue, word: Told, unit: () => string, report: Report): void {
  const end = bareEnd(value);
  if (end === undefined) return;
  const text = placed.section.text.slice(value.start, end);
  report(
    placed,
    { start: value.start, end },
    told`${text} has no unit. ${word} a number needs one: is ${text} ${unit()} meant?`,
    { fixes: [insert(placed, end, ` ${unit()}`, told`Write ${text} ${unit()}`)] },
  );
}

function sayWritten(placed: Placed, written: Written, view: BuiltView, report: Report): void {
  const { value } = written;
  if (written.kinds.length === 0 || written.kinds.some((kind) => BARE_IS_RIGHT.has(kind))) return;
  const unit = (): string => offered(written.kinds[0], written.list, view);
  say(placed, value, told`After ${written.word}`, unit, report);
  if ('restated' in value && value.restated !== undefined)
    say(placed, value.restated, told`After ${written.word}`, unit, report);
}

/** The kind of unit that the bounds of a limit must have; undefined where a bare number may be right. */
function kindOfLimit(placed: Placed, view: BuiltView, report: Report): UnitKind | undefined {
  const limit = placed.declaration.limit;
  if (limit === undefined) return undefined;
  if (limit.expression === undefined) return lookUp(KIND_OF_RULE, limit.kind?.word ?? 'other');
  const dimension = dimensionsOf(limit.expression, view, (_operator, left, right, where) => {
    const side = bareSide(where);
    const kind = kindOfDimension(isPlain(left) ? right : left);
    if (side !== undefined)
      say(placed, side, told`In a sum with other kinds`, () => offered(kind, undefined, view), report);
  });
  return dimension === undefined || isPlain(dimension) ? undefined : kindOfDimension(dimension);
}

export const missing: DeclarationCheck = {
  code: 'unit/missing',
  severity: 'error',
  scope: 'declaration',
  page,
  run(placed, view, report) {
    for (const written of writtenValues(placed)) sayWritten(placed, written, view, report);
    const limit = placed.declaration.limit;
    const kind = kindOfLimit(placed, view, report);
    if (limit === undefined || kind === undefined) return;
    const bounds = [...plainValues(limit.within), ...plainValues(limit.wearLimit)].map((bound) =>
      bound.kind === 'open' && bound.value.kind === 'quantity' ? bound.value : bound,
    );
    for (const bound of bounds)
      say(placed, bound, told`Here ${kindName(kind)} is wanted, and`, () => offered(kind, bounds, view), report);
  },
};
