// The words that may be written at the cursor: what begins something in a block, choices, clauses; each with its help.
import { lookUp } from '../../grammar/look-up.ts';
import { type Argument, type Told, told } from '../../grammar/told.ts';
import {
  ACTIONS,
  type Block,
  CHANGES,
  CLAUSES,
  DECLARATIONS,
  type DeclarationWord,
  type StatementRow,
  statementsOf,
} from '../../grammar/vocabulary.ts';
import type { Cursor } from './cursor.ts';
import { piecesOf } from './forms.ts';
import type { Completion } from './offered.ts';
import type { Names } from './offered-names.ts';

export function choicesOf(choices: Readonly<Record<string, string>> | undefined, detail: Argument): Completion[] {
  return Object.entries(choices ?? {}).map(([label, help]) => ({
    label,
    kind: 'choice',
    detail,
    help: told.term(help),
    rank: 0,
  }));
}

/** What a word is for, and how it is written. */
function helpOf({ help, example }: { readonly help: string; readonly example: string }): Told {
  return told`${told.term(help)}\n\n${example}`;
}

/** Words that may follow in a statement; some of them are choices of it. */
export function clausesOf(words: readonly string[], rank: number, row?: StatementRow): Completion[] {
  return words.map((word, order): Completion => {
    const choice = lookUp(row?.choices ?? {}, word);
    if (row !== undefined && choice !== undefined)
      return { label: word, kind: 'choice', detail: row.word, help: told.term(choice), rank, order };
    const help = CLAUSES.find((each) => each.word === word)?.help;
    return {
      label: word,
      kind: 'word',
      detail: told`clause`,
      rank,
      order,
      ...(help === undefined ? {} : { help: told.term(help) }),
    };
  });
}

/** Statements that begin with a name of something that is declared. */
const NAME_FIRST: ReadonlySet<string> = new Set([
  'action',
  'names',
  'rotate',
  'set',
  'confirm',
  'clamps',
  'covers',
  'measured',
  'done',
  'found',
  'record-fitted',
  'reference',
  'witnessed',
]);

/** A statement with its example as a gap to write over. */
function snippetOf(row: StatementRow): string | undefined {
  const rest = row.example.slice(row.word.length).trim();
  if (rest === '' || rest.includes('\n') || rest.includes('{')) return undefined;
  return `${row.word} \${1:${rest.replace(/[$}\\]/g, '\\$&')}}`;
}

/** How a declaration is begun: its head, and its braces with the cursor in them. */
const BEGUN: Readonly<Record<Exclude<DeclarationWord, 'change' | 'insert' | 'drop'>, string>> = {
  spec: 'spec $1 "$2" {\n  revision 1\n  $0\n}',
  engine: 'engine {\n  $0\n}',
  part: 'part $1 {\n  $0\n}',
  fastener: 'fastener $1 x$2 {\n  $0\n}',
  supply: 'supply $1 {\n  $0\n}',
  grades: 'grades $1 by $2 {\n  $0\n}',
  drive: 'drive $1 {\n  $0\n}',
  'valve-timing': 'valve-timing $1 on $2 {\n  $0\n}',
  limit: 'limit $1\n  $0',
  sequence: 'sequence $1 {\n  $0\n}',
  step: 'step $1 {\n  $0\n}',
  job: 'job $1 of $2 {\n  $0\n}',
  record: 'record $1 of $2 revision $3 {\n  $0\n}',
  use: 'use "$1"$0',
  when: 'when $1 {\n  $0\n}',
};

/** Words that may stand in nearly every block: they come behind those of the block itself. */
const EVERYWHERE: ReadonlySet<string> = new Set(['note', 'allow', 'when', 'drop', 'per']);

/** The words in the order of the table, what may stand anywhere last. */
function inOrder<row extends { readonly word: string }>(rows: readonly row[]): readonly row[] {
  return [...rows.filter(({ word }) => !EVERYWHERE.has(word)), ...rows.filter(({ word }) => EVERYWHERE.has(word))];
}

const STEP: Completion = {
  label: 'step',
  kind: 'word',
  detail: told`step`,
  help: told`One step of a sequence.`,
  snippet: BEGUN.step,
  rank: 0,
};

/** What a spec may do with a base. */
const CHANGE_WORDS: readonly Completion[] = CHANGES.map((row) => ({
  label: row.word,
  kind: 'word',
  detail: told`change of the base`,
  help: helpOf(row),
  rank: 1,
}));

/** The words that may begin something in a block; those that stand there already and may stand once come last. */
export function wordsOf(block: Block | undefined, cursor: Cursor, names: Names): Completion[] {
  if (block === undefined)
    return DECLARATIONS.filter((row) => row.word !== 'step').map((row, order): Completion => {
      const snippet = lookUp(BEGUN, row.word);
      return {
        label: row.word,
        kind: 'word',
        detail: told`declaration`,
        help: helpOf(row),
        rank: 2,
        order,
        ...(snippet === undefined ? {} : { snippet }),
      };
    });
  const there = new Set(cursor.placed?.declaration.body?.statements.map((each) => each.word));
  const inChange = cursor.placed?.declaration.word === 'change';
  const stand = statementsOf(block).filter((row) => row.inChange !== true || inChange);
  const rows = inOrder(stand).map((row, order): Completion => {
    const namesFollow = NAME_FIRST.has(row.shape) && names.hasAny(row.refers ?? []);
    const snippet = namesFollow ? undefined : snippetOf(row);
    return {
      label: row.word,
      kind: 'word',
      detail: ACTIONS.includes(row) ? told`action` : told`statement`,
      help: helpOf(row),
      rank: there.has(row.word) && row.repeats !== true ? 4 : 2,
      order,
      ...(snippet === undefined ? {} : { snippet }),
      ...(namesFollow ? { goesOn: true } : {}),
    };
  });
  if (block === 'spec') return [...(cursor.placed?.declaration.extends === undefined ? [] : CHANGE_WORDS), ...rows];
  return block === 'sequence' && !inChange ? [STEP, ...rows] : rows;
}

/** The words of the pieces that may still follow in the statement of the cursor. */
export function leadsOf({ statement, block }: Cursor): readonly string[] {
  if (statement === undefined || block === undefined) return [];
  const said = new Set(statement.behind.map((token) => token.payload));
  return piecesOf(statement.row, block)
    .filter((piece) => !piece.leads.some((lead) => said.has(lead)))
    .flatMap((piece) => piece.leads);
}
