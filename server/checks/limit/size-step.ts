// A repair size that is not the standard size plus or minus its step: a dimension shifts by the whole step, a wall by half of it.
import { told } from '../../../grammar/told.ts';
import type { Dimension, PlainValue, Size, Statement, Value } from '../../../grammar/tree.ts';
import {
  compare,
  type Exact,
  minus,
  over,
  ratioOf,
  roundTo,
  times,
  toNumber,
  toText,
  wholeNumber,
  ZERO,
} from '../../mechanics/exact.ts';
import { repairSize } from '../../mechanics/fits.ts';
import type { Interval } from '../../mechanics/interval.ts';
import { factorOf, kindOf, unitText } from '../../mechanics/units.ts';
import { type Measure, measureOf } from '../../model/measure.ts';
import type { Part } from '../../model/view.ts';
import type { Extra, Report, ThingCheck } from '../check.ts';
import { change } from '../support.ts';
import page from './size-step.md';

interface Sized {
  readonly name: string;
  readonly measure: 'dimension' | 'wall';
  readonly value: PlainValue;
  readonly standard: PlainValue;
}

/** Pairs what a size writes with what the part has as standard: entry by entry where both go by place. */
function pairs(
  name: string,
  measure: 'dimension' | 'wall',
  value: Value | undefined,
  standard: Value | undefined,
): readonly Sized[] {
  if (value === undefined || standard === undefined) return [];
  if (value.kind === 'by-place') {
    return value.entries.flatMap((entry) => {
      const place = entry.places[0];
      const same =
        standard.kind === 'by-place'
          ? standard.entries.find((other) =>
              other.places.some(
                (each) => each.name?.text === place?.name?.text && each.from === place?.from && each.to === place?.to,
              ),
            )?.value
          : standard;
      return same === undefined ? [] : [{ name, measure, value: entry.value, standard: same }];
    });
  }
  return standard.kind === 'by-place' ? [] : [{ name, measure, value, standard }];
}

function sizedOf(part: Part, size: Size): readonly Sized[] {
  return (size.body?.statements ?? []).flatMap((each: Statement) => {
    if (each.kind === 'dimension')
      return pairs(
        each.name.text,
        'dimension',
        (each satisfies Dimension).value,
        part.dimensions.get(each.name.text)?.value,
      );
    return each.kind === 'value' && each.word === 'wall' ? pairs('wall', 'wall', each.value, part.wall) : [];
  });
}

/** Whether a figure is the right one, allowing for the last place where the right one has more places than are written. */
function isRight(stated: Exact, right: Exact, written: Measure): boolean {
  const unit = factorOf(written.unit);
  const own = over(right, unit);
  if (own === undefined || compare(roundTo(own, written.places), own) === 0) return compare(stated, right) === 0;
  const half = over(times(unit, ratioOf(1, 2) ?? ZERO), wholeNumber(10 ** written.places) ?? unit) ?? ZERO;
  return compare(minus(stated, right).abs(), half) <= 0;
}

function figures(
  right: Interval,
  written: Measure,
): { readonly low: string; readonly high: string; readonly nominal: string } {
  const unit = factorOf(written.unit);
  const text = (value: Exact): string => {
    const own = over(value, unit) ?? value;
    const places =
      [0, 1].map((more) => written.places + more).find((count) => compare(roundTo(own, count), own) === 0) ??
      written.places;
    return toText(own, places);
  };
  return { low: text(right.low), high: text(right.high), nominal: text(right.nominal) };
}

/** A repair size of a part in one of its sizes, as it would be written. */
export function sizeLine(part: Part, like: Size, feature: string): string | undefined {
  const isWall = feature === 'wall';
  const standard = isWall ? part.wall : part.dimensions.get(feature)?.value;
  const { step, direction, name } = like;
  if (standard === undefined || standard.kind === 'by-place' || step?.kind !== 'quantity' || direction === undefined)
    return undefined;
  const [written, by] = [measureOf(standard), measureOf(step)];
  if (written === undefined || by === undefined || kindOf(written.unit) !== 'length') return undefined;
  const text = figures(
    repairSize(written.interval, by.interval.nominal, direction, isWall ? 'wall' : 'dimension'),
    written,
  );
  const value = `${text.low === text.high ? text.low : `${text.low}..${text.high}`} ${unitText(written.unit)}`;
  const shown = `${step.number.text} ${unitText(by.unit)}`;
  return `size ${name.text} ${direction} ${shown} { ${isWall ? 'wall' : `dimension ${feature}`} ${value} }`;
}

function judge(
  part: Part,
  size: Size,
  direction: 'undersize' | 'oversize',
  step: Measure,
  stepText: string,
  sized: Sized,
  report: Report,
): void {
  const [stated, standard] = [measureOf(sized.value), measureOf(sized.standard)];
  if (
    stated === undefined ||
    standard === undefined ||
    kindOf(stated.unit) !== 'length' ||
    kindOf(standard.unit) !== 'length'
  )
    return;
  const right = repairSize(standard.interval, step.interval.nominal, direction, sized.measure);
  if (isRight(stated.interval.low, right.low, stated) && isRight(stated.interval.high, right.high, stated)) return;
  const text = figures(right, stated);
  const unit = unitText(stated.unit);
  const written = part.placed.section.text.slice(sized.value.start, sized.value.end).replace(/\s+/g, ' ');
  const whole = text.low === text.high ? `${text.low} ${unit}` : `${text.low}..${text.high} ${unit}`;
  const rule =
    sized.measure === 'wall'
      ? told`A shell for it is thicker by half of the step, since it counts on both sides`
      : told`A dimension shifts by the whole step`;
  let fixes: NonNullable<Extra['fixes']> = [];
  if (sized.value.kind === 'range' && sized.value.restated === undefined)
    fixes = [
      {
        title: told`Change ${written} to ${whole}`,
        edits: [
          { placed: part.placed, span: sized.value.low, text: text.low },
          { placed: part.placed, span: sized.value.high, text: text.high },
        ],
      },
    ];
  else if (sized.value.kind === 'quantity' && sized.value.restated === undefined)
    fixes = [change(part.placed, sized.value.number, text.nominal, told`Change ${written} to ${whole}`)];
  else if (sized.value.kind === 'tolerance' && sized.value.restated === undefined)
    fixes = [
      { title: told`Change ${written} to ${whole}`, edits: [{ placed: part.placed, span: sized.value, text: whole }] },
    ];
  report(
    part.placed,
    sized.value,
    told`${told.named(size.name.text)} is ${stepText} ${direction}, which makes ${sized.name} ${whole}, and here stands ${written}. ${rule}.`,
    {
      fixes,
      related: [{ placed: part.placed, span: sized.standard, message: told`The standard size.` }],
    },
  );
}

const figuresOf = (text: string): string => text.replace(/\D/g, '').replace(/^0+|0+$/g, '');

/** `over-50` is 0.50 mm or 0.050 in over: the figures of a step stand in its name, and those here are others. */
function sayName(part: Part, size: Size, step: Measure, stepText: string, report: Report): void {
  const named = /^(?:over|under)(?:size)?-?(\d{2,3})$/i.exec(size.name.text)?.[1];
  if (named === undefined || size.step?.kind !== 'quantity') return;
  const own = figuresOf(named);
  if (own === '' || size.step.number.text.includes('/')) return;
  // A name in hundredths of a millimetre goes with a step in inches, and the other way.
  const mm = toNumber(step.interval.nominal);
  const steps = [size.step.number.text, String(Math.round(mm * 100)), String(Math.round((mm / 25.4) * 1000))];
  if (steps.some((each) => figuresOf(each) === own)) return;
  report(
    part.placed,
    size.step,
    told`${told.named(size.name.text)} says ${named} by its name, and its step is ${stepText}. See which of the two is wrong.`,
    { severity: 'warning' },
  );
}

export const sizeStep: ThingCheck<'part'> = {
  code: 'limit/size-step',
  severity: 'error',
  scope: 'thing',
  of: ['part'],
  page,
  run(thing, _view, report) {
    for (const size of thing.sizes.values()) {
      if (
        size.kind !== 'size' ||
        size.direction === undefined ||
        size.step === undefined ||
        size.step.kind === 'by-place'
      )
        continue;
      const step = measureOf(size.step);
      if (step === undefined || kindOf(step.unit) !== 'length') continue;
      const stepText = thing.placed.section.text.slice(size.step.start, size.step.end).replace(/\s+/g, ' ');
      sayName(thing, size, step, stepText, report);
      for (const sized of sizedOf(thing, size)) judge(thing, size, size.direction, step, stepText, sized, report);
    }
  },
};
