// The words that may be written at the cursor: what begins something in a block, choices, clauses; each with its help.
import { lookUp } from '../../grammar/look-up.ts';
import { type Argument, type Told, told } from '../../grammar/told.ts';
import {
  ACTIONS,
  type Block,
  CHANGES,
  CLAUSES,
  DECLARATIONS,
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

const STEP: Completion = {
  label: 'step',
  kind: 'word',
  detail: told`step`,
  help: told`One step of a sequence.`,
  snippet: 'step $1 {\n  $0\n}',
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
    return DECLARATIONS.filter((row) => row.word !== 'step').map((row) => ({
      label: row.word,
      kind: 'word',
      detail: told`declaration`,
      help: helpOf(row),
      rank: 2,
    }));
  const there = new Set(cursor.placed?.declaration.body?.statements.map((each) => each.word));
  const inChange = cursor.placed?.declaration.word === 'change';
  const stand = statementsOf(block).filter((row) => row.inChange !== true || inChange);
  const rows = stand.map((row): Completion => {
    const namesFollow = NAME_FIRST.has(row.shape) && names.hasAny(row.refers ?? []);
    const snippet = namesFollow ? undefined : snippetOf(row);
    return {
      label: row.word,
      kind: 'word',
      detail: ACTIONS.includes(row) ? told`action` : told`statement`,
      help: helpOf(row),
      rank: there.has(row.word) && row.repeats !== true ? 4 : 2,
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
