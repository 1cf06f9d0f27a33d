// What may be written at the cursor: words of the block, names by kind and place, features after a dot, units after a number, clauses.
import { lookUp } from '../../grammar/look-up.ts';
import { HOLE } from '../../grammar/sections.ts';
import type { Token } from '../../grammar/tokens.ts';
import { type Argument, type Told, told } from '../../grammar/told.ts';
import { UNITS } from '../../grammar/vocabulary/units.ts';
import {
  ACTIONS,
  type Block,
  CHANGEABLE,
  CHANGES,
  CLAUSES,
  DECLARATIONS,
  type NameKind,
  STAGES,
  type StatementRow,
  statementsOf,
  type ValueKind,
} from '../../grammar/vocabulary.ts';
import { CHECKS, firstOfPage } from '../checks/catalog.ts';
import type { Analysis } from '../model/analysis.ts';
import type { Placed } from '../model/placed.ts';
import { blockOf } from '../model/statements.ts';
import { textOf } from '../model/text-of.ts';
import { showsInches } from '../model/units-shown.ts';
import type { Thing } from '../model/view.ts';
import { type Cursor, cursorAt } from './cursor.ts';
import { piecesOf } from './forms.ts';
import type { Completion, Offered } from './offered.ts';
import { aptAt } from './offered-apt.ts';
import { figureGap, figuresOf, figuresWanted, firstUnit } from './offered-figures.ts';
import { type Names, namesOf } from './offered-names.ts';
import {
  classes,
  firingOrders,
  gradesOf,
  kindsOfLimit,
  placesOfThing,
  sizesFor,
  sizesOf,
  stagesOf,
  threads,
  today,
  usable,
} from './offered-values.ts';
import { thingOf } from './place-in-tree.ts';
import type { Elsewhere } from './use-line.ts';

/** Whether the spec shows inches first. */
function isInch({ views: [view] }: Analysis): boolean {
  return view !== undefined && showsInches(view);
}

/** What follows a clause word, whatever the statement. */
const NAME_CLAUSES: Readonly<Record<string, readonly NameKind[]>> = {
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

/** The words of a limit's head that a figure follows. */
const BOUNDS: ReadonlySet<string> = new Set(['within', 'wear-limit', 'at-least', 'at-most']);

/** Those that may stand more than once. */
const REPEATED: ReadonlySet<string> = new Set(['for', 'at', 'per', 'otherwise']);

/** The words of a limit's head. */
const LIMIT_WORDS = [
  ...[
    'of',
    'each',
    'kind',
    'measured',
    'within',
    'wear-limit',
    'over',
    'for',
    'at',
    'for-each',
    'readings',
    'otherwise',
    'per',
  ],
  ...['at-least', 'at-most'],
];

function choicesOf(choices: Readonly<Record<string, string>> | undefined, detail: Argument): Completion[] {
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
function clausesOf(words: readonly string[], rank: number, row?: StatementRow): Completion[] {
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

/** The units that may stand there, the usual ones first. */
function unitsFor(
  row: StatementRow | undefined,
  wanted: readonly ValueKind[] | undefined,
  inch: boolean,
  likeliest?: string,
): Completion[] {
  const kinds: readonly ValueKind[] = wanted ?? row?.unit ?? [];
  if (wanted?.length === 0) return [];
  if (row !== undefined && kinds.length === 0 && row.shape === 'number') return [];
  const open = kinds.length === 0 || kinds.includes('any');
  const units = UNITS.filter((unit) => open || (kinds as readonly string[]).includes(unit.kind));
  const usual = new Set(UNITS.map(({ kind }) => firstUnit(kind as ValueKind, inch)));
  // The unit of the first kind that is wanted stands before those of the others.
  const first =
    likeliest ?? (row?.shape === 'rotate' ? 'turn' : firstUnit(open ? 'length' : (kinds[0] ?? 'any'), inch));
  const clock = row !== undefined && ['mark', 'orient', 'centre-distance', 'set', 'confirm'].includes(row.word);
  return [
    ...(clock
      ? [
          {
            label: "o'clock",
            kind: 'unit',
            detail: told`direction`,
            help: told`A direction seen from the front, sump down; 12 is up.`,
            rank: 0,
          } as const,
        ]
      : []),
    ...units.map(
      (unit): Completion => ({
        label: unit.unit,
        kind: 'unit',
        detail: told.term(unit.kind),
        help: told.term(unit.help),
        rank: unit.unit === first ? 0 : usual.has(unit.unit) ? 1 : 2,
      }),
    ),
  ];
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

/** Of a change that has no name yet and stands straight before the cursor, what kind of thing it changes: `part` of `drop part`. */
function unnamedChange(placed: Placed | undefined, tokens: readonly Token[]): string | undefined {
  const child = placed?.section.children[tokens.filter(({ image }) => image === HOLE).length - 1];
  const [word, kind = '', ...more] = child?.text.trim().split(/\s+/) ?? [];
  return (word === 'change' || word === 'drop') && CHANGEABLE.has(kind) && more.length === 0 ? kind : undefined;
}

/** What may be changed, dropped or inserted, and what of it is in the base. */
function ofChange({ last, placed, block, tokens }: Cursor, names: Names): readonly Completion[] | undefined {
  const declaration = placed?.declaration;
  if (block === 'spec' && CHANGES.some((row) => row.word === last?.payload)) {
    const rows = DECLARATIONS.filter((row) => CHANGEABLE.has(row.word));
    const kinds = last?.payload === 'insert' ? rows.filter((row) => row.word === 'step') : rows;
    return kinds.map((row) => ({
      label: row.word,
      kind: 'word',
      detail: told`of the base`,
      help: told.term(row.help),
      rank: 0,
    }));
  }
  const kind = block === 'spec' && last?.image === HOLE ? unnamedChange(placed, tokens) : undefined;
  if (kind !== undefined) return kind === 'engine' ? [] : names.ofKinds([kind as NameKind]);
  if (declaration?.changed === undefined || last === undefined) return undefined;
  if (last.startOffset === declaration.changed.start && declaration.word !== 'insert')
    return names.ofKinds([declaration.changed.word as NameKind]);
  if (last.payload === 'drop' && declaration.word === 'change' && block !== undefined)
    return statementsOf(block).flatMap(({ word, help, inChange }) =>
      inChange === true || word === 'when'
        ? []
        : [{ label: word, kind: 'word', detail: told`statement`, help: told.term(help), rank: 0 }],
    );
  if (block !== undefined) return undefined;
  if (declaration.word === 'insert')
    return last.payload === 'after' || last.payload === 'before'
      ? names.ofKinds(['step'])
      : last.payload === 'each'
        ? names.ofKinds(['part'])
        : clausesOf(['after', 'before', 'each'], 0);
  return undefined;
}

/** The words that may begin something in a block; those that stand there already and may stand once come last. */
function wordsOf(block: Block | undefined, cursor: Cursor, names: Names): Completion[] {
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

const DEAD_CENTRES: readonly Completion[] = [
  { label: 'tdc', kind: 'choice', detail: told`position`, help: told`At top dead centre of a cylinder.`, rank: 0 },
  { label: 'bdc', kind: 'choice', detail: told`position`, help: told`At bottom dead centre of a cylinder.`, rank: 0 },
];

/** What a clause of one statement wants, where the same word wants something else in another. */
function afterClause(analysis: Analysis, cursor: Cursor, names: Names): readonly Completion[] | undefined {
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
function ofHead(analysis: Analysis, cursor: Cursor): readonly Completion[] | undefined {
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

/** The unit that the bounds of a limit are written with, as far as they are. */
function unitOfLimit(thing: Thing | undefined): (typeof UNITS)[number] | undefined {
  const within = thing?.kind === 'limit' ? thing.declaration.limit?.within : undefined;
  if (thing === undefined || within === undefined) return undefined;
  const words = thing.placed.section.text.slice(within.start, within.end).split(/[\s(),]+/);
  return UNITS.find(({ unit }) => words.includes(unit));
}

/** What a number behind a clause of a run or a crank is counted in. */
function kindsBehind(cursor: Cursor): readonly ValueKind[] | undefined {
  const { statement, placed, block } = cursor;
  if (block === undefined && placed !== undefined && blockOf(placed.declaration) === 'limit')
    return kindsOfLimit(placed.declaration.limit);
  if (statement === undefined || !['run', 'crank'].includes(statement.row.shape)) return undefined;
  const clause = statement.behind.findLast((token) => ['at', 'for', 'until'].includes(token.payload))?.payload;
  return clause === 'at'
    ? ['speed']
    : clause === 'for'
      ? ['time']
      : clause === 'until'
        ? ['temperature', 'pressure']
        : undefined;
}

/** Actions with a supply. */
const WITH_SUPPLY: ReadonlySet<string> = new Set(['lubricate', 'seal', 'clean', 'fill']);

/** What follows the last word where that word alone tells; undefined where it does not. */
function afterWord(cursor: Cursor, names: Names): readonly Completion[] | undefined {
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

const WHOLE_ENGINE: Completion = {
  label: 'engine',
  kind: 'name',
  detail: told`the whole engine`,
  help: told`The engine as it stands.`,
  rank: 0,
};

/** A torque and an angle with a gap for the figure. */
function torqueFigures(inch: boolean): readonly Completion[] {
  return [
    figureGap(inch ? 'lbf.ft' : 'N.m', told`a torque`, told`A torque, as the manual gives it.`),
    figureGap('deg', told`a further angle`, told`A further angle after a torque.`),
  ];
}

function afterStatementWord(row: StatementRow, names: Names, analysis: Analysis): readonly Completion[] | undefined {
  if (row.shape === 'thread') return threads(isInch(analysis));
  if (row.shape === 'class') return classes(isInch(analysis));
  if (row.shape === 'firing-order') return firingOrders(analysis);
  const choices = choicesOf(row.choices, row.word);
  if (row.shape === 'choice' || row.shape === 'begins') return choices;
  if (row.shape === 'into') return [...choices, ...names.ofKinds(['part'])];
  if (row.shape === 'torque')
    return [
      ...torqueFigures(isInch(analysis)),
      ...STAGES.map(
        ({ word, help }): Completion => ({
          label: word,
          kind: 'choice',
          detail: told`stage`,
          help: told.term(help),
          rank: 1,
        }),
      ),
    ];
  // Numbers stand there, and behind which words others do.
  if (row.shape === 'tightening-order') return undefined;
  const named = row.refers === undefined ? [] : names.ofKinds(row.refers);
  if (row.in.includes('step') && (row.word === 'support' || row.word === 'lift')) return [WHOLE_ENGINE, ...named];
  // Choices of an action stand behind `by` or `on`.
  const shown = ['stated', 'bank'].includes(row.shape) ? choices : [];
  return named.length + shown.length > 0 ? [...named, ...shown] : undefined;
}

/** The places of the thing whose name stands last, where places may follow. */
function placesBehind(analysis: Analysis, { last, statement, block }: Cursor): readonly Completion[] {
  if (last === undefined || statement === undefined || block === undefined || statement.behind.length === 0) return [];
  return last.tokenType.name === 'Number' ? [] : placesOfThing(analysis, last.image);
}

/** Clauses that the layout puts on a line of their own. */
const OWN_LINE: ReadonlySet<string> = new Set(['wear-limit']);

/** The words of the pieces that may still follow in the statement of the cursor. */
function leadsOf({ statement, block }: Cursor): readonly string[] {
  if (statement === undefined || block === undefined) return [];
  const said = new Set(statement.behind.map((token) => token.payload));
  return piecesOf(statement.row, block)
    .filter((piece) => !piece.leads.some((lead) => said.has(lead)))
    .flatMap((piece) => piece.leads);
}

/** Words that may follow a number without a unit: of places, of bolts, of readings. */
function behindNumber(cursor: Cursor): readonly string[] {
  const isHead = cursor.block === undefined && cursor.placed?.declaration.word === 'limit';
  if (isHead) return cursor.tokens.at(-2)?.payload === 'measured' ? ['readings'] : [];
  const { row } = cursor.statement ?? {};
  return row?.shape === 'places' || row?.shape === 'tightening-order' || row?.shape === 'action' ? leadsOf(cursor) : [];
}

function offered(analysis: Analysis, cursor: Cursor, names: Names): readonly Completion[] {
  const { last, block, statement, placed, tokens } = cursor;
  const kind = last?.tokenType.name;
  const row = statement?.row;
  if (kind === 'Dot') {
    const owner = tokens[tokens.length - 2]?.image;
    const marks = row !== undefined && ['confirm', 'marked-link', 'set'].includes(row.word);
    return owner === undefined ? [] : names.features(owner, marks);
  }
  // A cylinder, the number of a link: its angle and its mark are behind a word of their own.
  const counts = row !== undefined && ['crankpin', 'marked-link', 'bank'].includes(row.shape);
  if (kind === 'Number' && counts && !cursor.newLine && !statement?.behind.some((token) => token.payload === 'at'))
    return clausesOf(leadsOf(cursor), 0, row);
  if (kind === 'Number' && !cursor.newLine) {
    const measured =
      row?.shape === 'measured' ? unitOfLimit(thingOf(analysis, statement?.behind[0]?.image ?? '')) : undefined;
    return [
      ...unitsFor(
        row,
        measured === undefined ? kindsBehind(cursor) : [measured.kind as ValueKind],
        isInch(analysis),
        measured?.unit,
      ),
      ...(row?.shape === 'cylinders' ? choicesOf(row.choices, row.word) : []),
      ...clausesOf(behindNumber(cursor), 1),
    ];
  }
  if (kind === 'Unit' && block === 'grades' && !cursor.newLine) return clausesOf(['with'], 0);
  if (kind === 'Unit' && (last?.payload === 'deg' || row?.shape === 'events')) {
    const events = CLAUSES.find((each) => each.word === 'opens')?.choices;
    if (row?.shape === 'events' || row?.shape === 'timed' || row?.word === 'set')
      return choicesOf(events, told`position of the crankshaft`);
  }
  if (kind === 'Text' && row?.shape === 'found' && !cursor.newLine) return choicesOf(row.choices, told`verdict`);
  const behindClause = afterClause(analysis, cursor, names);
  if (behindClause !== undefined) return behindClause;
  const changing = ofChange(cursor, names);
  if (changing !== undefined) return changing;
  if (last?.payload === 'extends') return names.ofKinds(['spec']);
  const head = ofHead(analysis, cursor);
  if (head !== undefined) return head;
  const figures = figuresWanted(cursor, isInch(analysis));
  if (figures !== undefined) {
    const first = statement?.behind.length === 0;
    return [
      ...(first ? sizesOfEngine(analysis, cursor) : []),
      ...figures,
      ...(first ? clausesOf(leadsOf(cursor), 3, row) : []),
    ];
  }
  const said = afterWord(cursor, names);
  if (said !== undefined) return said;
  if (row !== undefined && statement?.behind.length === 0) {
    const after = afterStatementWord(row, names, analysis);
    if (after !== undefined) return after;
  }
  // After a comma the list of this statement goes on; no new statement begins there.
  if (kind === 'Comma' && row?.shape === 'torque') return afterStatementWord(row, names, analysis) ?? [];
  if (kind === 'Comma') return row?.refers === undefined ? [] : names.ofKinds(row.refers);
  const kinds = lookUp(NAME_CLAUSES, last?.payload ?? '');
  if (kinds !== undefined && (statement?.behind.length ?? 1) > 0) return names.ofKinds(kinds);
  if (placed !== undefined && blockOf(placed.declaration) === 'limit' && block === undefined) {
    if (['=', '+', '-', '*', '/', '('].includes(last?.image ?? ''))
      return [
        ...names.ofKinds(['part', 'limit', 'valve-timing', 'grades']),
        { label: 'engine', kind: 'name', detail: told`values of the engine`, rank: 0 },
      ];
    if (BOUNDS.has(last?.payload ?? '') && !cursor.newLine)
      return [
        ...figuresOf(kindsOfLimit(placed.declaration.limit), isInch(analysis), last?.payload === 'within'),
        ...(last?.payload === 'within' ? clausesOf(['at-least', 'at-most'], 2) : []),
      ];
    const there = new Set(tokens.map(({ payload }) => payload));
    const left = LIMIT_WORDS.filter((word) => !there.has(word) || REPEATED.has(word));
    return [...clausesOf(left, 0), ...wordsOf(undefined, cursor, names)];
  }
  // What may still follow in this statement, as long as its line goes on; then what may begin the next.
  const more = leadsOf(cursor).filter((lead) => !cursor.newLine || OWN_LINE.has(lead));
  const places = cursor.newLine ? [] : placesBehind(analysis, cursor);
  return [...places, ...clausesOf(more, 1, row), ...wordsOf(block, cursor, names)];
}

/** What a length of the engine may be named by: the sizes of its parts. */
function sizesOfEngine(analysis: Analysis, { statement }: Cursor): readonly Completion[] {
  const row = statement?.row;
  const isLength = row?.shape === 'value' && row.in.includes('engine') && row.unit?.includes('length') === true;
  return isLength ? sizesFor(analysis, row.word) : [];
}

/** Statements in which a thing can't name itself. */
const NEVER_ITSELF: ReadonlySet<string> = new Set([
  'covers',
  'clear-of',
  'fixed-to',
  'driven-by',
  'like',
  'after',
  'into',
  'each',
]);

/** The rest of the word that the cursor stands in. */
function wordBehind(analysis: Analysis, offset: number): number {
  return (/^[\p{L}\p{M}\p{N}_-]*/u.exec(textOf(analysis.file, offset, offset + 200))?.[0] ?? '').length;
}

/** The files of the folder, for a `use`. */
export interface Folder {
  readonly files: () => readonly string[];
  readonly libraries: readonly string[];
  /** The names that other files of it and the libraries declare, and that begin with some letters. */
  readonly elsewhere?: (typed: string) => readonly Elsewhere[];
}

/** Letters that are typed before names of other files are offered. */
const ENOUGH = 2;

/** In the quotes of a `use`: the paths that it may name. */
function ofUse(analysis: Analysis, offset: number, folder: Folder | undefined): Offered | undefined {
  if (folder === undefined) return undefined;
  const before = textOf(analysis.file, Math.max(0, offset - 400), offset);
  const typed = /(?:^|\n)[ \t]*use[ \t]+"([^"\n]*)$/i.exec(before)?.[1];
  if (typed === undefined) return undefined;
  const rest = /^[^"\n]*/.exec(textOf(analysis.file, offset, offset + 400))?.[0] ?? '';
  return {
    start: offset - typed.length,
    end: offset + rest.trimEnd().length,
    completions: usable(analysis.file.file, folder.files(), folder.libraries),
  };
}

/** The completions at an offset, and what they take the place of. */
export function completions(analysis: Analysis, offset: number, folder?: Folder): Offered {
  const paths = ofUse(analysis, offset, folder);
  if (paths !== undefined) return paths;
  const cursor = cursorAt(analysis, offset);
  const start = offset - cursor.typed.length;
  const end = offset + wordBehind(analysis, offset);
  const takesNumber =
    cursor.statement?.behind.length === 0 && ['class', 'thread', 'firing-order'].includes(cursor.statement.row.shape);
  if (cursor.inText || (/^\d/.test(cursor.typed) && !takesNumber)) return { start, end, completions: [] };
  const own = cursor.placed?.declaration.name?.text;
  const isItself = NEVER_ITSELF.has(cursor.statement?.row.word ?? '');
  const elsewhere = cursor.typed.length >= ENOUGH ? (folder?.elsewhere?.(cursor.typed) ?? []) : [];
  const all = aptFirst(analysis, cursor, offered(analysis, cursor, namesOf(analysis, elsewhere)));
  // Two files may declare the same name: the first is offered.
  const found =
    elsewhere.length === 0 ? all : [...new Map(all.map((each) => [`${each.kind} ${each.label}`, each])).values()];
  return {
    start,
    end,
    completions: isItself ? found.filter((each) => each.kind !== 'name' || each.label !== own) : found,
  };
}

/** The names that are most likely meant before those that may stand there too. */
function aptFirst(analysis: Analysis, cursor: Cursor, all: readonly Completion[]): readonly Completion[] {
  const apt = aptAt(cursor);
  if (apt === undefined) return all;
  return all.map((each) => {
    const thing = each.kind === 'name' ? thingOf(analysis, each.label) : undefined;
    return thing === undefined || apt(thing) ? each : { ...each, rank: each.rank + 2 };
  });
}

/** Whether some letters stand in a word in their order, small or capital. */
function hasInOrder(word: string, letters: string): boolean {
  let at = 0;
  for (const letter of letters) {
    at = word.indexOf(letter, at) + 1;
    if (at === 0) return false;
  }
  return true;
}

/** Of more completions than are offered at a time, so many of those that what is typed may become, the likeliest first. */
export function fittingFirst(all: readonly Completion[], typed: string, most: number): readonly Completion[] {
  if (all.length <= most) return all;
  const letters = typed.toLowerCase();
  const fitting = all.filter(({ label }) => hasInOrder(label.toLowerCase(), letters));
  const begins = ({ label }: Completion): number => (label.toLowerCase().startsWith(letters) ? 0 : 1);
  return fitting.sort((a, b) => begins(a) - begins(b) || a.rank - b.rank).slice(0, most);
}
