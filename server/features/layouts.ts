// The layouts that a first spec can be begun with, and the firing orders that are usual for each. From an order, the banks and even firing
// the crankpins follow. The orders are from memory unless tests/mechanics/firing-order.test.ts names a source.

import { lookUp } from '../../grammar/look-up.ts';
import { withinTurn } from '../mechanics/piston-tops.ts';

export interface Layout {
  readonly cylinders: number;
  readonly layout: 'inline' | 'flat' | 'vee' | 'radial';
  /** Degrees between the banks of a vee. */
  readonly angle?: number;
}

/** How the cylinders are numbered over two banks, seen from the front. */
type Numbering = 'odd-left' | 'odd-right' | 'along-left' | 'along-right';

/** A usual firing order, with the lines that go with it. */
export interface Crank {
  readonly order: string;
  readonly bank: { readonly left: readonly number[]; readonly right: readonly number[] } | undefined;
  readonly pins: readonly { readonly cylinders: readonly number[]; readonly angle: number }[];
}

/** The usual orders of a four-stroke, the commonest first. */
const ORDERS: Readonly<Record<string, readonly (readonly [order: string, numbering?: Numbering])[]>> = {
  '2 inline': [['1-2']],
  '3 inline': [['1-3-2'], ['1-2-3']],
  '4 inline': [['1-3-4-2'], ['1-2-4-3']],
  '5 inline': [['1-2-4-5-3']],
  '6 inline': [['1-5-3-6-2-4']],
  '8 inline': [['1-6-2-5-8-3-7-4']],
  '2 flat': [['1-2', 'odd-right']],
  '4 flat': [
    ['1-3-2-4', 'odd-right'],
    ['1-4-3-2', 'along-right'],
  ],
  '6 flat': [
    ['1-6-3-2-5-4', 'odd-right'],
    ['1-4-5-2-3-6', 'odd-right'],
    ['1-6-2-4-3-5', 'along-right'],
  ],
  '2 vee': [['1-2', 'odd-right']],
  '4 vee': [['1-3-4-2', 'along-left']],
  '6 vee': [
    ['1-2-3-4-5-6', 'odd-left'],
    ['1-6-5-4-3-2', 'odd-right'],
    ['1-4-2-5-3-6', 'along-left'],
  ],
  '8 vee': [
    ['1-8-4-3-6-5-7-2', 'odd-right'],
    ['1-8-7-2-6-5-4-3', 'odd-right'],
    ['1-5-4-2-6-3-7-8', 'along-left'],
    ['1-3-7-2-6-5-4-8', 'along-left'],
  ],
  '10 vee': [['1-6-5-10-2-7-3-8-4-9', 'along-left']],
  '12 vee': [
    ['1-7-5-11-3-9-6-12-2-8-4-10', 'along-left'],
    ['1-12-5-8-3-10-6-7-2-11-4-9', 'along-left'],
  ],
};

/** The usual angle between the banks, by the number of cylinders. */
const ANGLES: Readonly<Record<string, number>> = { 2: 90, 4: 60, 6: 60, 8: 90, 10: 72, 12: 60 };

/** How many cylinders are commonest. */
const COMMONEST: Readonly<Record<Layout['layout'], number>> = { inline: 4, flat: 4, vee: 8, radial: 7 };

/** What may be asked for, in words. */
export const LAYOUT_WORDS: readonly string[] = ['inline', 'vee', 'flat', 'radial'];

/** What is begun where nothing is said and nobody can be asked. */
export const COMMONEST_LAYOUT = '4 inline';

/** Reads a layout as in `cylinders`: `4 inline`, `8 vee 90 deg`, `2 flat`; a bare word takes the usual number. Undefined for anything else. */
export function readLayout(text: string): Layout | undefined {
  const match = /^(?:(\d{1,2})\s+)?(inline|flat|vee|radial)(?:\s+(\d{1,3})(?:\s*(?:deg|°))?)?$/i.exec(text.trim());
  if (match === null) return undefined;
  const layout = (match[2] ?? 'inline').toLowerCase() as Layout['layout'];
  const cylinders = match[1] === undefined ? COMMONEST[layout] : Number(match[1]);
  if (cylinders < 1 || cylinders > 18) return undefined;
  if ((layout === 'vee' || layout === 'flat') && cylinders % 2 !== 0) return undefined;
  // One row of a radial that fires evenly has an odd number.
  if (layout === 'radial' && (cylinders < 3 || cylinders > 9 || cylinders % 2 === 0)) return undefined;
  if (layout !== 'vee') return { cylinders, layout };
  return {
    cylinders,
    layout,
    angle: match[3] === undefined ? (lookUp(ANGLES, `${cylinders}`) ?? 60) : Number(match[3]),
  };
}

function numbers(cylinders: number): readonly number[] {
  return Array.from({ length: cylinders }, (_, i) => i + 1);
}

function banksOf({ cylinders }: Layout, numbering: Numbering): { left: readonly number[]; right: readonly number[] } {
  const [how, first] = numbering.split('-');
  const isFirst = (number: number): boolean => (how === 'odd' ? number % 2 === 1 : number <= cylinders / 2);
  const isRight = (number: number): boolean => isFirst(number) === (first === 'right');
  const all = numbers(cylinders);
  return { left: all.filter((each) => !isRight(each)), right: all.filter(isRight) };
}

/**
 * The crankpins on which an order fires evenly. A cylinder is at its top when the crank has turned by the direction in which the cylinder
 * lies, less the angle of its pin; so the pin's angle is the direction less the angle at which it fires.
 */
function crankOf(layout: Layout, order: string, numbering: Numbering | undefined): Crank {
  const fires = order.split('-').map(Number);
  const bank = numbering === undefined ? undefined : banksOf(layout, numbering);
  const half = (layout.layout === 'flat' ? 180 : (layout.angle ?? 0)) / 2;
  const direction = (number: number): number => (bank === undefined ? 0 : bank.left.includes(number) ? -half : half);
  // A vee-twin has one pin: it fires when its pistons come up, however uneven that is.
  const isOnePin = layout.layout === 'vee' && layout.cylinders === 2;
  const pinOf = (number: number): number => {
    if (isOnePin) return 0;
    const fired = (fires.indexOf(number) * 720) / layout.cylinders;
    return withinTurn(direction(number) - direction(1) - fired);
  };
  const pins = new Map<number, number[]>();
  for (const number of numbers(layout.cylinders)) {
    // The cylinders of a flat engine have a pin each.
    const key = layout.layout === 'flat' ? number : pinOf(number);
    pins.set(key, [...(pins.get(key) ?? []), number]);
  }
  return {
    order,
    bank,
    pins: [...pins.values()].map((cylinders) => ({ cylinders, angle: pinOf(cylinders[0] ?? 1) })),
  };
}

/** The usual cranks of a layout, the commonest first; none where none is usual. */
export function usualCranks(layout: Layout): readonly Crank[] {
  const { cylinders } = layout;
  if (layout.layout === 'radial') {
    // Every other one, twice round: with an odd number in the row all fire evenly.
    const odd = numbers(cylinders).filter((each) => each % 2 === 1);
    const even = numbers(cylinders).filter((each) => each % 2 === 0);
    return [
      { order: [...odd, ...even].join('-'), bank: undefined, pins: [{ cylinders: numbers(cylinders), angle: 0 }] },
    ];
  }
  if (cylinders === 1) return [{ order: '', bank: undefined, pins: [{ cylinders: [1], angle: 0 }] }];
  return (lookUp(ORDERS, `${cylinders} ${layout.layout}`) ?? []).map(([order, numbering]) =>
    crankOf(layout, order, numbering),
  );
}

/** The lines of an engine that say how the crankpins and the banks lie. */
export function crankLines({ bank, pins }: Crank): readonly string[] {
  return [
    ...(bank === undefined ? [] : [`bank left ${bank.left.join(', ')}`, `bank right ${bank.right.join(', ')}`]),
    ...pins.map(({ cylinders, angle }) => `crankpin ${cylinders.join(', ')} at ${angle} deg`),
  ];
}
