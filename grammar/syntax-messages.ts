// What the parser says, in the trade's words: what was found, what could stand there, what may be meant.
import type { IParserErrorMessageProvider, IToken, TokenType } from 'chevrotain';
import { nearest } from './nearest.ts';
import { UNITS } from './vocabulary/units.ts';
import { type Block, RESERVED, type StatementRow, statementsOf } from './vocabulary.ts';

const label = (type: TokenType): string => type.LABEL ?? type.name;
/** Where a name may stand, the engine may stand too; to say both would read as if the engine were meant. */
const wanted = (type: TokenType): string => (label(type) === 'engine' ? 'a name' : label(type));

/** What a value may begin with: to name these one by one says less than the word. */
const OF_A_VALUE: ReadonlySet<string> = new Set(['at-least', 'at-most', '-', 'a number', 'a value']);

/** Chevrotain's messages: the labels of what could stand there. The statement parser puts them into a sentence. */
export const PROVIDER: IParserErrorMessageProvider = {
  buildMismatchTokenMessage: ({ expected }) => label(expected),
  buildNotAllInputParsedMessage: () => 'the end',
  buildNoViableAltMessage: ({ expectedPathsPerAlt, ruleName }) => {
    if (ruleName === 'value' || ruleName === 'plainValue') return 'a value';
    const labels = new Set<string>();
    for (const paths of expectedPathsPerAlt)
      for (const path of paths) if (path[0] !== undefined) labels.add(wanted(path[0]));
    if (ruleName === 'until') return 'what is reached (82 degC) or what shows, in quotes,';
    return (labels.has('at-least') ? [...[...labels].filter((each) => !OF_A_VALUE.has(each)), 'a value'] : [...labels])
      .slice(0, 4)
      .join(' or ');
  },
  buildEarlyExitMessage: ({ expectedIterationPaths }) => {
    const first = expectedIterationPaths[0]?.[0];
    return first === undefined ? 'more' : wanted(first);
  },
};

/** How a piece of text is shown in a message. */
export function shown(token: IToken): string {
  const image = token.image ?? '';
  if (image === '') return 'the end of the text';
  const flat = image.replace(/\s+/g, ' ');
  return flat.length > 30 ? `${flat.slice(0, 30)}…` : flat;
}

export function expectedHere(found: string, expected: string, row: StatementRow | undefined): string {
  const example = row === undefined ? '' : ` It is written: ${row.example.replace(/\s+/g, ' ')}`;
  return `${found} can't stand here: ${expected} is wanted${row === undefined ? '' : ` after ${row.word}`}.${example}`;
}

export function valueMissing(row: StatementRow, expected: string): string {
  return `After ${row.word}, ${expected} is missing. It is written: ${row.example.replace(/\s+/g, ' ')}`;
}

/** Something that can't stand in these braces: what may be meant, or where it belongs. */
export function leftOver(
  found: string,
  block: string,
  hint: { readonly near?: string; readonly belongs?: string },
): string {
  if (hint.near !== undefined) return `${found} can't stand here in ${block}. Did you mean ${hint.near}?`;
  if (hint.belongs !== undefined)
    return `${found} can't stand here in ${block}: it belongs in the braces of ${hint.belongs}.`;
  return `${found} can't stand here in ${block}.`;
}

export function outsideDeclarations(
  found: string,
  hint: { readonly near?: string; readonly belongs?: string },
): string {
  if (hint.near !== undefined) return `${found} begins no declaration. Did you mean ${hint.near}?`;
  return hint.belongs === undefined
    ? `${found} stands outside every declaration. A declaration begins with a word such as part, fastener, limit, sequence.`
    : `${found} stands outside every declaration: it belongs in the braces of ${hint.belongs}.`;
}

export const braceMissing = (word: string): string =>
  `A { is missing before ${word}: what is said of a declaration stands in braces.`;
export const nameOfWords = (name: string): string => `A name is one word: write ${name}.`;
export const commaMeant = (found: string): string =>
  `${found} can't stand here. Between the members of a list stands a comma.`;
export const endNeedsNothing = (found: string): string =>
  `${found} can't stand here. Nothing is needed at the end of a line.`;
export const placeInQuotes = (): string => 'The place in a source stands in quotes: per manual "2-14".';
export const clauseInBraces = (word: string): string =>
  `${word} stands before the braces of a limit; in them are only notes and what is allowed.`;
export const workedOut = (figure: string): string =>
  `${figure} is worked out from the other figures of the engine. To hold it against bounds, write a limit: = engine.${figure}`;
export const orderWritten = (order: string): string => `A firing order is written with hyphens: ${order}.`;
export const rowsWithBlanks = (): string =>
  'The bolts of a tightening order stand with blanks between them, not commas.';
export const dateMeant = (date: string): string => `A date has two figures for month and day: ${date}.`;
export const oneFileEach = (): string => 'Each file has a use line of its own.';

export const strayBrace = (): string => 'This } closes nothing: no { is open here.';
export const commentRest = (): string => ' Is it the rest of the comment above?';
export const nameMissing = (word: string, taken: string): string =>
  `A name is missing after ${word === ',' ? 'the comma' : word}: ${taken} begins the next statement.`;
export const placeMissing = (word: string): string =>
  `A place is missing after ${word === ',' ? 'the comma' : word}. It is written: places upper 1..5, lower 1..5`;
export const intoMeant = (): string => 'Which part the places go into is said with into: places upper 1..5 into block.';
export const forEachOfWhat = (): string =>
  'It is not said of what: within 0.00075..0.001 in for-each 1 in of crankshaft.main-journal.';
export const headNameMissing = (word: string, found: string | undefined): string =>
  found === undefined
    ? `A name is missing after ${word}. Words that begin a declaration, such as part, limit and step, are never names.`
    : `A name is missing after ${word}; ${found} can't be one.`;
export const pathMissing = (): string => 'After use comes the file in quotes: use "common-fasteners.fettle".';
export const wholeNumberWanted = (written: string): string =>
  `${written} is no whole number; a whole number is wanted here.`;
export const noSuchHour = (): string => "There is no such hour: a clock direction is 12, 1:30, 6 o'clock.";
export const rangeMeant = (range: string): string => `A range is written with two dots. Is ${range} meant?`;
export const mixedNumber = (mixed: string): string =>
  `A whole number and a fraction have a blank between them: ${mixed}.`;
export const oneUnitForRange = (unit: string): string =>
  `A range has its unit once, at the end. Take out this ${unit}.`;
export const unclosedBrace = (): string => 'This { is never closed: a } is missing.';
export const tooDeep = (deepest: number): string =>
  `Braces, brackets or signs stand more than ${deepest} deep in each other here, so nothing of this declaration is read. Write a sum without brackets round what is only added, or in several limits.`;
export const stepOutside = (): string => 'A step stands in the braces of a sequence.';
export const changeNeedsBase = (): string =>
  'This spec has changes and names no base. After its name and title comes what it is built on: extends, and the name of a spec.';
export const changeOutside = (): string => 'A change stands in the braces of the spec that makes it.';
export const beforeChanges = (word: string): string =>
  `${word} is said of the spec itself: it stands before the first change, or after one in braces.`;
export const changeWhat = (word: string): string =>
  word === 'insert'
    ? 'Say what is put in: insert step, its name, and after or before which step.'
    : `Say what kind of thing it is: ${word} part, ${word} fastener, ${word} limit, ${word} step …, and its name.`;
export const insertStepsAlone = (word: string): string =>
  `Only a step is inserted. A ${word} of your own is declared as ever, outside the braces of the spec.`;
export const insertWhere = (name: string): string => `Say where ${name} goes: after or before which step of the base.`;
export const changesNothing = (word: string): string =>
  `Nothing is said of what differs. In braces after the name stands what is other than in the base: change ${word} … { … }`;
export const dropOutsideChange = (): string =>
  'drop takes out what a base says, in the braces of change. Here nothing stands that could be dropped.';
export const dropUnknown = (block: string, found: string, near: string | undefined): string =>
  `Nothing called ${found} stands in ${block === 'engine' ? 'the engine' : `a ${block}`} that could be dropped.${near === undefined ? '' : ` Did you mean ${near}?`}`;
export const choiceUnknown = (
  word: string,
  written: string,
  choices: readonly string[],
  near: string | undefined,
): string =>
  `${word} can't be ${written}. It is one of: ${choices.join(', ')}.${near === undefined ? '' : ` Did you mean ${near}?`}`;
export const badDate = (text: string): string =>
  `There is no such day as ${text}. A date is year-month-day: 2026-03-04.`;
export const becauseMissing = (): string => 'Say why: allow … because "…". A check is silenced for a reason only.';
export const twice = (word: string): string => `${word} is said twice here.`;

export function nearUnit(text: string): string | undefined {
  return nearest(
    text,
    UNITS.flatMap((row) => [row.unit, ...row.also]),
  );
}

export const unitMeant = (text: string, units: readonly string[], why: string): string =>
  `${text} is no unit that is known here. ${why} Write ${units.join(' or ')}.`;
export const minutesOfDegree = (minutes: string, meant: string | undefined): string =>
  `A degree has 60 minutes, so there are no ${minutes} of them.${meant === undefined ? '' : ` Did you mean ${meant}?`}`;
export const minutesOrDecimals = (degrees: string): string =>
  `An angle has decimals or minutes, not both: ${degrees} is no whole number of degrees.`;
export const whichSide = (angle: string, from: string): string =>
  `${angle} ${from} does not say on which side of ${from.toUpperCase()}: b${from} is before it, a${from} after it.`;

export function unknownUnit(text: string, near: string | undefined): string {
  return `${text} is no unit that is known here.${near === undefined ? '' : ` Did you mean ${near}?`}`;
}

export function nearStatement(block: Block, word: string): string | undefined {
  return nearest(
    word,
    statementsOf(block).map((row) => row.word),
  );
}

export function nearDeclaration(word: string): string | undefined {
  return nearest(word, RESERVED);
}
