// All values that a declaration writes, each with the kinds of unit that may stand there. Used by the unit checks; no check of its own.

import type { Parsed } from '../../../grammar/parse.ts';
import { leavesOf } from '../../../grammar/terms.ts';
import type { Expression, PlainValue, Statement, Value } from '../../../grammar/tree.ts';
import { type Block, statementRow, type ValueKind } from '../../../grammar/vocabulary.ts';
import type { Placed } from '../../model/placed.ts';

export interface Written {
  readonly value: PlainValue;
  /** Empty where the statement takes any kind, or none. */
  readonly kinds: readonly ValueKind[];
  readonly word: string;
  /** Values of one list, such as the stages of a torque. */
  readonly list?: readonly PlainValue[];
}

/** A sum that stands where a value may: in the braces, behind the words before them, or as an open bound. */
export interface WrittenSum {
  readonly value: PlainValue;
  readonly sum: Expression;
  readonly kinds: readonly ValueKind[];
  readonly word: string;
}

interface AllWritten {
  readonly values: readonly Written[];
  readonly sums: readonly WrittenSum[];
}

const kept = new WeakMap<Parsed, AllWritten>();

/** The values of a declaration in the order written, those inside expressions too. */
export function writtenValues(placed: Placed): readonly Written[] {
  return allWritten(placed).values;
}

/** The sums of a declaration that stand in place of a value; that of a limit, behind its `=`, is none of them. */
export function writtenSums(placed: Placed): readonly WrittenSum[] {
  return allWritten(placed).sums;
}

/** Gathers what a declaration writes, in order. */
class Writing {
  readonly values: Written[] = [];
  readonly sums: WrittenSum[] = [];

  /** One value, with those in it. */
  add(value: PlainValue | undefined, kinds: readonly ValueKind[], word: string, list?: readonly PlainValue[]): void {
    const { values, sums } = this;
    if (value === undefined) return;
    if (value.kind === 'open') {
      values.push({ value, kinds, word });
      if (value.value.kind === 'quantity') values.push({ value: value.value, kinds, word });
      else {
        sums.push({ value, sum: value.value, kinds, word });
        this.express(value.value);
      }
    } else if (value.kind === 'expression') {
      sums.push({ value, sum: value.expression, kinds, word });
      this.express(value.expression);
    } else values.push({ value, kinds, word, ...(list === undefined ? {} : { list }) });
  }

  /** A value, or one for each place. */
  all(value: Value | undefined, kinds: readonly ValueKind[], word: string): void {
    if (value?.kind === 'by-place') for (const entry of value.entries) this.add(entry.value, kinds, word);
    else this.add(value, kinds, word);
  }

  express(expression: Expression): void {
    for (const leaf of leavesOf(expression))
      if (leaf.kind === 'quantity') this.values.push({ value: leaf, kinds: ['any'], word: 'a sum' });
  }

  statements(statements: readonly Statement[], block: Block): void {
    for (const each of statements) this.statement(each, each.kind, block);
  }

  private statement<kind extends Statement['kind']>(each: Statement, kind: kind, block: Block): void {
    const kinds = statementRow(block, each.word)?.unit ?? [];
    WRITTEN[kind](each as OfKind<kind>, this, { kinds, block });
  }
}

type OfKind<kind extends Statement['kind']> = Extract<Statement, { kind: kind }>;

interface Around {
  /** What the vocabulary says of the statement's value. */
  readonly kinds: readonly ValueKind[];
  readonly block: Block;
}

type Values<kind extends Statement['kind']> = (statement: OfKind<kind>, to: Writing, around: Around) => void;

/** Statements of this kind hold no value. */
const nothing = (): void => {};

/** A size, with how far it may wear. */
function sized(each: OfKind<'value'> | OfKind<'dimension'> | OfKind<'figure'>, to: Writing, { kinds }: Around): void {
  to.all(each.value, kinds, each.word);
  to.all(each.wearLimit, kinds, 'wear-limit');
}

/** The values of each kind of statement. */
const WRITTEN: { readonly [kind in Statement['kind']]: Values<kind> } = {
  broken: nothing,
  hole: nothing,
  flag: nothing,
  choice: nothing,
  number: nothing,
  text: nothing,
  names: nothing,
  value: sized,
  dimension: sized,
  figure: sized,
  phaser: (each, to) => to.all(each.range, ['angle'], each.word),
  size: (each, to, { kinds }) => {
    to.all(each.step, kinds, each.word);
    if (each.body !== undefined) to.statements(each.body.statements, 'size');
  },
  when: (each, to, { block }) => to.statements(each.body.statements, block),
  cylinders: (each, to) => to.add(each.angle, ['angle'], 'the angle of a vee'),
  crankpin: (each, to) => to.add(each.angle, ['angle'], each.word),
  mark: (each, to) => to.add(each.at, ['angle'], each.word),
  orient: (each, to) => {
    for (const rule of each.rules) to.add(rule.at, ['angle'], each.word);
  },
  reuse: (each, to) => to.all(each.length, ['length'], each.word),
  torque: (each, to) => {
    const list = each.stages.flatMap((stage) =>
      stage.value === undefined || stage.value.kind === 'by-place' ? [] : [stage.value],
    );
    for (const value of list) to.add(value, ['torque', 'angle'], each.word, list);
  },
  retorque: (each, to) => to.all(each.stage.value, ['torque', 'angle'], each.word),
  grade: (each, to) => {
    to.all(each.value, ['length', 'mass', 'angle', 'volume', 'force'], 'a grade');
    for (const size of each.brings ?? []) to.all(size.value, ['any'], 'a grade');
  },
  'centre-distance': (each, to) => {
    to.all(each.value, ['length'], each.word);
    to.add(each.at, ['angle'], each.word);
  },
  events: (each, to) => {
    to.add(each.opens?.angle, ['angle'], each.word);
    to.add(each.closes?.angle, ['angle'], each.word);
  },
  stated: (each, to) => to.all(each.value, ['angle'], each.word),
  action: (each, to) => {
    to.all(each.amount, ['volume', 'mass'], each.word);
    to.all(each.at, ['temperature'], 'by heat at');
    to.all(each.partWay?.short, ['length'], 'part-way');
  },
  'draw-up': (each, to) => to.all(each.value, ['torque'], each.word),
  timed: (each, to) => to.add(each.angle, ['angle', 'length'], each.word),
  set: (each, to) => {
    to.add(each.angle, ['angle', 'length'], each.word);
    to.add(each.at, ['angle'], each.word);
  },
  rotate: (each, to) => to.add(each.amount, ['angle'], each.word),
  confirm: (each, to) => to.add(each.at, ['angle'], each.word),
  run: (each, to) => {
    to.all(each.at, ['speed', 'temperature'], 'run engine at');
    to.all(each.for, ['time', 'distance'], 'run engine for');
    to.all(each.until, ['temperature', 'pressure', 'speed'], 'run engine until');
  },
  crank: (each, to) => {
    to.all(each.for, ['time'], 'crank engine for');
    to.all(each.until, ['pressure', 'speed'], 'crank engine until');
  },
  wait: (each, to) => to.all(each.time, ['time'], each.word),
  measured: (each, to) => to.all(each.value, ['any'], each.word),
  log: (each, to) => {
    to.all(each.at, ['speed', 'temperature'], 'at');
    for (const reading of each.readings) to.all(reading.value, ['any'], each.word);
  },
  source: nothing,
  bank: nothing,
  'firing-order': nothing,
  thread: nothing,
  class: nothing,
  agreed: nothing,
  signed: nothing,
  drop: nothing,
  'marks-agree': nothing,
  per: nothing,
  see: nothing,
  allow: nothing,
  covers: nothing,
  places: nothing,
  reference: nothing,
  into: nothing,
  clamps: nothing,
  each: nothing,
  'tightening-order': nothing,
  wrap: nothing,
  mesh: nothing,
  'ratio-of': nothing,
  'marked-link': nothing,
  'follow-on': nothing,
  begins: nothing,
  'record-fitted': nothing,
  found: nothing,
  done: nothing,
  witnessed: nothing,
  photo: nothing,
};

function allWritten(placed: Placed): AllWritten {
  const known = kept.get(placed.parsed);
  if (known !== undefined) return known;
  const writing = new Writing();
  const { declaration } = placed;
  const { limit } = declaration;
  if (limit?.expression !== undefined) writing.express(limit.expression);
  writing.all(limit?.within, ['any'], 'within');
  writing.all(limit?.wearLimit, ['any'], 'wear-limit');
  writing.all(limit?.over, ['length'], 'over');
  writing.all(limit?.at, ['speed', 'temperature', 'pressure', 'torque', 'length'], 'at');
  writing.all(limit?.forEach?.size, ['length'], 'for-each');
  if (declaration.body !== undefined) writing.statements(declaration.body.statements, declaration.word as Block);
  const written = { values: writing.values, sums: writing.sums };
  kept.set(placed.parsed, written);
  return written;
}
