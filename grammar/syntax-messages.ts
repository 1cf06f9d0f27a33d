// What the parser says, in the trade's words: what was found, what could stand there, what may be meant.

import type { IParserErrorMessageProvider, IToken, TokenType } from 'chevrotain';
import { bracesOf } from './hints.ts';
import { nearest } from './nearest.ts';
import { type Argument, type Told, told } from './told.ts';
import { UNITS } from './vocabulary/units.ts';
import { type Block, RESERVED, type StatementRow, statementsOf } from './vocabulary.ts';

const label = (type: TokenType): string => type.LABEL ?? type.name;
/** Where a name may stand, the engine may stand too; to say both would read as if the engine were meant. */
const wanted = (type: TokenType): string => (label(type) === 'engine' ? 'a name' : label(type));

/** What a value may begin with: to name these one by one says less than the word. */
const OF_A_VALUE: ReadonlySet<string> = new Set(['at-least', 'at-most', '-', 'a number', 'a value']);
const OR = ' or ';
const UNTIL = 'what is reached (82 degC) or what shows, in quotes,';

/** Chevrotain's messages: the labels of what could stand there. The statement parser puts them into a sentence. */
export const PROVIDER: IParserErrorMessageProvider = {
  buildMismatchTokenMessage: ({ expected }) => label(expected),
  buildNotAllInputParsedMessage: () => 'the end',
  buildNoViableAltMessage: ({ expectedPathsPerAlt, ruleName }) => {
    if (ruleName === 'value' || ruleName === 'plainValue') return 'a value';
    const labels = new Set<string>();
    for (const paths of expectedPathsPerAlt)
      for (const path of paths) if (path[0] !== undefined) labels.add(wanted(path[0]));
    if (ruleName === 'until') return UNTIL;
    return (labels.has('at-least') ? [...[...labels].filter((each) => !OF_A_VALUE.has(each)), 'a value'] : [...labels])
      .slice(0, 4)
      .join(OR);
  },
  buildEarlyExitMessage: ({ expectedIterationPaths }) => {
    const first = expectedIterationPaths[0]?.[0];
    return first === undefined ? 'more' : wanted(first);
  },
};

/** How a piece of text is shown in a message. */
export function shown(token: IToken): Argument {
  const image = token.image ?? '';
  if (image === '') return told`the end of the text`;
  const flat = image.replace(/\s+/g, ' ');
  return flat.length > 30 ? `${flat.slice(0, 30)}…` : flat;
}

/** What could stand there, by the labels of the parser: `a name or a number`. */
function wantedHere(labels: string): Argument {
  return labels === UNTIL ? told.term(labels) : told.list(labels.split(OR).map(told.term), 'or');
}

export function expectedHere(found: Argument, expected: string, row: StatementRow | undefined): Told {
  if (row === undefined) return told`${found} can't stand here: ${wantedHere(expected)} is wanted.`;
  const example = row.example.replace(/\s+/g, ' ');
  return told`${found} can't stand here: ${wantedHere(expected)} is wanted after ${row.word}. It is written: ${example}`;
}

export function valueMissing(row: StatementRow, expected: string): Told {
  const example = row.example.replace(/\s+/g, ' ');
  return told`After ${row.word}, ${wantedHere(expected)} is missing. It is written: ${example}`;
}

export interface Hint {
  readonly near?: string;
  readonly belongs?: Argument;
}

/** Something that can't stand in these braces: what may be meant, or where it belongs. */
export function leftOver(found: Argument, block: Argument, hint: Hint): Told {
  if (hint.near !== undefined) return told`${found} can't stand here in ${block}. Did you mean ${hint.near}?`;
  if (hint.belongs !== undefined)
    return told`${found} can't stand here in ${block}: it belongs in the braces of ${hint.belongs}.`;
  return told`${found} can't stand here in ${block}.`;
}

export function outsideDeclarations(found: Argument, hint: Hint): Told {
  if (hint.near !== undefined) return told`${found} begins no declaration. Did you mean ${hint.near}?`;
  return hint.belongs === undefined
    ? told`${found} stands outside every declaration. A declaration begins with a word such as part, fastener, limit, sequence.`
    : told`${found} stands outside every declaration: it belongs in the braces of ${hint.belongs}.`;
}

export const braceMissing = (word: string): Told =>
  told`A { is missing before ${word}: what is said of a declaration stands in braces.`;
export const nameOfWords = (name: string): Told => told`A name is one word: write ${name}.`;
export const countMissing = (): Told =>
  told`Behind the x stands how many there are: x4. Write the number, or take the x out.`;
export const commaMeant = (found: Argument): Told =>
  told`${found} can't stand here. Between the members of a list stands a comma.`;
export const endNeedsNothing = (found: Argument): Told =>
  told`${found} can't stand here. Nothing is needed at the end of a line.`;
export const placeInQuotes = (): Told => told`The place in a source stands in quotes: per manual "2-14".`;
export const clauseInBraces = (word: Argument): Told =>
  told`${word} stands before the braces of a limit; in them are only notes and what is allowed.`;
export const boundsBeforeBraces = (): Told =>
  told`The bounds of a limit stand before its braces, behind within: within 0.05..0.20 mm`;
export const angleBehindAt = (): Told =>
  told`An angle stands behind at, a direction or a part behind toward: orient top-gap at 45 deg, orient arrow toward front`;
export const directionBehindToward = (feature: string, direction: string): Told =>
  told`A direction stands behind toward: orient ${feature} toward ${direction}`;
export const torqueOfFastener = (word: string, fastener: string): Told =>
  told`How tight a bolt is stands in its own braces, behind torque. In a step its name is enough: ${word} ${fastener}`;
export const workedOut = (figure: Argument): Told =>
  told`${figure} is worked out from the other figures of the engine. To hold it against bounds, write a limit: = engine.${figure}`;
export const orderWritten = (order: string): Told => told`A firing order is written with hyphens: ${order}.`;
export const rowsWithBlanks = (): Told =>
  told`The bolts of a tightening order stand with blanks between them, not commas.`;
export const dateMeant = (date: string): Told => told`A date has two figures for month and day: ${date}.`;
export const oneFileEach = (): Told => told`Each file has a use line of its own.`;

export const strayBrace = (): Told => told`This } closes nothing: no { is open here.`;
export const commentRest = (): Told => told` Is it the rest of the comment above?`;
export const nameMissing = (word: string, taken: string): Told =>
  word === 'until'
    ? told`After until stands what is reached, such as 82 degC, or in quotes what shows: ${taken} begins the next statement.`
    : word === 'otherwise'
      ? told`After otherwise stands in quotes what to do then: ${taken} begins the next statement.`
      : told`A name is missing after ${word === ',' ? told`the comma` : word}: ${taken} begins the next statement.`;
export const placeMissing = (word: string): Told =>
  told`A place is missing after ${word === ',' ? told`the comma` : word}. It is written: places upper 1..5, lower 1..5`;
export const placeReserved = (word: string): Told =>
  told`${word} can't be the name of a place: it begins a declaration. Write ${word}-side, or another name.`;
export const intoMeant = (): Told =>
  told`Which part the places go into is said with into: places upper 1..5 into block.`;
export const forEachOfWhat = (): Told =>
  told`It is not said of what: within 0.00075..0.001 in for-each 1 in of crankshaft.main-journal.`;
export const headNameMissing = (word: string, found: Argument | undefined): Told =>
  found === undefined
    ? told`A name is missing after ${word}. Words that begin a declaration, such as part, limit and step, are never names.`
    : told`A name is missing after ${word}; ${found} can't be one.`;
export const pathMissing = (): Told => told`After use comes the file in quotes: use "common-fasteners.fettle".`;
export const wholeNumberWanted = (written: string): Told =>
  told`${written} is no whole number; a whole number is wanted here.`;
export const noSuchHour = (): Told => told`There is no such hour: a clock direction is 12, 1:30, 6 o'clock.`;
export const rangeMeant = (range: string): Told => told`A range is written with two dots. Is ${range} meant?`;
export const mixedNumber = (mixed: string): Told =>
  told`A whole number and a fraction have a blank between them: ${mixed}.`;
export const oneUnitForRange = (unit: string): Told =>
  told`A range has its unit once, at the end. Take out this ${unit}.`;
export const unclosedBrace = (): Told => told`This { is never closed: a } is missing.`;
export const tooDeep = (deepest: number): Told =>
  told`Braces, brackets or signs stand more than ${deepest} deep in each other here, so nothing of this declaration is read. Write a sum without brackets round what is only added, or in several limits.`;
export const tooLong = (longest: number): Told =>
  told`This declaration is longer than the ${longest.toLocaleString('en')} characters that are read of one, so nothing of it is read. Write what belongs together into a declaration of its own.`;
export const tooLongOutside = (longest: number): Told =>
  told`More than the ${longest.toLocaleString('en')} characters that are read stand outside every declaration here, so nothing of them is read. Is this a spec?`;
export const stepOutside = (): Told => told`A step stands in the braces of a sequence.`;
export const changeNeedsBase = (): Told =>
  told`This spec has changes and names no base. After its name and title comes what it is built on: extends, and the name of a spec.`;
export const changeOutside = (): Told => told`A change stands in the braces of the spec that makes it.`;
export const beforeChanges = (word: string): Told =>
  told`${word} is said of the spec itself: it stands before the first change, or after one in braces.`;
export const changeWhat = (word: string): Told =>
  word === 'insert'
    ? told`Say what is put in: insert step, its name, and after or before which step.`
    : told`Say what kind of thing it is: ${word} part, ${word} fastener, ${word} limit, ${word} step …, and its name.`;
export const insertStepsAlone = (word: string): Told =>
  told`Only a step is inserted. A ${word} of your own is declared as ever, outside the braces of the spec.`;
export const insertWhere = (name: string): Told =>
  told`Say where ${name} goes: after or before which step of the base.`;
export const changesNothing = (word: string): Told =>
  told`Nothing is said of what differs. In braces after the name stands what is other than in the base: change ${word} … { … }`;
export const dropOutsideChange = (): Told =>
  told`drop takes out what a base says, in the braces of change. Here nothing stands that could be dropped.`;
export const dropUnknown = (block: Block, found: Argument, near: string | undefined): Told =>
  told`Nothing called ${found} stands in ${bracesOf(block)} that could be dropped.${meant(near)}`;
export const choiceUnknown = (
  word: string,
  written: string,
  choices: readonly string[],
  near: string | undefined,
): Told => told`${told.term(word)} can't be ${written}. It is one of: ${told.list(choices, ',')}.${meant(near)}`;
export const badDate = (text: string): Told =>
  told`There is no such day as ${text}. A date is year-month-day: 2026-03-04.`;
export const becauseMissing = (): Told => told`Say why: allow … because "…". A check is silenced for a reason only.`;
export const twice = (word: string): Told => told`${told.term(word)} is said twice here.`;

/** The sentence that offers what may be meant. */
const meant = (near: string | undefined): Told => (near === undefined ? told.nothing : told` Did you mean ${near}?`);

/** The unit that a word is likest to: of the kinds that are wanted where it stands, else of any. */
export function nearUnit(text: string, kinds: readonly string[]): string | undefined {
  const spelt = (rows: typeof UNITS): readonly string[] => rows.flatMap((row) => [row.unit, ...row.also]);
  return nearest(text, spelt(UNITS.filter(({ kind }) => kinds.includes(kind)))) ?? nearest(text, spelt(UNITS));
}

export const unitMeant = (text: string, units: readonly string[], why: Told): Told =>
  told`${text} is no unit that is known here. ${why} Write ${told.list(units, 'or')}.`;
export const minutesOfDegree = (minutes: string, near: string | undefined): Told =>
  told`A degree has 60 minutes, so there are no ${minutes} of them.${meant(near)}`;
export const minutesOrDecimals = (degrees: string): Told =>
  told`An angle has decimals or minutes, not both: ${degrees} is no whole number of degrees.`;
export const whichSide = (angle: string, from: string): Told =>
  told`${angle} ${from} does not say on which side of ${from.toUpperCase()}: b${from} is before it, a${from} after it.`;

export function unknownUnit(text: string, near: string | undefined): Told {
  return told`${text} is no unit that is known here.${meant(near)}`;
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
