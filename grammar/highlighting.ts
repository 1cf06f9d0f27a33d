// Turns the table of words into the colouring rules that editors read (fettle.tmLanguage.json). No word of the
// language is listed here; what a word means in its place is for the server, which colours again on top of this.

import { choiceRows, exampleOf } from './reference-tables.ts';
import { UNITS } from './vocabulary/units.ts';
import {
  ACTIONS,
  CHANGEABLE,
  CHANGES,
  CLAUSES,
  DECLARATIONS,
  STAGES,
  STATEMENTS,
  type StatementRow,
} from './vocabulary.ts';

/** One colouring rule, in the form that editors know. */
export interface Rule {
  readonly name?: string;
  readonly match?: string;
  readonly begin?: string;
  readonly end?: string;
  readonly captures?: Readonly<Record<string, { readonly name: string }>>;
  readonly beginCaptures?: Readonly<Record<string, { readonly name: string }>>;
  readonly endCaptures?: Readonly<Record<string, { readonly name: string }>>;
  readonly patterns?: readonly Rule[];
}

/** The whole of the colouring rules. */
export interface Highlighting {
  readonly name: string;
  readonly scopeName: string;
  readonly patterns: readonly Rule[];
}

const NAME = String.raw`\p{L}[\p{L}\p{M}\p{N}]*(?:[-_][\p{L}\p{M}\p{N}]+)*`;
const BEFORE_WORD = String.raw`(?<![\p{L}\p{M}\p{N}_.\-])`;
const AFTER_WORD = String.raw`(?![\p{L}\p{M}\p{N}_]|[-./][\p{L}\p{N}])`;
const NUMBER = String.raw`(?:\d+[ \t]+)?\d+/\d+|\d*[½¼¾]|\d+(?:\.\d+)?|\.\d+`;
const BETWEEN_UNITS = String.raw`[.·⋅∙•/\-]`;

/** Longest first, so that a short word never stands in for the start of a longer one. */
function oneOf(words: Iterable<string>): string {
  const escaped = [...new Set(words)].map((word) => word.replace(/[.*+?^${}()|[\]\\/]/g, String.raw`\$&`));
  return `(?:${escaped.sort((a, b) => b.length - a.length || (a < b ? -1 : 1)).join('|')})`;
}

function words(scope: string, rows: readonly { readonly word: string }[]): Rule {
  return { name: `${scope}.fettle`, match: `(?i)${BEFORE_WORD}${oneOf(rows.map((row) => row.word))}${AFTER_WORD}` };
}

/** `fitted oiled`, `kind end-play`: a word with the fixed choice after it. */
function choiceRules(): readonly Rule[] {
  const choosing = STATEMENTS.filter((row) => row.shape === 'choice' || row.shape === 'begins');
  const rows = [...choosing, ...CLAUSES.filter((row) => row.word === 'kind')];
  const choices = new Map<string, Set<string>>();
  for (const row of rows) {
    choices.set(row.word, new Set([...(choices.get(row.word) ?? []), ...Object.keys(row.choices ?? {})]));
  }
  return [...choices].map(([word, known]) => ({
    match: `(?i)${BEFORE_WORD}(${oneOf([word])})\\s+(${oneOf(known)})${AFTER_WORD}`,
    captures: {
      1: { name: 'keyword.control.statement.fettle' },
      2: { name: 'variable.other.enummember.choice.fettle' },
    },
  }));
}

const STATEMENT = 'keyword.control.statement.fettle';

/** What stands before a choice, as a pattern, with a name for each of its groups. */
interface Lead {
  readonly pattern: string;
  readonly groups: readonly string[];
}

/** The word that a choice stands behind; a name or a number may stand between. */
function leadOf(row: StatementRow, choice: string, clauses: ReadonlySet<string>): Lead | undefined {
  const words = exampleOf(row, choice).split(' ');
  const at = words.lastIndexOf(choice);
  const [before = '', first = ''] = [words[at - 1], words[at - 2]];
  if (row.shape === 'into')
    return {
      pattern: `(${first || before})\\s+(?:(${NAME})\\s+)?`,
      groups: [STATEMENT, 'variable.other.name.fettle'],
    };
  if (clauses.has(before)) return { pattern: `(${before})\\s+`, groups: ['keyword.operator.word.fettle'] };
  return first === row.word
    ? {
        pattern: `(${first})\\s+(?:(${NAME})|(\\d+))\\s+`,
        groups: [STATEMENT, 'variable.other.name.fettle', 'constant.numeric.fettle'],
      }
    : undefined;
}

/** `on compression`, `under load`, `into block iron`: a word with the fixed choice after it, as the examples of the choices have them. */
function clauseChoiceRules(): readonly Rule[] {
  const clauses = new Set(CLAUSES.map((row) => row.word));
  const leads = new Map<string, Lead & { readonly choices: Set<string> }>();
  for (const { row, choice } of choiceRows()) {
    const lead = leadOf(row, choice, clauses);
    if (lead === undefined) continue;
    const known = leads.get(lead.pattern) ?? { ...lead, choices: new Set() };
    leads.set(lead.pattern, known);
    known.choices.add(choice);
  }
  return [...leads.values()].map(({ pattern, groups, choices }) => ({
    match: `(?i)${BEFORE_WORD}${pattern}(${oneOf(choices)})${AFTER_WORD}`,
    captures: Object.fromEntries(
      [...groups, 'variable.other.enummember.choice.fettle'].map((name, i) => [i + 1, { name }]),
    ),
  }));
}

/** A stage of a torque that is a word: behind `torque`, or behind another stage. */
function stageRule(): Rule {
  return {
    match: `(?i)(?:${BEFORE_WORD}(torque)\\s+|(,)\\s*)(${oneOf(STAGES.map((row) => row.word))})${AFTER_WORD}`,
    captures: {
      1: { name: 'keyword.control.statement.fettle' },
      2: { name: 'punctuation.separator.fettle' },
      3: { name: 'variable.other.enummember.choice.fettle' },
    },
  };
}

/** `change part piston`: the words of a change are coloured where a kind of thing follows. */
function changeRules(): readonly Rule[] {
  const word = 'keyword.control.declaration.fettle';
  const match = `(?i)${BEFORE_WORD}(${oneOf(CHANGES.map((row) => row.word))})\\s+(${oneOf(CHANGEABLE)})`;
  return [
    {
      match: `${match}\\s+(${NAME})${AFTER_WORD}`,
      captures: { 1: { name: word }, 2: { name: word }, 3: { name: 'entity.name.type.fettle' } },
    },
    { match: `${match}${AFTER_WORD}`, captures: { 1: { name: word }, 2: { name: word } } },
  ];
}

function declarationRules(): readonly Rule[] {
  const named = DECLARATIONS.map((row) => row.word).filter((word) => !['engine', 'use', 'when'].includes(word));
  return [
    {
      match: `(?i)${BEFORE_WORD}(${oneOf(named)})\\s+(${NAME})${AFTER_WORD}`,
      captures: { 1: { name: 'keyword.control.declaration.fettle' }, 2: { name: 'entity.name.type.fettle' } },
    },
    words('keyword.control.declaration', DECLARATIONS),
  ];
}

function numberRules(): readonly Rule[] {
  const unit = oneOf(UNITS.flatMap((row) => [row.unit, ...row.also]));
  const units = `${unit}(?:${BETWEEN_UNITS}${unit})*`;
  const afterUnit = String.raw`(?![\p{L}\p{M}\p{N}_])`;
  return [
    {
      name: 'constant.numeric.date.fettle',
      match: String.raw`(?<![\p{N}])(?:\d{4}-\d\d-\d\d|\d\d:\d\d(?!\s*o['’′]clock))(?![\p{N}])`,
    },
    {
      match: String.raw`(?i)(\d{1,2}(?::\d\d)?)\s*(o['’′]clock)`,
      captures: { 1: { name: 'constant.numeric.clock.fettle' }, 2: { name: 'keyword.other.unit.fettle' } },
    },
    { name: 'constant.numeric.count.fettle', match: String.raw`(?i)(?<![\p{L}\p{N}])[x×]\s?\d+(?![\p{L}\p{N}])` },
    {
      match: `(?i)(${NUMBER})\\s*(${units})${afterUnit}`,
      captures: { 1: { name: 'constant.numeric.fettle' }, 2: { name: 'keyword.other.unit.fettle' } },
    },
    { name: 'constant.numeric.fettle', match: NUMBER },
  ];
}

function threadRule(): Rule {
  const form = String.raw`M\d+(?:\.\d+)?(?:\s?[x×]\s?\d+(?:\.\d+)?)?|\d+(?:/\d+)?(?:\s\d+/\d+)?-\d+(?:\s+[A-Z]+)?`;
  return {
    match: `(?i)${BEFORE_WORD}(thread)\\s+(${form})(?:\\s+(left-hand))?`,
    captures: {
      1: { name: 'keyword.control.statement.fettle' },
      2: { name: 'constant.other.thread.fettle' },
      3: { name: 'variable.other.enummember.choice.fettle' },
    },
  };
}

/** A text may run over line ends, but not over an empty line. */
const TEXT: Rule = {
  name: 'string.quoted.double.fettle',
  begin: '["“”„]',
  end: String.raw`["“”„]|^\s*$`,
  patterns: [{ name: 'constant.character.escape.fettle', match: String.raw`\\["\\]` }],
};

/** The colouring rules made from the table of words. The same table always gives the same rules. */
function highlighting(): Highlighting {
  const remarks: readonly StatementRow[] = ACTIONS.filter((row) => row.shape === 'text' || row.shape === 'flag');
  const statements = new Set(STATEMENTS.map((row) => row.word));
  const ownClauses = CLAUSES.map((row) => row.word).filter((word) => !statements.has(word));
  const actions = ACTIONS.filter((row) => !remarks.includes(row));
  return {
    name: 'Fettle',
    scopeName: 'source.fettle',
    patterns: [
      { name: 'comment.line.number-sign.fettle', match: '#.*$' },
      TEXT,
      ...changeRules(),
      ...declarationRules(),
      {
        match: `(?i)${BEFORE_WORD}(allow)\\s+([\\w-]+/[\\w-]+)`,
        captures: { 1: { name: 'keyword.control.statement.fettle' }, 2: { name: 'constant.language.code.fettle' } },
      },
      threadRule(),
      ...choiceRules(),
      ...clauseChoiceRules(),
      stageRule(),
      words('keyword.control.action', actions),
      words('keyword.control.statement', [...STATEMENTS, ...remarks]),
      // A clause on a line of its own reads like a statement.
      {
        match: `(?i)^\\s*(${oneOf(ownClauses)})${AFTER_WORD}`,
        captures: { 1: { name: 'keyword.control.statement.fettle' } },
      },
      words('keyword.operator.word', CLAUSES),
      { name: 'support.function.fettle', match: `(?i)${BEFORE_WORD}(?:min|max|mean|spread)(?=\\s*\\()` },
      ...numberRules(),
      { name: 'variable.other.reference.fettle', match: `(?i)${NAME}(?:\\.${NAME})+` },
      { name: 'variable.other.name.fettle', match: NAME },
      { name: 'keyword.operator.fettle', match: String.raw`\.\.|±|\+/-|[-+*/=:]` },
      { name: 'punctuation.separator.fettle', match: ',' },
      { name: 'punctuation.section.braces.fettle', match: '[{}]' },
      { name: 'punctuation.section.brackets.fettle', match: '[()]' },
    ],
  };
}

/** The text of fettle.tmLanguage.json. */
export function highlightingFile(): string {
  return `${JSON.stringify(highlighting(), null, 2)}\n`;
}
