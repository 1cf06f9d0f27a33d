// What may be meant where something can't stand: the word that the trade says otherwise, the braces that a word belongs in,
// the comma for an "and". Words only; where they are looked up is in declaration-parser.ts.

import { lookUp } from './look-up.ts';
import { type Argument, type Told, told } from './told.ts';
import { type Block, statementRow } from './vocabulary.ts';

/** Words of the workshop for words of the language, by the braces they are met in. Common practice, no source. */
const SAID_OTHERWISE: Readonly<Partial<Record<Block, Readonly<Record<string, string>>>>> = {
  step: {
    install: 'fit',
    mount: 'fit',
    insert: 'fit',
    assemble: 'fit',
    place: 'fit',
    refit: 'fit',
    dismantle: 'remove',
    detach: 'remove',
    withdraw: 'remove',
    replace: 'renew',
    torque: 'tighten',
    undo: 'loosen',
    slacken: 'loosen',
    unscrew: 'loosen',
    lock: 'secure',
    grease: 'lubricate',
    oil: 'lubricate',
    wash: 'clean',
    check: 'inspect',
    examine: 'inspect',
    gauge: 'measure',
    turn: 'rotate',
    verify: 'confirm',
    empty: 'drain',
    refill: 'fill',
    warning: 'caution',
    remark: 'note',
  },
  fastener: { grade: 'class', tightness: 'torque', size: 'thread', lubrication: 'fitted', remark: 'note' },
  part: { diameter: 'dimension', clearance: 'dimension', weight: 'mass', thickness: 'wall', remark: 'note' },
  engine: { layout: 'cylinders', deck: 'block-height', 'rev-limit': 'redline' },
  sequence: { begin: 'starts-with' },
  record: { replaced: 'fitted', renewed: 'fitted', date: 'signed', sign: 'signed' },
};
const DECLARED_OTHERWISE: Readonly<Record<string, string>> = {
  bolt: 'fastener',
  nut: 'fastener',
  screw: 'fastener',
  stud: 'fastener',
  component: 'part',
  piece: 'part',
  item: 'part',
  clearance: 'limit',
  tolerance: 'limit',
  timing: 'drive',
  procedure: 'sequence',
  task: 'job',
  import: 'use',
  include: 'use',
};
/** Directions as they are said at the bench, for those that a rule has. Common practice, no source. */
const DIRECTED_OTHERWISE: Readonly<Record<string, string>> = {
  top: 'up',
  above: 'up',
  upward: 'up',
  upwards: 'up',
  bottom: 'down',
  below: 'down',
  downward: 'down',
  downwards: 'down',
  forward: 'front',
  forwards: 'front',
  back: 'rear',
  backward: 'rear',
  backwards: 'rear',
  rearward: 'rear',
  rearwards: 'rear',
};
const TWO_GALLONS = told`The US one and the imperial one differ by a fifth, so say which.`;
const TWO_OUNCES = told`The US one and the imperial one differ, so say which.`;
/** Units that people write and that are none here: what they may mean, and why Fettle does not take one of them for granted. */
const MEANT_UNITS: readonly { readonly said: RegExp; readonly units: readonly string[]; readonly why: Told }[] = [
  { said: /^(?:qts?|quarts?)$/, units: ['US-qt', 'imp-qt'], why: TWO_GALLONS },
  { said: /^(?:gals?|gallons?)$/, units: ['US-gal', 'imp-gal'], why: TWO_GALLONS },
  { said: /^(?:pts?|pints?)$/, units: ['US-pt', 'imp-pt'], why: TWO_GALLONS },
  { said: /^fl[.-]?oz$/, units: ['US-fl-oz', 'imp-fl-oz'], why: TWO_OUNCES },
  {
    said: /^torrs?$/,
    units: ['mmHg'],
    why: told`It is a pressure, and as good as the same as a millimetre of mercury.`,
  },
  {
    said: /^psi[ag]$/,
    units: ['psi'],
    why: told`Whether it is counted from nothing or from the air outside is said in a note.`,
  },
  {
    said: /^bar[ag]$/,
    units: ['bar'],
    why: told`Whether it is counted from nothing or from the air outside is said in a note.`,
  },
  { said: /^cmkg$/, units: ['kgf.cm'], why: told`It is a torque, of 0.0980665 N.m.` },
];
const AND = new Set(['and', 'then', 'plus']);
const WORKED_OUT = new Set([
  'displacement',
  'swept-volume',
  'compression-ratio',
  'deck-clearance',
  'squish',
  'rod-ratio',
  'piston-speed',
]);
const INSIDE: readonly Block[] = [
  'part',
  'fastener',
  'step',
  'engine',
  'spec',
  'drive',
  'valve-timing',
  'sequence',
  'job',
  'record',
  'supply',
];

/** The statement word for a word that the workshop uses for it. */
export function statementFor(block: Block, word: string): string | undefined {
  return lookUp(SAID_OTHERWISE[block] ?? {}, word.toLowerCase());
}

/** The word that begins a declaration, for one that the workshop uses for it. */
export function declarationFor(word: string): string | undefined {
  return lookUp(DECLARED_OTHERWISE, word.toLowerCase());
}

/** The direction for a word that the workshop uses for it. */
export function directionFor(word: string): string | undefined {
  return lookUp(DIRECTED_OTHERWISE, word.toLowerCase());
}

/** What a unit that is none here may mean, where that is known. */
export function unitsMeant(written: string): { readonly units: readonly string[]; readonly why: Told } | undefined {
  const small = written.toLowerCase();
  return MEANT_UNITS.find(({ said }) => said.test(small));
}

/** Whether a word or sign is one that people write where a list has a comma. */
export function isAnd(word: string): boolean {
  return AND.has(word.toLowerCase());
}

/** Whether a word is a figure of the engine that is worked out, and so is never written in it. */
export function isWorkedOut(word: string): boolean {
  return WORKED_OUT.has(word.toLowerCase());
}

/** Braces as they are spoken of. */
export function bracesOf(block: Block): Told {
  if (block === 'engine') return told`the engine`;
  return block === 'grades' ? told`a table of grades` : told`a ${block}`;
}

/** The braces that a statement word belongs in, spoken: `a part`, `a part or a fastener`; undefined for a word of none or of many. */
export function belongsIn(word: string): Argument | undefined {
  const blocks = INSIDE.filter((block) => statementRow(block, word) !== undefined);
  return blocks.length === 0 || blocks.length > 3 ? undefined : told.list(blocks.map(bracesOf), 'or');
}
