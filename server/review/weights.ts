// What a change weighs at the bench, by where it stands and which word it is of. A word that is in no list matters. The rows for
// what may cost an engine or a hand are critical; titles, notes and sources are wording, and so is what a spec
// is built on: what that changes is told for itself. Common practice, no source.
import { lookUp } from '../../grammar/look-up.ts';
import type { ChangeKind, Weight } from './change.ts';
import type { Relation } from './printed.ts';

const WORDING = new Set(['note', 'per', 'source', 'revision', 'units', 'title', 'name', 'extends']);

const ALL = '*';

const CRITICAL: Readonly<Record<string, ReadonlySet<string>>> = {
  engine: new Set(['cylinders', 'bank', 'front', 'cycle', 'rotation', 'crankpin', 'firing-order', 'interference']),
  part: new Set([
    ...['orient', 'mark', 'teeth', 'links', 'pitch', 'fixed-to'],
    ...[
      'single-use',
      'matched',
      'heat-treated',
      'secured-by',
      'held-back',
      'size',
      'places',
      'fitted',
      'bled',
      'timed',
      'driven-by',
    ],
  ]),
  fastener: new Set([
    ...['torque', 'retorque', 'stretch', 'thread', 'class', 'tensile', 'fitted', 'nut-factor', 'friction'],
    ...['single-use', 'reuse', 'secured-by', 'tightening-order', 'draw-up', 'into'],
  ]),
  drive: new Set([ALL]),
  'valve-timing': new Set([ALL]),
  limit: new Set(['expression', 'of', 'over', 'for-each']),
  grades: new Set(['by']),
  step: new Set(['set', 'align', 'confirm', 'tighten', 'line-up', 'push-home', 'unmask']),
};

/** Words whose loss is what can hurt; a new one is only more to heed. */
const GUARDS = new Set([
  'caution',
  'condition',
  'follow-on',
  'covers',
  'hold-point',
  'after',
  'within',
  'wear-limit',
  'measured',
  'measure',
]);

/** Bounds: a wider one lets in what was refused, a narrower one refuses more. */
const BOUNDS = new Set(['within', 'dimension', 'wall', 'figure', 'grade']);

/** Weighs one change of a word in a block. `relation` is that of its figures, where only figures changed. */
export function weightOf(block: string, word: string, kind: ChangeKind, relation?: Relation): Weight {
  if (word === 'title' && block === 'step') return 'matters';
  if (WORDING.has(word)) return 'wording';
  if (block === 'record' || block === 'job' || block === 'spec')
    return word === 'caution' || word === 'condition' ? guard(kind) : 'matters';
  if (BOUNDS.has(word) && kind === 'changed') return relation === 'narrower' ? 'matters' : 'critical';
  if (word === 'wear-limit' && kind === 'changed') return 'critical';
  if (GUARDS.has(word)) return guard(kind, word);
  const critical = lookUp(CRITICAL, block);
  if (critical === undefined) return 'matters';
  return critical.has(word) || (critical.has(ALL) && word !== 'allow') ? 'critical' : 'matters';
}

function guard(kind: ChangeKind, word = ''): Weight {
  return kind === 'removed' || (kind === 'changed' && word === 'after') ? 'critical' : 'matters';
}
