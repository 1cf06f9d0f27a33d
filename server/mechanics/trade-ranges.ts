// What the trade holds usual for clearances and gaps, and what is far outside it. Millimetres. These are rules of thumb, never limits:
// a spec's own limits count, and what is said here is worth knowing, no more.

import type { Band } from './preload.ts';

export type LimitKind =
  | 'oil-clearance'
  | 'ring-gap'
  | 'ring-side-clearance'
  | 'end-play'
  | 'piston-clearance'
  | 'piston-to-valve'
  | 'squish'
  | 'rod-side-clearance'
  | 'stem-clearance'
  | 'backlash';

/**
 * `usual` is the rule; `far` what no published engine that was looked at goes beyond, by a margin. Both in mm at the size asked for.
 * `rule` says it in words, `source` where it is from.
 */
export type TradeRange = {
  readonly usual: { readonly low: number; readonly high: number };
  readonly far: { readonly low: number; readonly high: number };
  readonly rule: string;
  readonly source: string;
};

type Rule = {
  /** Whether the figures are for each mm of diameter, or mm as they are. */
  readonly by: 'diameter' | 'length';
  readonly usual: readonly [number, number];
  readonly far: readonly [number, number];
  readonly rule: string;
};

const INCH = 25.4;
const PRACTICE = 'common practice, no source; widened to hold the published clearances of several army manuals';

const RULES: Readonly<Record<LimitKind, Rule>> = {
  'oil-clearance': {
    by: 'diameter',
    usual: [0.00075, 0.001],
    far: [0.00015, 0.003],
    rule: '0.00075 to 0.0010 for each unit of journal diameter',
  },
  'ring-gap': {
    by: 'diameter',
    usual: [0.0035, 0.0045],
    far: [0.0015, 0.0125],
    rule: 'about 0.004 for each unit of bore, top ring, naturally aspirated',
  },
  'ring-side-clearance': {
    by: 'length',
    usual: [0.0015 * INCH, 0.004 * INCH],
    far: [0.0005 * INCH, 0.012 * INCH],
    rule: '0.04 to 0.10 mm (0.0015 to 0.004 in)',
  },
  'end-play': {
    by: 'length',
    usual: [0.004 * INCH, 0.008 * INCH],
    far: [0.001 * INCH, 0.04 * INCH],
    rule: '0.10 to 0.20 mm (0.004 to 0.008 in)',
  },
  'piston-clearance': {
    by: 'diameter',
    usual: [0.0005, 0.0015],
    far: [0.0001, 0.006],
    rule: '0.0005 to 0.0015 for each unit of bore',
  },
  'piston-to-valve': {
    by: 'length',
    usual: [0.08 * INCH, 0.15 * INCH],
    far: [0.02 * INCH, 1 * INCH],
    rule: 'at least 2.0 mm (0.080 in) inlet, 2.5 mm (0.100 in) exhaust',
  },
  squish: {
    by: 'length',
    usual: [0.035 * INCH, 0.045 * INCH],
    far: [0.015 * INCH, 0.15 * INCH],
    rule: '0.9 to 1.15 mm (0.035 to 0.045 in) with steel rods',
  },
  'rod-side-clearance': {
    by: 'length',
    usual: [0.006 * INCH, 0.02 * INCH],
    far: [0.001 * INCH, 0.05 * INCH],
    rule: '0.15 to 0.50 mm (0.006 to 0.020 in)',
  },
  'stem-clearance': {
    by: 'length',
    usual: [0.001 * INCH, 0.003 * INCH],
    far: [0.0003 * INCH, 0.009 * INCH],
    rule: '0.025 to 0.075 mm (0.001 to 0.003 in)',
  },
  backlash: {
    by: 'length',
    usual: [0.002 * INCH, 0.01 * INCH],
    far: [0.0005 * INCH, 0.04 * INCH],
    rule: '0.05 to 0.25 mm (0.002 to 0.010 in)',
  },
};

export const tradeKinds = Object.keys(RULES) as readonly LimitKind[];

/** What a limit that says no kind is by its name. */
const BY_NAME: readonly (readonly [RegExp, LimitKind])[] = [
  [/\brings?\b.*\bgap|\bgap\b.*\brings?\b|^(top|second|compression|scraper)-gap$|^gap-(top|second)$/, 'ring-gap'],
  [/\bring\b.*(side|groove).*clearance|\bgroove-clearance/, 'ring-side-clearance'],
  [/\bend-(play|float)\b/, 'end-play'],
  [/\b(main|rod|big-end|bearing)(-oil)?-clearance\b|\boil-clearance\b/, 'oil-clearance'],
  [/\bpiston(-to-bore|-skirt)?-clearance\b|\bskirt-clearance\b/, 'piston-clearance'],
  [/\b(stem|guide)-clearance\b/, 'stem-clearance'],
  [/\bback-?lash\b/, 'backlash'],
  [/\bsquish|\bquench/, 'squish'],
];

/** The rule that goes by the name of a limit; undefined where its name says none. */
export function tradeKindByName(name: string): LimitKind | undefined {
  return BY_NAME.find(([words]) => words.test(name.toLowerCase().replaceAll('_', '-')))?.[1];
}

export function isTradeKind(text: string): text is LimitKind {
  return Object.hasOwn(RULES, text);
}

/** The rule of a kind. `diameter` (mm) is the journal's or the bore's; `undefined` where the rule needs one and there is none. */
export function tradeRange(kind: LimitKind, diameter?: number): TradeRange | undefined {
  const { by, usual, far, rule } = RULES[kind];
  if (by === 'diameter' && !(diameter !== undefined && diameter > 0)) return undefined;
  const size = by === 'diameter' ? (diameter ?? 1) : 1;
  return {
    usual: { low: usual[0] * size, high: usual[1] * size },
    far: { low: far[0] * size, high: far[1] * size },
    rule,
    source: PRACTICE,
  };
}

/** Whether a limit's range (mm) as a whole lies beyond what is far: its high under the low, or its low over the high end. */
export function farOutside(range: TradeRange, value: Pick<Band, 'low' | 'high'>): 'small' | 'large' | undefined {
  if (value.high < range.far.low) return 'small';
  return value.low > range.far.high ? 'large' : undefined;
}

/** Plastic gauge strips and what they read, mm. TM 5-2420-222-34, para 1-16. */
const PLASTIC_GAUGES: readonly {
  readonly colour: 'green' | 'red' | 'blue';
  readonly low: number;
  readonly high: number;
}[] = [
  { colour: 'green', low: 0.0254, high: 0.0762 },
  { colour: 'red', low: 0.0508, high: 0.1524 },
  { colour: 'blue', low: 0.1016, high: 0.2286 },
];

/** The strips that read the whole of a range (mm), the finest first. */
export function plasticGaugesFor(value: Pick<Band, 'low' | 'high'>): readonly ('green' | 'red' | 'blue')[] {
  return PLASTIC_GAUGES.filter((gauge) => gauge.low <= value.low && value.high <= gauge.high).map(
    (gauge) => gauge.colour,
  );
}
