// What can be said of an engine, of work on it and in a record, a row for each need: the piece of a fixture (tests/model/said) that says it,
// and where it shows. tests/features/everywhere.test.ts goes over them.
import type { Weight } from '../../server/review/change.ts';

export interface SaidRow {
  readonly need: string;
  /** The fixture, and the piece of it that says so. */
  readonly in: 'work' | 'values';
  readonly says: string;
  /** The words of the language in it that are coloured, told, offered and in the reference; the first of the piece without more. */
  readonly words?: readonly string[];
  /** A word after which a name is renamed. */
  readonly name?: string;
  /** What is written in place of a stretch of the piece, and what a review weighs that. */
  readonly reviewed: readonly [weight: Weight, from: string, to: string];
  /** What stands of it on the sheet, and on the bench page where that says it otherwise; why not, where it does not. */
  readonly sheet: RegExp | string;
  readonly bench?: RegExp | string;
  /** A change after which a check speaks, or why none can. */
  readonly checked: readonly [from: string, to: string, code: string] | string;
  /** How a sample says it. */
  readonly sample: RegExp;
}

export const NOT_PRINTED = 'it tells how the work is looked at, and nothing to do by hand';

export const FACTS: readonly SaidRow[] = [
  {
    need: 'which named place goes into which part',
    in: 'work',
    says: 'places upper 1..5 into block, lower 1..5 into main-cap',
    words: ['places', 'into'],
    name: 'main-cap',
    reviewed: ['critical', 'lower 1..5 into main-cap', 'lower 1..5 into block'],
    sheet: /lower main bearing shells into the main caps/i,
    checked: ['fit main-shell lower into main-cap', 'fit main-shell lower into block', 'sequence/wrong-place'],
    sample: /places upper \d\.\.\d+ into \S+, lower/,
  },
  {
    need: 'a cover over a drive, a bolt, an opening',
    in: 'work',
    says: 'covers cam-drive, gear-bolt, block.oil-port',
    name: 'gear-bolt',
    reviewed: ['critical', 'covers cam-drive, gear-bolt, block.oil-port', 'covers cam-drive'],
    sheet: NOT_PRINTED,
    checked: ['tighten gear-bolt\n', '', 'sequence/never-tightened'],
    sample: /covers \S*(?:drive|gears|bolt)/,
  },
  {
    need: 'what stays on although it was fitted later',
    in: 'work',
    says: 'clear-of fan',
    name: 'fan',
    reviewed: ['matters', 'clear-of fan', 'clear-of magneto'],
    sheet: NOT_PRINTED,
    checked: ['clear-of fan', 'clear-of fam', 'name/unknown'],
    sample: /clear-of \S+/,
  },
  {
    need: 'a part that comes out through another',
    in: 'work',
    says: 'out-through block.bore',
    name: 'block',
    reviewed: ['matters', 'out-through block.bore', 'out-through block'],
    sheet: NOT_PRINTED,
    checked: ['out-through block.bore', 'out-through block.boer', 'name/unknown'],
    sample: /out-through \S+/,
  },
  {
    need: 'what must be wet when it goes in',
    in: 'work',
    says: 'fitted oiled\n  orient tang',
    words: ['fitted', 'oiled'],
    reviewed: ['critical', 'fitted oiled\n  orient tang', 'orient tang'],
    sheet: /shells?.*oiled|oiled.*shells?/i,
    checked: ['lubricate main-shell with engine-oil', 'clean main-shell', 'sequence/fitted-dry'],
    sample: /^part[^{}]*\{[^{}]*fitted oiled/m,
  },
  {
    need: 'what is sealed when it goes in',
    in: 'work',
    says: 'fitted sealant\n  covers',
    words: ['sealant'],
    reviewed: ['critical', 'fitted sealant', 'fitted dry'],
    sheet: /timing cover.*sealant|sealant.*timing cover/i,
    checked: ['seal timing-cover with rtv\n', '', 'sequence/fitted-dry'],
    sample: /^part[^{}]*\{[^{}]*fitted sealant/m,
  },
  {
    need: 'what is bled',
    in: 'work',
    says: 'bled',
    reviewed: ['critical', 'bled', 'mass 3 kg'],
    sheet: /bleed/i,
    checked: ['bleed cooling-jacket\n', '', 'sequence/not-bled'],
    sample: /^ +bled$/m,
  },
  {
    need: 'what is timed when it goes in, and what drives it',
    in: 'work',
    says: 'driven-by camshaft\n  timed at 14 deg btdc 1 on compression',
    words: ['driven-by', 'timed', 'compression'],
    name: 'camshaft',
    reviewed: ['critical', 'timed at 14 deg btdc 1', 'timed at 16 deg btdc 1'],
    sheet: /crankshaft at 14 deg before top dead centre of cylinder 1, on compression/i,
    checked: [
      'set crankshaft at 14 deg btdc 1 on compression\n    fit injection-pump',
      'set crankshaft at 30 deg btdc 1 on compression\n    fit injection-pump',
      'sequence/not-timed',
    ],
    sample: /timed at \S/,
  },
  {
    need: 'a crank angle with its stroke',
    in: 'work',
    says: 'set crankshaft at 14 deg btdc 1 on compression',
    words: ['set', 'compression'],
    name: 'crankshaft',
    reviewed: [
      'critical',
      'set crankshaft at 14 deg btdc 1 on compression',
      'set crankshaft at 14 deg btdc 1 on overlap',
    ],
    sheet: /Turn the crankshaft to 14 deg before top dead centre of cylinder 1, on compression/i,
    checked: [
      'set crankshaft at 14 deg btdc 1 on compression\n    fit injection-pump',
      'set crankshaft at 14 deg btdc 1 on overlap\n    fit injection-pump',
      'sequence/not-timed',
    ],
    sample: /set \S+ at [\d.]+ deg btdc \d+ on/,
  },
  {
    need: 'bottom dead centre',
    in: 'work',
    says: 'set crankshaft at bdc 1',
    words: ['set'],
    reviewed: ['critical', 'set crankshaft at bdc 1', 'set crankshaft at bdc 2'],
    sheet: /bottom dead cent(?:re|er).*1/i,
    checked: ['set crankshaft at bdc 1', 'set crankshaft at bdc 9', 'name/unknown'],
    sample: /set \S+ at bdc \d/,
  },
  {
    need: 'how far the piston is from its dead centre',
    in: 'work',
    says: 'set crankshaft at 1.9 mm btdc 1 on compression',
    words: ['set'],
    name: 'crankshaft',
    reviewed: [
      'critical',
      'at 1.9 mm btdc 1 on compression\n    fit magneto',
      'at 2.9 mm btdc 1 on compression\n    fit magneto',
    ],
    sheet: /1\.9 mm before top dead cent(?:re|er)/i,
    checked: [
      'set crankshaft at 1.9 mm btdc 1 on compression\n    fit magneto',
      'set crankshaft at 2.9 mm btdc 1 on compression\n    fit magneto',
      'sequence/not-timed',
    ],
    sample: /at [\d.]+ mm btdc \d/,
  },
  {
    need: 'into which part a stud is screwed, and its material',
    in: 'work',
    says: 'into block iron',
    words: ['into', 'iron'],
    name: 'block',
    reviewed: ['critical', 'into block iron', 'into block aluminium'],
    sheet: /studs?.*into.*block/i,
    checked: ['into block iron', 'into blok iron', 'name/unknown'],
    sample: /into \S+ (?:iron|aluminium)/,
  },
  {
    need: 'one drawing over several kinds of bolt',
    in: 'work',
    says: 'tightening-order with short-bolt at 5, 6',
    words: ['tightening-order', 'with'],
    name: 'short-bolt',
    reviewed: ['critical', 'at 5, 6\n    1 3 5', 'at 4, 5\n    1 3 5'],
    sheet: /long bolts?/i,
    checked: ['    1 3 5 /\n    2 4 6', '    1 3 5 /\n    2 4 7', 'torque/tightening-order'],
    sample: /tightening-order with \S+ at/,
  },
  {
    need: 'a second order for a later pass',
    in: 'work',
    says: 'tightening-order stage 3',
    words: ['tightening-order', 'stage'],
    reviewed: ['critical', '    7 5 1 3 9 /', '    9 5 1 3 7 /'],
    sheet: /main nuts/i,
    checked: ['tightening-order stage 3', 'tightening-order stage 7', 'torque/tightening-order'],
    sample: /tightening-order stage \d/,
  },
  {
    need: 'a circle',
    in: 'work',
    says: 'tightening-order circle',
    words: ['tightening-order', 'circle'],
    reviewed: ['critical', 'circle\n    1 4 2 5 3 6', 'circle\n    1 2 3 4 5 6'],
    sheet: /cover bolts?/i,
    checked: ['circle\n    1 4 2 5 3 6', 'circle\n    1 2 3 4 5 6', 'torque/order-round'],
    sample: /tightening-order circle/,
  },
  {
    need: 'an order over caps',
    in: 'work',
    says: 'tightening-order over main-cap',
    words: ['tightening-order', 'over'],
    name: 'main-cap',
    reviewed: ['critical', '    3 2 4 1 5', '    3 4 2 1 5'],
    sheet: /main nuts?/i,
    checked: ['    3 2 4 1 5', '    1 2 3 4 5', 'torque/order-from-end'],
    sample: /tightening-order over \S+/,
  },
];
