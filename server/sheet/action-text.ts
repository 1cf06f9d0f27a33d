// An action of a step as a rebuilder would say it. Plain text, no markup.
import { lookUp } from '../../grammar/look-up.ts';
import type {
  CrankPosition,
  Expression,
  Place,
  PlainValue,
  Reference,
  Run,
  Statement,
  Value,
} from '../../grammar/tree.ts';
import type { ActionWord } from '../../grammar/vocabulary.ts';
import { textOf } from '../model/expression.ts';
import type { Limit } from '../model/view.ts';

export function placesText(places: readonly Place[]): string {
  return places
    .map((place, i) => {
      const numbers =
        place.from === undefined
          ? ''
          : place.to === undefined || place.to === place.from
            ? String(place.from)
            : `${place.from} to ${place.to}`;
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

function sumText(expression: Expression): string {
  switch (expression.kind) {
    case 'quantity':
      return textOf(expression);
    case 'negated':
      return `-${sumText(expression.operand)}`;
    case 'binary':
      return `${sumText(expression.left)} ${expression.operator === '*' ? '×' : expression.operator} ${sumText(expression.right)}`;
    case 'call':
      return `${expression.name.text}(${expression.operands.map(sumText).join(', ')})`;
    case 'reference':
      return referenceText(expression.reference);
  }
}

/** A plain value as it is read at the bench. */
export function plainValueText(value: PlainValue): string {
  return plainText(value);
}

function plainText(value: PlainValue): string {
  if (value.kind === 'open') {
    const restated = value.restated === undefined ? '' : ` (${plainText(value.restated)})`;
    return `${value.side === 'at-least' ? 'at least' : 'at most'} ${sumText(value.value)}${restated}`;
  }
  const restated = 'restated' in value && value.restated !== undefined ? ` (${plainText(value.restated)})` : '';
  return textOf(value).replace('..', ' to ') + restated;
}

const VERBS: Readonly<Record<ActionWord, string>> = {
  fit: 'Fit',
  'push-home': 'Push home',
  'line-up': 'Line up',
  remove: 'Take off',
  tighten: 'Tighten',
  snug: 'Run in until it seats:',
  loosen: 'Undo',
  secure: 'Secure',
  renew: 'Lay out new:',
  lubricate: 'Lubricate',
  seal: 'Seal',
  clean: 'Clean',
  inspect: 'Inspect',
  measure: 'Measure',
  adjust: 'Adjust',
  machine: 'Machine',
  'hold-back': 'Hold back',
  release: 'Let go',
  pin: 'Pin',
  unpin: 'Take the pin out of',
  align: 'Put together by its marks:',
  drain: 'Drain',
  fill: 'Fill',
  bleed: 'Bleed',
  prime: 'Prime',
  connect: 'Connect',
  disconnect: 'Disconnect',
  plug: 'Plug',
  unplug: 'Unplug',
  mask: 'Mask',
  unmask: 'Take the masking off',
  support: 'Support',
  lift: 'Lift',
};
const FROM: Readonly<Record<string, string>> = {
  btdc: 'before top dead centre',
  atdc: 'after top dead centre',
  bbdc: 'before bottom dead centre',
  abdc: 'after bottom dead centre',
  tdc: 'at top dead centre',
  bdc: 'at bottom dead centre',
};

function turnsText(amount: PlainValue): string {
  return plainText(amount).replace(/^(?!1 )(.*) turn$/, '$1 turns');
}

/** Several in a row: `a, b and c`; with places among them, semicolons keep them apart. */
function targetsText(targets: readonly Reference[]): string {
  const texts = targets.map(referenceText);
  if (targets.some((target) => target.places.length > 0)) return texts.join('; ');
  return texts.length < 2 ? (texts[0] ?? '') : `${texts.slice(0, -1).join(', ')} and ${texts[texts.length - 1]}`;
}

export function partWayText(partWay: { readonly short?: Value } | undefined): string {
  if (partWay === undefined) return '';
  return partWay.short === undefined ? 'part-way' : `part-way, ${valueText(partWay.short)} short of home`;
}

function howLongText({ for: time, until, untilText }: Pick<Run, 'for' | 'until' | 'untilText'>): string {
  const end = untilText?.value ?? (until === undefined ? undefined : `${valueText(until)} is reached`);
  return `${time === undefined ? '' : ` for ${valueText(time)}`}${end === undefined ? '' : `, until ${end}`}`;
}

/** Where the crankshaft stands, in words: `10 deg before top dead centre of cylinder 1, on compression`. */
export function positionText({ tdc, angle, from, cylinder, stroke }: CrankPosition): string {
  const on = (choice: { readonly word: string } | undefined): string =>
    choice === undefined ? '' : `, on ${choice.word}`;
  if (tdc !== undefined) return `top dead centre of cylinder ${tdc.cylinder.value}${on(tdc.stroke)}`;
  const of = cylinder === undefined ? '' : ` of cylinder ${cylinder.value}`;
  if (angle === undefined) return `bottom dead centre${of}${on(stroke)}`;
  const where = from === undefined ? '' : ` ${lookUp(FROM, from.word) ?? from.word}`;
  return `${valueText(angle)}${where}${of}${on(stroke)}`;
}

/** The bounds of a limit with the length or the size that they are for. */
export function boundsText({ within, over, at, forEach }: Limit): string {
  const length = over === undefined ? '' : ` over ${valueText(over)}`;
  const each = forEach === undefined ? '' : ` for each ${valueText(forEach.size)} of ${referenceText(forEach.of)}`;
  const when = at === undefined ? '' : ` at ${valueText(at)}`;
  return `${valueText(within)}${length}${when}${each}`;
}

/** What a statement of a step tells to do; undefined for remarks and what is no action. */
export function actionText(statement: Statement): string | undefined {
  switch (statement.kind) {
    case 'action': {
      const parts = [
        `${VERBS[statement.word]} ${targetsText(statement.targets)}`,
        statement.again === true ? 'again' : '',
        statement.together ? 'together' : '',
        statement.mate === undefined ? '' : `${statement.mate.word} ${referenceText(statement.mate.reference)}`,
        statement.method === undefined ? '' : `by ${statement.method.word}`,
        statement.at === undefined ? '' : `at ${valueText(statement.at)}`,
        partWayText(statement.partWay),
        statement.stage === undefined ? '' : `to stage ${statement.stage.value}`,
        statement.to === undefined ? '' : `to ${statement.to.text}`,
        statement.with === undefined ? '' : `with ${referenceText(statement.with)}`,
        statement.amount === undefined ? '' : valueText(statement.amount),
        statement.withText === undefined ? '' : `with ${statement.withText.value}`,
        statement.byText === undefined ? '' : `by ${statement.byText.value}`,
        statement.forText === undefined ? '' : `for ${statement.forText.value}`,
        statement.otherwise === undefined
          ? ''
          : `(otherwise ${statement.otherwise.map((text) => text.value).join('; then ')})`,
      ];
      const [first = '', ...rest] = parts.filter((part) => part !== '');
      const placed = statement.targets.some((target) => target.places.length > 0);
      return rest.length === 0 ? first : `${first}${placed ? ',' : ''} ${rest.join(' ')}`;
    }
    case 'set':
      if (statement.mark !== undefined)
        return `Set ${statement.shaft.text} with its ${statement.mark.text} at ${valueText(statement.at)}`;
      return `Turn ${statement.shaft.text} to ${positionText(statement)}`;
    case 'rotate':
      return `Turn ${statement.shaft.text} by hand, ${turnsText(statement.amount)}${statement.direction === undefined ? '' : ` ${statement.direction.word}`}`;
    case 'confirm':
      return `Prove ${referenceText(statement.target)}${statement.by === undefined ? '' : ` by ${statement.by.word}`}${statement.at === undefined ? '' : ` at ${valueText(statement.at)}`}`;
    case 'run': {
      const under = statement.under === undefined ? '' : ` under ${statement.under.word.replace('-', ' ')}`;
      return `Run the engine${statement.at === undefined ? '' : ` at ${valueText(statement.at)}`}${under}${howLongText(statement)}`;
    }
    case 'crank':
      return `Turn the engine on the starter${howLongText(statement)}`;
    case 'wait':
      return `Wait ${valueText(statement.time)}`;
    default:
      return undefined;
  }
}
