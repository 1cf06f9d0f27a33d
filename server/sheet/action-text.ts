// Values, places, positions of the crankshaft and bounds as a rebuilder reads them. Plain text, no markup.

import { lookUp } from '../../grammar/look-up.ts';
import { speak, spoken } from '../../grammar/spoken.ts';
import { type Told, told } from '../../grammar/told.ts';
import type {
  Crank,
  CrankPosition,
  Expression,
  Place,
  PlainValue,
  Reference,
  Run,
  Value,
  Wait,
} from '../../grammar/tree.ts';
import { textOf } from '../model/value-text.ts';

export function placesText(places: readonly Place[]): string {
  return places
    .map((place, i) => {
      const numbers =
        place.from === undefined
          ? ''
          : place.to === undefined || place.to === place.from
            ? String(place.from)
            : spoken`${place.from} to ${place.to}`;
      // `upper 1, 3`: the name is said once.
      const name = i > 0 && numbers !== '' && places[i - 1]?.name === place.name ? undefined : place.name?.text;
      return [name, numbers].filter((each) => each !== undefined && each !== '').join(' ');
    })
    .join(', ');
}

export function referenceText(reference: Reference): string {
  const places = placesText(reference.places);
  return `${reference.owner.text}${reference.feature === undefined ? '' : ` ${reference.feature.text}`}${places === '' ? '' : `, ${places}`}`;
}

export function valueText(value: Value | undefined): string {
  if (value === undefined) return '';
  if (value.kind === 'by-place')
    return value.entries.map((entry) => `${placesText(entry.places)}: ${plainText(entry.value)}`).join('; ');
  return plainText(value);
}

/** How tightly what an expression is made of holds together: a sum the least. */
function holds(expression: Expression): number {
  if (expression.kind === 'binary') return expression.operator === '+' || expression.operator === '-' ? 1 : 2;
  return expression.kind === 'negated' ? 1 : 3;
}

/** A sum as it is read, in brackets where it would be another without them. `called`: what is said for a name. */
export function sumText(expression: Expression, called: (reference: Reference) => string = referenceText): string {
  const inside = (each: Expression, least: number): string => {
    const text = sumText(each, called);
    return holds(each) < least ? `(${text})` : text;
  };
  switch (expression.kind) {
    case 'quantity':
      return textOf(expression);
    case 'negated':
      return `-${inside(expression.operand, 3)}`;
    case 'binary': {
      const own = holds(expression);
      const { operator } = expression;
      const right = operator === '-' || operator === '/' ? own + 1 : own;
      return `${inside(expression.left, own)} ${operator === '*' ? '×' : operator} ${inside(expression.right, right)}`;
    }
    case 'call':
      return `${expression.name.text}(${expression.operands.map((each) => sumText(each, called)).join(', ')})`;
    case 'reference':
      return called(expression.reference);
  }
}

/** `0.30..0.35 mm` as it is read: `0.30 to 0.35 mm`. */
export function readRange(text: string): string {
  const at = text.indexOf('..');
  return at < 0 ? text : spoken`${text.slice(0, at)} to ${text.slice(at + 2)}`;
}

/** A plain value as it is read at the bench. */
export function plainValueText(value: PlainValue): string {
  return plainText(value);
}

function plainText(value: PlainValue): string {
  if (value.kind === 'open') {
    const restated = value.restated === undefined ? '' : ` (${plainText(value.restated)})`;
    const sum = sumText(value.value);
    return `${value.side === 'at-least' ? spoken`at least ${sum}` : spoken`at most ${sum}`}${restated}`;
  }
  const restated = 'restated' in value && value.restated !== undefined ? ` (${plainText(value.restated)})` : '';
  return readRange(textOf(value)) + restated;
}

const FROM: Readonly<Record<string, Told>> = {
  btdc: told`before top dead centre`,
  atdc: told`after top dead centre`,
  bbdc: told`before bottom dead centre`,
  abdc: told`after bottom dead centre`,
  tdc: told`at top dead centre`,
  bdc: told`at bottom dead centre`,
};

export function partWayText(partWay: { readonly short?: Value } | undefined): string {
  if (partWay === undefined) return '';
  return partWay.short === undefined ? spoken`part-way` : spoken`part-way, ${valueText(partWay.short)} short of home`;
}

function timeText({ for: time }: Pick<Run, 'for'>): string {
  return time === undefined ? '' : spoken` for ${valueText(time)}`;
}

function endText({ until, untilText }: Pick<Run, 'until' | 'untilText'>): string {
  const end = untilText?.value ?? (until === undefined ? undefined : spoken`${valueText(until)} is reached`);
  return end === undefined ? '' : spoken`, until ${end}`;
}

/** Where the crankshaft stands, in words: `10 deg before top dead centre of cylinder 1, on compression`. */
export function positionText({ tdc, angle, from, cylinder, stroke }: CrankPosition): string {
  const on = (choice: { readonly word: string } | undefined): string =>
    choice === undefined ? '' : spoken`, on ${told.term(choice.word)}`;
  if (tdc !== undefined) return spoken`top dead centre of cylinder ${tdc.cylinder.value}${on(tdc.stroke)}`;
  const of = cylinder === undefined ? '' : spoken` of cylinder ${cylinder.value}`;
  if (angle === undefined) return spoken`bottom dead centre${of}${on(stroke)}`;
  const where = from === undefined ? '' : ` ${speak(lookUp(FROM, from.word) ?? from.word)}`;
  return `${valueText(angle)}${where}${of}${on(stroke)}`;
}

/** What is done with the running engine, or while nothing is done. */
export function runText(statement: Run | Crank | Wait): string {
  switch (statement.kind) {
    case 'run': {
      const under =
        statement.under === undefined ? '' : spoken` under ${told.term(statement.under.word.replace('-', ' '))}`;
      const at = statement.at === undefined ? '' : spoken` at ${valueText(statement.at)}`;
      return spoken`Run the engine${at}${under}${timeText(statement)}${endText(statement)}`;
    }
    case 'crank':
      return spoken`Turn the engine on the starter${timeText(statement)}${endText(statement)}`;
    case 'wait':
      return spoken`Wait ${valueText(statement.time)}`;
  }
}
