// The tables of the reference page, made from the table of words. The page keeps them between markers.

import { lookUp } from './look-up.ts';
import { UNITS } from './vocabulary/units.ts';
import {
  ACTIONS,
  type Block,
  CHANGES,
  CLAUSES,
  DECLARATIONS,
  STATEMENTS,
  type StatementRow,
  statementsOf,
} from './vocabulary.ts';

const BLOCKS: readonly Block[] = [
  'spec',
  'engine',
  'part',
  'size',
  'fastener',
  'supply',
  'drive',
  'valve-timing',
  'sequence',
  'step',
  'job',
  'record',
];
const EVERYWHERE = new Set(['note', 'allow', 'when']);

const cell = (text: string): string => text.replace(/\s+/g, ' ').replace(/\|/g, '\\|');

function choicesText(row: StatementRow): string {
  const choices = Object.keys(row.choices ?? {});
  return choices.length === 0
    ? ''
    : ` [Choices](#the-choices-one-by-one): ${choices.map((word) => `\`${word}\``).join(', ')}.`;
}

/** How a choice is written where its row's own example has none of them, or where more than the word is another. */
const CHOSEN: Readonly<Record<string, string>> = {
  'cylinders vee': 'cylinders 6 vee 60 deg',
  'cylinders radial': 'cylinders 7 radial',
  'bank left': 'bank left 1, 3',
  'begins after': 'begins after strip-front',
  fit: 'fit bush into rod by CHOICE',
  rotate: 'rotate crankshaft 90 deg CHOICE',
  run: 'run engine under CHOICE for 30 min',
  into: 'into CHOICE',
  'stated inlet-centre': 'stated inlet-centre 108 deg',
  'stated exhaust-centre': 'stated exhaust-centre 108 deg',
  'stated separation': 'stated separation 108 deg',
  'stated overlap': 'stated overlap 26 deg',
  'found repair': 'found crankshaft "scored" repair',
  'found reuse': 'found camshaft "lobes good" reuse',
};

/** How a choice is written, in the place of that of the row's example. */
export function exampleOf(row: StatementRow, choice: string): string {
  const special = lookUp(CHOSEN, `${row.word} ${choice}`) ?? lookUp(CHOSEN, row.word);
  if (special !== undefined) return special.replace('CHOICE', choice);
  const words = row.example.split(' ');
  const at = words.findLastIndex((word) => Object.hasOwn(row.choices ?? {}, word));
  return at < 0 ? '' : words.with(at, choice).join(' ');
}

/** Every choice of a statement, each with what it says and an example. */
export function choiceRows(): readonly {
  readonly row: StatementRow;
  readonly choice: string;
  readonly help: string;
}[] {
  return [...STATEMENTS, ...ACTIONS].flatMap((row) =>
    Object.entries(row.choices ?? {}).map(([choice, help]) => ({ row, choice, help })),
  );
}

function choiceTable(): string {
  const sentence = (text: string): string => `${text.charAt(0).toUpperCase()}${text.slice(1)}.`;
  const lines = choiceRows().map(
    ({ row, choice, help }) =>
      `| \`${row.word}\` of a ${row.in.join(', ')} | \`${choice}\` | ${cell(sentence(help))} | \`${exampleOf(row, choice)}\` |`,
  );
  return ['| word | choice | what it says | example |', '| --- | --- | --- | --- |', ...lines].join('\n');
}

function statementTable(rows: readonly StatementRow[]): string {
  const lines = rows.map(
    (row) => `| \`${row.word}\` | ${cell(row.help + choicesText(row))} | \`${cell(row.example)}\` |`,
  );
  return ['| word | what it says | example |', '| --- | --- | --- |', ...lines].join('\n');
}

function declarationTable(): string {
  const lines = DECLARATIONS.map((row) => `| \`${row.word}\` | ${cell(row.help)} |`);
  return ['| word | what it is |', '| --- | --- |', ...lines].join('\n');
}

function changeTable(): string {
  const lines = CHANGES.map((row) => `| \`${row.word}\` | ${cell(row.help)} | \`${cell(row.example)}\` |`);
  return ['| word | what it does | example |', '| --- | --- | --- |', ...lines].join('\n');
}

function clauseTable(): string {
  const lines = CLAUSES.map((row) => {
    const choices = Object.entries(row.choices ?? {});
    const said =
      choices.length === 0 ? '' : ` One of ${choices.map(([word, help]) => `\`${word}\` (${help})`).join(', ')}.`;
    return `| \`${row.word}\` | ${cell(row.help + said)} |`;
  });
  return ['| word | what it says |', '| --- | --- |', ...lines].join('\n');
}

function unitTable(): string {
  const lines = UNITS.map(
    (row) =>
      `| \`${row.unit}\` | ${row.kind} | ${cell(row.help)} | ${row.also.map((each) => `\`${each}\``).join(' ')} |`,
  );
  return ['| unit | kind | what it is | also read |', '| --- | --- | --- | --- |', ...lines].join('\n');
}

/** Every table by the name of its marker. */
function referenceTables(): Readonly<Record<string, string>> {
  const tables: Record<string, string> = {
    declarations: declarationTable(),
    changes: changeTable(),
    clauses: clauseTable(),
    units: unitTable(),
    choices: choiceTable(),
  };
  tables['everywhere'] = statementTable(statementsOf('spec').filter((row) => EVERYWHERE.has(row.word)));
  for (const block of BLOCKS) {
    tables[block] = statementTable(
      statementsOf(block).filter((row) => !EVERYWHERE.has(row.word) && row.inChange !== true),
    );
  }
  return tables;
}

/** A page with each table between its markers made anew. */
export function withTables(page: string): string {
  let result = page;
  for (const [name, table] of Object.entries(referenceTables())) {
    const [open, close] = [`<!-- table: ${name} -->`, '<!-- end of table -->'];
    const start = result.indexOf(open);
    const end = result.indexOf(close, start);
    if (start < 0 || end < 0) continue;
    result = `${result.slice(0, start + open.length)}\n\n${table}\n\n${result.slice(end)}`;
  }
  return result;
}
