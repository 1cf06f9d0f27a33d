// What follows a clause word, in a statement or in the head of a declaration.
import { lookUp } from '../../grammar/look-up.ts';
import { told } from '../../grammar/told.ts';
import { CLAUSES, type NameKind } from '../../grammar/vocabulary.ts';
import { CHECKS, firstOfPage } from '../checks/catalog.ts';
import type { Analysis } from '../model/analysis.ts';
import type { Cursor } from './cursor.ts';
import type { Completion } from './offered.ts';
import type { Names } from './offered-names.ts';
import { gradesOf, sizesOf, stagesOf, today } from './offered-values.ts';
import { choicesOf, clausesOf } from './offered-words.ts';
import { thingOf } from './place-in-tree.ts';

const DEAD_CENTRES: readonly Completion[] = [
  { label: 'tdc', kind: 'choice', detail: told`position`, help: told`At top dead centre of a cylinder.`, rank: 0 },
  { label: 'bdc', kind: 'choice', detail: told`position`, help: told`At bottom dead centre of a cylinder.`, rank: 0 },
];

/** What a clause of one statement wants, where the same word wants something else in another. */
export function afterClause(analysis: Analysis, cursor: Cursor, names: Names): readonly Completion[] | undefined {
  const { last, statement, placed, block, tokens } = cursor;
  const row = statement?.row;
  const first = statement?.behind[0]?.image ?? '';
  if (last === undefined || placed === undefined) return undefined;
  if (block === undefined) {
    if (last.payload === 'of') return names.ofKinds(placed.declaration.word === 'limit' ? ['part'] : ['spec']);
    return undefined;
  }
  if (row === undefined || (statement?.behind.length ?? 0) === 0) return undefined;
  const before = tokens[tokens.length - 2]?.payload;
  switch (last.payload) {
    case 'to':
      return row.word === 'machine' ? sizesOf(thingOf(analysis, first)) : undefined;
    case 'on':
      return ['measured', 'done', 'signed', 'agreed', 'witnessed'].includes(row.shape) ? today() : undefined;
    case 'of':
      return row.shape === 'photo' ? names.ofKinds(['part']) : undefined;
    case 'size':
      return row.shape === 'record-fitted' ? sizesOf(thingOf(analysis, first)) : undefined;
    case 'grade':
      return row.shape === 'record-fitted' ? gradesOf(thingOf(analysis, first)) : undefined;
    case 'after':
      return row.shape === 'begins' ? names.ofKinds(['sequence']) : undefined;
    case 'stage':
      return stagesOf(analysis, row.shape === 'tightening-order' ? (placed.declaration.name?.text ?? '') : first);
    case 'at':
    case 'either-side-of':
      if (row.shape === 'marked-link') return names.withMarks();
      return ['set', 'marks-agree', 'timed'].includes(row.shape) && before !== 'with' ? DEAD_CENTRES : undefined;
    default:
      return undefined;
  }
}

/** The clauses that the head of a declaration goes on with, by its word. */
const HEAD_CLAUSES: Readonly<Record<string, readonly string[]>> = {
  record: ['of', 'revision'],
  job: ['of'],
  grades: ['by'],
  'valve-timing': ['on'],
  spec: ['extends'],
};

/** Behind the name of a declaration, as long as its line goes on and its braces are not open: how its head goes on. */
export function ofHead(analysis: Analysis, cursor: Cursor): readonly Completion[] | undefined {
  const { block, placed, last, tokens, newLine } = cursor;
  const words = lookUp(HEAD_CLAUSES, placed?.declaration.word ?? '');
  if (block !== undefined || words === undefined || newLine || last === undefined || tokens.length < 2)
    return undefined;
  if (tokens.some(({ image }) => image === '{')) return undefined;
  if (last.payload === 'revision') {
    const name = tokens[tokens.findIndex(({ payload }) => payload === 'of') + 1]?.image;
    const spec = analysis.views[0]?.specs.find((each) => each.declaration.name?.text === name);
    const revision = spec?.declaration.body?.statements.find((each) => each.word === 'revision');
    if (revision?.kind !== 'number') return [];
    const help = told`The revision that the spec has now.`;
    return [{ label: revision.number.text, kind: 'choice', detail: told`revision`, help, rank: 0 }];
  }
  if (words.includes(last.payload)) return undefined;
  const said = new Set(tokens.map(({ payload }) => payload));
  return clausesOf(
    words.filter((word) => !said.has(word)),
    0,
  );
}

/** Actions with a supply. */
const WITH_SUPPLY: ReadonlySet<string> = new Set(['lubricate', 'seal', 'clean', 'fill']);

/** What follows the last word where that word alone tells; undefined where it does not. */
export function afterWord(cursor: Cursor, names: Names): readonly Completion[] | undefined {
  const { last, statement, block } = cursor;
  const row = statement?.row;
  switch (last?.payload) {
    case 'per':
      return names.sources();
    case 'when':
    case 'variant':
      return names.variants();
    case 'allow':
      return CHECKS.map((check) => ({
        label: check.code,
        kind: 'code',
        detail: check.severity,
        help: told.term(firstOfPage(check.page)),
        rank: 0,
      }));
    case 'with':
      return row?.refers?.includes('limit') === true || row?.shape === 'measured'
        ? []
        : row?.refers?.includes('supply') === true || WITH_SUPPLY.has(row?.word ?? '')
          ? [...names.ofKinds(['supply']), ...names.ofKinds(['part']).map((each) => ({ ...each, rank: each.rank + 2 }))]
          : names.ofKinds(['supply', 'part']);
    case 'toward':
      return [...choicesOf(row?.choices, told`direction`), ...names.ofKinds(['part'])];
    case 'kind':
      if (block === undefined)
        return choicesOf(CLAUSES.find((each) => each.word === 'kind')?.choices, told`kind of limit`);
      break;
    case 'opens':
    case 'closes':
      return [];
    case 'until':
    case 'otherwise':
      return [];
    case 'see':
      if (row?.shape === 'see') return names.sources();
      break;
    case 'parked':
    case 'at':
      if (row?.shape === 'phaser' || row?.shape === 'lift-at') return choicesOf(row.choices, row.word);
      break;
    case 'by':
    case 'on':
    case 'under':
      if (row?.choices !== undefined) return choicesOf(row.choices, row.word);
      break;
    default:
      break;
  }
  return undefined;
}

/** What follows a clause word, whatever the statement. */
export const NAME_CLAUSES: Readonly<Record<string, readonly NameKind[]>> = {
  into: ['part'],
  onto: ['part'],
  from: ['part'],
  to: ['part'],
  of: ['part', 'spec'],
  each: ['part'],
  over: ['part'],
  against: ['part'],
  on: ['part'],
  by: ['limit'],
  'either-side-of': ['part'],
};
