// The one table of words: every declaration, statement, action, clause and fixed choice of the language, with a line of
// help. Reading, highlighting, completion, hover and the reference page come from it. Units stand in vocabulary/units.ts.
import { lookUp } from './look-up.ts';
import { ACTIONS as ACTION_ROWS } from './vocabulary/actions.ts';
import { CHANGES as CHANGE_ROWS } from './vocabulary/changes.ts';
import { CLAUSES as CLAUSE_ROWS } from './vocabulary/clauses.ts';
import { DECLARATIONS as DECLARATION_ROWS } from './vocabulary/declarations.ts';
import type { Block, ClauseRow, DeclarationRow, StatementRow } from './vocabulary/rows.ts';
import { STAGES } from './vocabulary/stages.ts';
import { STATEMENTS as STATEMENT_ROWS } from './vocabulary/statements.ts';

export type {
  Block,
  ChoiceRow,
  ClauseRow,
  DeclarationRow,
  NameKind,
  Shape,
  StatementRow,
  ValueKind,
} from './vocabulary/rows.ts';

/** A word that begins a declaration, in a spec or in the braces of a change. */
export type DeclarationWord = (typeof DECLARATION_ROWS)[number]['word'] | (typeof CHANGE_ROWS)[number]['word'];

/** A word that begins something that is done in a step, by the shape of what follows it. */
export type ActionWord = Extract<(typeof ACTION_ROWS)[number], { readonly shape: 'action' }>['word'];

type UndoingRow = Extract<(typeof ACTION_ROWS)[number], { readonly undoes: string }>;

/** A word for an action that takes another back: `unpin`. */
export type UndoingWord = UndoingRow['word'];

/** A word for an action that another takes back, and that stands until then: `pin`. */
export type UndoneWord = UndoingRow['undoes'];

/** A word that begins a statement. */
export type StatementWord = (typeof STATEMENT_ROWS)[number]['word'] | (typeof ACTION_ROWS)[number]['word'];

/** A word inside a statement or a head. */
export type ClauseWord = (typeof CLAUSE_ROWS)[number]['word'];

/** A stage of a torque without a figure. */
export type StageWord = (typeof STAGES)[number]['word'];

const stageWords: ReadonlySet<string> = new Set(STAGES.map((row) => row.word));

/** Whether a word is a stage of a torque without a figure. */
export function isStageWord(word: string): word is StageWord {
  return stageWords.has(word);
}

export const ACTIONS: readonly StatementRow[] = ACTION_ROWS;
/** What takes an action back, by the word of that action. */
export const UNDONE_BY: ReadonlyMap<string, UndoingWord> = new Map(
  ACTION_ROWS.flatMap((row) => ('undoes' in row ? [[row.undoes, row.word] as const] : [])),
);
export const CHANGES: readonly DeclarationRow[] = CHANGE_ROWS;
export const CLAUSES: readonly ClauseRow[] = CLAUSE_ROWS;
export const DECLARATIONS: readonly DeclarationRow[] = DECLARATION_ROWS;
export const STATEMENTS: readonly StatementRow[] = STATEMENT_ROWS;
export { STAGES };

/** Words that are never names; each begins a declaration. */
export const RESERVED: ReadonlySet<string> = new Set(DECLARATIONS.map((row) => row.word));

/** Words that begin a change in the braces of a spec. */
export const CHANGE_WORDS: ReadonlySet<string> = new Set(CHANGES.map((row) => row.word));

/** What a spec may change or leave out of its base, by the word that declares it. */
export const CHANGEABLE: ReadonlySet<string> = new Set(
  [...RESERVED].filter((word) => word !== 'spec' && word !== 'use' && word !== 'when' && word !== 'record'),
);

const EVERY_STATEMENT: readonly StatementRow[] = [...STATEMENTS, ...ACTIONS];

const rowsByBlock = new Map<Block, ReadonlyMap<string, StatementRow>>();
for (const row of EVERY_STATEMENT) {
  for (const block of row.in) {
    const rows = new Map(rowsByBlock.get(block) ?? []);
    rows.set(row.word, row);
    rowsByBlock.set(block, rows);
  }
}

/** The statement that a word begins in a block, if it does. */
export function statementRow(block: Block, word: string): StatementRow | undefined {
  return rowsByBlock.get(block)?.get(word);
}

/** All statements of a block, in the order of the table. */
export function statementsOf(block: Block): readonly StatementRow[] {
  return [...(rowsByBlock.get(block)?.values() ?? [])];
}

/** Every keyword: of declarations, statements, actions and clauses. Choices are not keywords. */
export const KEYWORDS: ReadonlySet<string> = new Set([
  ...RESERVED,
  ...CHANGE_WORDS,
  ...EVERY_STATEMENT.map((row) => row.word),
  ...CLAUSES.map((row) => row.word),
]);

const SPELLINGS: Readonly<Record<string, string>> = {
  center: 'centre',
  intake: 'inlet',
  counterclockwise: 'anticlockwise',
  towards: 'toward',
  aluminum: 'aluminium',
  gage: 'gauge',
  color: 'colour',
};

/** The usual form of a word by place: small letters, British spelling (`Center-Distance` is `centre-distance`). */
export function usualForm(word: string): string {
  const small = word.toLowerCase();
  if (!/center|intake|counterclockwise|towards|aluminum|gage|color/.test(small)) return small;
  return small
    .split('-')
    .map((piece) => lookUp(SPELLINGS, piece) ?? piece)
    .join('-');
}
