import * as t from './tokens.ts';
import type * as tree from './tree.ts';
import type { StatementRow, StatementWord } from './vocabulary.ts';

/** What every statement has: its keyword. */
export interface Start {
  readonly row: StatementRow;
  readonly word: StatementWord | '';
  readonly wordSpan: tree.Span;
  readonly start: number;
  readonly end: number;
}

export const K = t.keyword;

export const NONE: readonly string[] = [];

export const blank: Start = {
  row: { word: '', in: [], shape: 'flag', help: '', example: '' },
  word: '',
  wordSpan: { start: 0, end: 0 },
  start: 0,
  end: 0,
};
