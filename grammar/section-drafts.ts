// The sections of a text while it is cut: which of them is at hand, which braces are open, and what begins or ends with a word or a brace.
import { apart } from './characters.ts';
import type { InPieces } from './give-way.ts';
import { HOLE, type Section } from './section.ts';
import { CHANGE_WORDS } from './vocabulary.ts';

interface Draft {
  readonly word: string | undefined;
  readonly start: number;
  end: number;
  readonly parent: Draft | undefined;
  readonly children: Draft[];
  readonly braces: number[];
  runsOver: boolean;
}

interface Brace {
  readonly owner: Draft;
  readonly when: boolean;
  readonly at: number;
}

export interface Drafting {
  readonly text: string;
  /** What holds all. */
  readonly root: Draft;
  /** What stands before the first declaration. */
  readonly preamble: Draft;
  preambleHasText: boolean;
  current: Draft;
  /** The braces that are open. */
  readonly stack: Brace[];
  /** A `when` inside a declaration has begun, and its brace has not. */
  pendingWhen: boolean;
}

const newDraft = (text: string, word: string | undefined, start: number, parent: Draft | undefined): Draft => ({
  word,
  start,
  end: text.length,
  parent,
  children: [],
  braces: [],
  runsOver: false,
});

export function drafting(text: string): Drafting {
  const root = newDraft(text, undefined, 0, undefined);
  const preamble = newDraft(text, undefined, 0, root);
  return { text, root, preamble, preambleHasText: false, current: preamble, stack: [], pendingWhen: false };
}

const isOuterWhen = (brace: Brace | undefined): boolean =>
  brace !== undefined && brace.owner.word === 'when' && !brace.when;

/** Whether no declaration is open but `when`, which holds others. */
export const isOutside = ({ stack }: Drafting): boolean => stack.every(isOuterWhen);

/** What is no blank and no comment belongs to a section. */
export function noteText(on: Drafting): void {
  if (on.current === on.preamble) on.preambleHasText = true;
}

function endUpTo({ current }: Drafting, parent: Draft, end: number): void {
  for (let draft: Draft | undefined = current; draft !== undefined && draft !== parent; draft = draft.parent)
    draft.end = end;
}

/** Nothing closes the braces but so many of those that are open. */
function leaveOpen(on: Drafting, keep: number): void {
  for (const brace of on.stack.splice(keep)) brace.owner.braces.push(brace.at);
}

function beginIn(on: Drafting, parent: Draft, word: string, start: number): void {
  endUpTo(on, parent, start);
  on.current = newDraft(on.text, word, start, parent);
  parent.children.push(on.current);
  on.pendingWhen = false;
}

/** A declaration begins. A step begins in its sequence, anything else in a `when` or by itself. */
export function begin(on: Drafting, word: string, start: number): void {
  const { stack } = on;
  let keep = 0;
  while (isOuterWhen(stack[keep])) keep += 1;
  if (word === 'step') {
    const sequence = stack.findIndex((brace) => brace.owner.word === 'sequence' && !brace.when);
    if (sequence >= 0) {
      keep = sequence + 1;
      while (stack[keep]?.when === true) keep += 1;
    }
  }
  leaveOpen(on, keep);
  beginIn(on, on.stack[keep - 1]?.owner ?? on.root, word, start);
}

/** The spec at hand, where its braces are not there. */
function specAtHand({ current }: Drafting): Draft | undefined {
  const at = CHANGE_WORDS.has(current.word ?? '') ? current.parent : current;
  return at?.word === 'spec' ? at : undefined;
}

/** How many braces stay open where a change begins: those of its spec, and a `when` in it. Undefined outside a spec. */
export function bracesOfSpec(on: Drafting): number | undefined {
  const { stack } = on;
  const spec = stack.findIndex((brace) => brace.owner.word === 'spec' && !brace.when);
  if (spec < 0) return specAtHand(on) !== undefined && isOutside(on) ? stack.length : undefined;
  let keep = spec + 1;
  while (stack[keep]?.owner === stack[spec]?.owner) keep += 1;
  return keep;
}

/** A change begins in its spec, of which so many braces stay open. */
export function beginChange(on: Drafting, word: string, start: number, keep: number): void {
  leaveOpen(on, keep);
  const top = on.stack[keep - 1]?.owner;
  const parent = top === undefined || top.word === 'when' ? (specAtHand(on) ?? on.current) : top;
  beginIn(on, parent, word, start);
}

/** A change without braces ends where a `when` of its spec begins. */
export function endChange(on: Drafting, end: number): void {
  const { current, stack } = on;
  const { parent } = current;
  const isBare = CHANGE_WORDS.has(current.word ?? '') && !stack.some((brace) => brace.owner === current);
  if (!isBare || parent === undefined) return;
  current.end = end;
  on.current = parent;
}

export function openBrace(on: Drafting, at: number): void {
  on.stack.push({ owner: on.current, when: on.pendingWhen, at });
}

export function closeBrace(on: Drafting, at: number): void {
  const top = on.stack.pop();
  if (top === undefined) return;
  if (top.owner !== on.current) {
    endUpTo(on, top.owner, at);
    on.current = top.owner;
  }
  const { current, root } = on;
  const outer = current.parent;
  if (outer === undefined || outer === root || on.stack.some((brace) => brace.owner === current)) return;
  // What follows the braces of a step, of a change, or of a declaration inside a `when`, belongs to what is round it.
  current.end = at + 1;
  on.current = outer;
}

/** The sections when all is cut. `unclosed` are the quotes whose text is not closed. */
export function* finished(on: Drafting, unclosed: ReadonlySet<number>): InPieces<readonly Section[]> {
  leaveOpen(on, 0);
  const { text, root, preamble, preambleHasText } = on;
  const rising = [...unclosed].sort((a, b) => a - b);
  const sections: Section[] = [];
  for (const draft of preambleHasText ? [preamble, ...root.children] : root.children) {
    sections.push(yield* finishing(text, draft, rising));
    yield;
  }
  return sections;
}

/** How many of rising offsets are below one. */
function countBelow(rising: readonly number[], offset: number): number {
  let low = 0;
  let high = rising.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((rising[middle] ?? 0) < offset) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** The section of a draft, and those in it. `unclosed` are the quotes of the whole text whose text is not closed, in order. */
function* finishing(text: string, draft: Draft, unclosed: readonly number[]): InPieces<Section> {
  const children: Section[] = [];
  for (const child of draft.children) {
    children.push(yield* finishing(text, child, unclosed));
    yield;
  }
  const holes: number[] = [];
  const own: string[] = [];
  /** Where each child ends, and by how much what is behind it stands nearer to the start in the own text. */
  const ends: number[] = [];
  const shifts: number[] = [];
  const unclosedHere: number[] = [];
  let shift = draft.start;
  let from = draft.start;
  const takeUpTo = (to: number): void => {
    own.push(text.slice(from, to));
    const first = countBelow(unclosed, from);
    for (let i = first; i < unclosed.length && (unclosed[i] ?? 0) < to; i += 1)
      unclosedHere.push((unclosed[i] ?? 0) - shift);
  };
  for (const child of children) {
    takeUpTo(child.start);
    holes.push(child.start - shift);
    own.push(HOLE);
    shift += child.end - child.start - 1;
    from = child.end;
    ends.push(child.end);
    shifts.push(shift);
  }
  takeUpTo(draft.end);
  const toOwn = (at: number): number => at - (shifts[countBelow(ends, at + 1) - 1] ?? draft.start);
  return {
    word: draft.word,
    start: draft.start,
    end: draft.end,
    text: apart(own.join('')),
    children,
    holes,
    unclosedBraces: draft.braces.map(toOwn),
    unclosedTexts: unclosedHere,
    runsOver: draft.runsOver,
  };
}
