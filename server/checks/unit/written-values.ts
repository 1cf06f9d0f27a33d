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

function allWritten(placed: Placed): AllWritten {
  const known = kept.get(placed.parsed);
  if (known !== undefined) return known;
  const out: Written[] = [];
  const sums: WrittenSum[] = [];
  const add = (
    value: PlainValue | undefined,
    kinds: readonly ValueKind[],
    word: string,
    list?: readonly PlainValue[],
  ): void => {
    if (value === undefined) return;
    if (value.kind === 'open') {
      out.push({ value, kinds, word });
      if (value.value.kind === 'quantity') out.push({ value: value.value, kinds, word });
      else {
        sums.push({ value, sum: value.value, kinds, word });
        express(value.value);
      }
    } else if (value.kind === 'expression') {
      sums.push({ value, sum: value.expression, kinds, word });
      express(value.expression);
    } else out.push({ value, kinds, word, ...(list === undefined ? {} : { list }) });
  };
  const express = (expression: Expression): void => {
    for (const leaf of leavesOf(expression))
      if (leaf.kind === 'quantity') out.push({ value: leaf, kinds: ['any'], word: 'a sum' });
  };
  const all = (value: Value | undefined, kinds: readonly ValueKind[], word: string): void => {
    if (value?.kind === 'by-place') for (const entry of value.entries) add(entry.value, kinds, word);
    else add(value, kinds, word);
  };
  const walk = (statements: readonly Statement[], block: Block): void => {
    for (const each of statements) {
      const kinds = statementRow(block, each.word)?.unit ?? [];
      switch (each.kind) {
        case 'value':
          all(each.value, kinds, each.word);
          all(each.wearLimit, kinds, 'wear-limit');
          break;
        case 'phaser':
          all(each.range, ['angle'], each.word);
          break;
        case 'dimension':
        case 'figure':
          all(each.value, kinds, each.word);
          all(each.wearLimit, kinds, 'wear-limit');
          break;
        case 'size':
          all(each.step, kinds, each.word);
          if (each.body !== undefined) walk(each.body.statements, 'size');
          break;
        case 'when':
          walk(each.body.statements, block);
          break;
        case 'cylinders':
          add(each.angle, ['angle'], 'the angle of a vee');
          break;
        case 'crankpin':
          add(each.angle, ['angle'], each.word);
          break;
        case 'mark':
          add(each.at, ['angle'], each.word);
          break;
        case 'orient':
          for (const rule of each.rules) add(rule.at, ['angle'], each.word);
          break;
        case 'reuse':
          all(each.length, ['length'], each.word);
          break;
        case 'torque': {
          const list = each.stages.flatMap((stage) =>
            stage.value === undefined || stage.value.kind === 'by-place' ? [] : [stage.value],
          );
          for (const value of list) add(value, ['torque', 'angle'], each.word, list);
          break;
        }
        case 'retorque':
          all(each.stage.value, ['torque', 'angle'], each.word);
          break;
        case 'grade':
          all(each.value, ['length', 'mass', 'angle', 'volume', 'force'], 'a grade');
          for (const size of each.brings ?? []) all(size.value, ['any'], 'a grade');
          break;
        case 'centre-distance':
          all(each.value, ['length'], each.word);
          add(each.at, ['angle'], each.word);
          break;
        case 'events':
          add(each.opens?.angle, ['angle'], each.word);
          add(each.closes?.angle, ['angle'], each.word);
          break;
        case 'stated':
          all(each.value, ['angle'], each.word);
          break;
        case 'action':
          all(each.amount, ['volume', 'mass'], each.word);
          all(each.at, ['temperature'], 'by heat at');
          all(each.partWay?.short, ['length'], 'part-way');
          break;
        case 'draw-up':
          all(each.value, ['torque'], each.word);
          break;
        case 'timed':
          add(each.angle, ['angle', 'length'], each.word);
          break;
        case 'set':
          add(each.angle, ['angle', 'length'], each.word);
          add(each.at, ['angle'], each.word);
          break;
        case 'rotate':
          add(each.amount, ['angle'], each.word);
          break;
        case 'confirm':
          add(each.at, ['angle'], each.word);
          break;
        case 'run':
          all(each.at, ['speed', 'temperature'], 'run engine at');
          all(each.for, ['time', 'distance'], 'run engine for');
          all(each.until, ['temperature', 'pressure', 'speed'], 'run engine until');
          break;
        case 'crank':
          all(each.for, ['time'], 'crank engine for');
          all(each.until, ['pressure', 'speed'], 'crank engine until');
          break;
        case 'wait':
          all(each.time, ['time'], each.word);
          break;
        case 'measured':
          all(each.value, ['any'], each.word);
          break;
        case 'log':
          all(each.at, ['speed', 'temperature'], 'at');
          for (const reading of each.readings) all(reading.value, ['any'], each.word);
          break;
        default:
          break;
      }
    }
  };
  const { declaration } = placed;
  if (declaration.limit?.expression !== undefined) express(declaration.limit.expression);
  all(declaration.limit?.within, ['any'], 'within');
  all(declaration.limit?.wearLimit, ['any'], 'wear-limit');
  all(declaration.limit?.over, ['length'], 'over');
  all(declaration.limit?.at, ['speed', 'temperature', 'pressure', 'torque', 'length'], 'at');
  all(declaration.limit?.forEach?.size, ['length'], 'for-each');
  if (declaration.body !== undefined) walk(declaration.body.statements, declaration.word as Block);
  const written = { values: out, sums };
  kept.set(placed.parsed, written);
  return written;
}
