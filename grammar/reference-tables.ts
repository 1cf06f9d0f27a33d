// The tables of the reference page, made from the table of words. The page keeps them between markers.

import { UNITS } from './vocabulary/units.ts';
import { type Block, CHANGES, CLAUSES, DECLARATIONS, type StatementRow, statementsOf } from './vocabulary.ts';

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
  const choices = Object.entries(row.choices ?? {});
  return choices.length === 0 ? '' : ` Choices: ${choices.map(([word, help]) => `\`${word}\` (${help})`).join(', ')}.`;
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
export function referenceTables(): Readonly<Record<string, string>> {
  const tables: Record<string, string> = {
    declarations: declarationTable(),
    changes: changeTable(),
    clauses: clauseTable(),
    units: unitTable(),
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
