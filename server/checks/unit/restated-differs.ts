// The same value printed in two units, held against each other at their printed precision, either way round.
import { told } from '../../../grammar/told.ts';
import type { NumberText, PlainValue, Tolerance } from '../../../grammar/tree.ts';
import { compareRestated, type RestatedVerdict } from '../../mechanics/restated.ts';
import type { Unit } from '../../mechanics/units.ts';
import { unitFrom } from '../../model/measure.ts';
import type { Placed } from '../../model/placed.ts';
import type { DeclarationCheck, Report } from '../check.ts';
import page from './restated-differs.md';
import nearPage from './restated-near.md';
import { writtenValues } from './written-values.ts';

type Numbers = readonly NumberText[];

/** The numbers of a value that are restated one by one; undefined for kinds that are not compared. */
function numbersOf(value: PlainValue): Numbers | undefined {
  switch (value.kind) {
    case 'quantity':
      return value.minutes === undefined ? [value.number] : undefined;
    case 'range':
      return [value.low, value.high];
    case 'tolerance':
      return [value.nominal, ...tolerancesOf(value)];
    case 'open':
      return value.value.kind === 'quantity' ? [value.value.number] : undefined;
    default:
      return undefined;
  }
}

/** What is allowed above and below: one figure where both are written as ±. */
function tolerancesOf(value: Tolerance): Numbers {
  return value.minus.start === value.plus.start ? [value.plus] : [value.plus, value.minus];
}

function unitOf(value: PlainValue): Unit | undefined {
  const text =
    value.kind === 'open'
      ? value.value.kind === 'quantity'
        ? value.value.unit
        : undefined
      : 'unit' in value
        ? value.unit
        : undefined;
  return text?.parts === undefined ? undefined : unitFrom(text.parts);
}

function unitText(value: PlainValue): string {
  return (
    (value.kind === 'open'
      ? value.value.kind === 'quantity'
        ? value.value.unit?.text
        : undefined
      : 'unit' in value
        ? value.unit?.text
        : undefined) ?? ''
  );
}

interface Compared {
  readonly first: NumberText;
  readonly second: NumberText;
  readonly verdict: RestatedVerdict;
}

function compare(value: PlainValue): readonly Compared[] | undefined {
  const restated = 'restated' in value ? value.restated : undefined;
  if (restated === undefined) return undefined;
  const [one, two] = [numbersOf(value), numbersOf(restated)];
  const [unit, other] = [unitOf(value), unitOf(restated)];
  if (one === undefined || two === undefined || unit === undefined || other === undefined || one.length !== two.length)
    return undefined;
  const pairs: Compared[] = [];
  for (const [i, first] of one.entries()) {
    const second = two[i];
    const verdict =
      second === undefined
        ? undefined
        : compareRestated(
            { text: first.text, unit },
            { text: second.text, unit: other },
            value.kind === 'tolerance' && i > 0 ? 'difference' : 'value',
          );
    if (second === undefined || verdict === undefined) return undefined;
    pairs.push({ first, second, verdict });
  }
  return pairs;
}

function signed(text: string): string {
  return /^[+-]/.test(text) ? text : `+${text}`;
}

function say(placed: Placed, value: PlainValue, wanted: 'differs' | 'near', report: Report): void {
  const pairs = compare(value);
  const restated = 'restated' in value ? value.restated : undefined;
  if (pairs === undefined || restated === undefined) return;
  const worst = pairs.some((pair) => pair.verdict.verdict === 'differs')
    ? 'differs'
    : pairs.some((pair) => pair.verdict.verdict === 'near')
      ? 'near'
      : 'agrees';
  if (worst !== wanted) return;
  const texts = (numbers: readonly string[]): string => {
    const [nominal = '', above = '', under] = numbers;
    if (value.kind !== 'tolerance') return numbers.join('..');
    return under === undefined ? `${nominal} ±${above}` : `${nominal} ${signed(above)} ${signed(under)}`;
  };
  const written = (numbers: Numbers, unit: string): string => `${texts(numbers.map((number) => number.text))} ${unit}`;
  const [unit, other] = [unitText(value), unitText(restated)];
  const first = written(
    pairs.map((pair) => pair.first),
    unit,
  );
  const second = written(
    pairs.map((pair) => pair.second),
    other,
  );
  const right = pairs.map((pair) => pair.verdict.firstInSecond);
  const back = pairs.map((pair) => pair.verdict.secondInFirst);
  const fixes = [
    {
      title: told`Change ${second} to ${texts(right)} ${other}`,
      edits: pairs.map((pair, i) => ({ placed, span: pair.second, text: right[i] ?? '' })),
    },
    {
      title: told`Change ${first} to ${texts(back)} ${unit}`,
      edits: pairs.map((pair, i) => ({ placed, span: pair.first, text: back[i] ?? '' })),
    },
  ].filter((fix) => fix.edits.every((edit) => edit.text !== ''));
  const message =
    wanted === 'differs'
      ? told`${first} and ${second} are not the same: ${first} is ${texts(right)} ${other}, and ${second} is ${texts(back)} ${unit}. See which one the source means.`
      : told`${second} is one off in the last place: ${first} is ${texts(right)} ${other}.`;
  report(placed, restated, message, { fixes });
}

function run(wanted: 'differs' | 'near'): DeclarationCheck['run'] {
  return (placed, _view, report) => {
    for (const { value } of writtenValues(placed)) say(placed, value, wanted, report);
  };
}

export const restatedDiffers: DeclarationCheck = {
  code: 'unit/restated-differs',
  severity: 'error',
  scope: 'declaration',
  page,
  run: run('differs'),
};
export const restatedNear: DeclarationCheck = {
  code: 'unit/restated-near',
  severity: 'information',
  scope: 'declaration',
  page: nearPage,
  run: run('near'),
};
