// Faults put into a spec, one at a time: an action or a whole step left out, done twice, done after the next one. Nothing is judged here.
import { ACTIONS } from '../../grammar/vocabulary.ts';

export type Change = 'left out' | 'done twice' | 'done after the next';

/** Lines of a text: from the first to the one behind the last. */
export interface Lines {
  readonly from: number;
  readonly to: number;
}

/** One faulty copy, and where the fault was put, in lines of the text as it was. */
export interface Mutation {
  readonly of: 'action' | 'step';
  readonly change: Change;
  readonly at: Lines;
  /** The one that it changed places with. */
  readonly next: Lines | undefined;
  readonly text: string;
}

/** What is said in a step and is no work. */
const NO_WORK: readonly string[] = ['trial', 'tool', 'caution', 'hold-point'];
const WORK = new RegExp(
  `^ {4}(?:${ACTIONS.flatMap(({ word }) => (NO_WORK.includes(word) ? [] : [word])).join('|')})(?![\\w-])`,
);

/** The lines of each action of a sequence; an action may run over lines. */
function actionsIn(text: string): readonly Lines[] {
  return stretches(text, WORK, (line) => /^ {6}/.test(line));
}

/** The lines of each step. */
function stepsIn(text: string): readonly Lines[] {
  return stretches(text, /^ {2}step /, (line) => !/^ {2}\S/.test(line) || /^ {2}}/.test(line));
}

function stretches(text: string, begins: RegExp, goesOn: (line: string) => boolean): readonly Lines[] {
  const lines = text.split('\n');
  const found: Lines[] = [];
  let inSequence = false;
  for (const [from, line] of lines.entries()) {
    if (/^sequence /.test(line)) inSequence = true;
    else if (/^}/.test(line)) inSequence = false;
    if (!inSequence || !begins.test(line)) continue;
    let to = from + 1;
    while (to < lines.length && goesOn(lines[to] ?? '') && !/^}/.test(lines[to] ?? '')) {
      to += 1;
      if (/^ {2}}/.test(lines[to - 1] ?? '')) break;
    }
    found.push({ from, to });
  }
  return found;
}

function changed(text: string, { from, to }: Lines, next: Lines | undefined, change: Change): string | undefined {
  const lines = text.split('\n');
  const own = lines.slice(from, to);
  if (change === 'left out') lines.splice(from, own.length);
  // A step that is done again has a name of its own: that two have one name is another fault.
  else if (change === 'done twice')
    lines.splice(to, 0, ...own.map((line) => line.replace(/^( {2}step \S+)/, '$1-again')));
  else {
    if (next === undefined || next.from !== to) return undefined;
    lines.splice(next.to, 0, ...own);
    lines.splice(from, own.length);
  }
  return lines.join('\n');
}

/** Work other than fitting and removing may be done twice without harm. */
const TWICE = /^ *(fit|remove) /;

/** Every faulty copy of a text with one kind of change, in the order of the text. */
export function mutations(text: string, of: Mutation['of'], change: Change): readonly Mutation[] {
  const list = of === 'action' ? actionsIn(text) : stepsIn(text);
  const lines = text.split('\n');
  return list.flatMap((at, i) => {
    if (change === 'done twice' && !lines.slice(at.from, at.to).some((line) => TWICE.test(line))) return [];
    const next = change === 'done after the next' ? list[i + 1] : undefined;
    const faulty = changed(text, at, next, change);
    return faulty === undefined ? [] : [{ of, change, at, next, text: faulty }];
  });
}
