// What may be written at the cursor: words of the block, names by kind and place, features after a dot, units after a number, clauses.
import { lookUp } from '../../grammar/look-up.ts';
import { told } from '../../grammar/told.ts';
import { CLAUSES, type ValueKind } from '../../grammar/vocabulary.ts';
import type { Analysis } from '../model/analysis.ts';
import { blockOf } from '../model/statements.ts';
import { textOf } from '../model/text-of.ts';
import { type Cursor, cursorAt } from './cursor.ts';
import type { Completion, Offered } from './offered.ts';
import { aptAt } from './offered-apt.ts';
import { ofChange } from './offered-changes.ts';
import { afterClause, afterWord, NAME_CLAUSES, ofHead } from './offered-clauses.ts';
import { figuresOf, figuresWanted } from './offered-figures.ts';
import { type Names, namesOf } from './offered-names.ts';
import { afterStatementWord, sizesOfEngine } from './offered-statements.ts';
import { behindNumber, isInch, kindsBehind, unitOfLimit, unitsFor } from './offered-units.ts';
import { kindsOfLimit, placesOfThing, usable } from './offered-values.ts';
import { choicesOf, clausesOf, leadsOf, wordsOf } from './offered-words.ts';
import { thingOf } from './place-in-tree.ts';
import type { Elsewhere } from './use-line.ts';

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

/** The places of the thing whose name stands last, where places may follow. */
function placesBehind(analysis: Analysis, { last, statement, block }: Cursor): readonly Completion[] {
  if (last === undefined || statement === undefined || block === undefined || statement.behind.length === 0) return [];
  return last.tokenType.name === 'Number' ? [] : placesOfThing(analysis, last.image);
}

/** Clauses that the layout puts on a line of their own. */
const OWN_LINE: ReadonlySet<string> = new Set(['wear-limit']);

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

/** Whether the line goes on behind the word of the cursor: then what is written there already is not written once more. */
function goesOnBehind(analysis: Analysis, end: number): boolean {
  return /^[ \t]*[^\s#}]/.test(textOf(analysis.file, end, end + 200));
}

/** A word alone, where what belongs to it stands behind it. */
const alone = ({ snippet: _snippet, goesOn: _goesOn, ...word }: Completion): Completion => word;

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
  const different =
    elsewhere.length === 0 ? all : [...new Map(all.map((each) => [`${each.kind} ${each.label}`, each])).values()];
  const found = goesOnBehind(analysis, end)
    ? different.map((each) => (each.kind === 'word' ? alone(each) : each))
    : different;
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
