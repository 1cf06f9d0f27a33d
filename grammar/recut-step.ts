// Cuts one step of a sequence again after an edit inside it, where that gives what a cut of the whole text would. Any other edit is
// for recut.ts.
import { type CutText, lastBefore, sectionAt } from './recut.ts';
import type { Section } from './section.ts';
import { cutSections } from './sections.ts';
import { type Changed, stretchOf, type Written } from './written.ts';

export interface StepCut {
  /** The number of the sequence's section, and of the step in it. */
  readonly section: number;
  readonly child: number;
  /** The step as it is cut now, in file offsets. */
  readonly step: Section;
  /** How much further on stands what comes after it. */
  readonly by: number;
}

/** A sequence round a step, as short as it can be. */
const ROUND = 'sequence s {';

function isShut(section: Section): boolean {
  return section.unclosedBraces.length === 0 && section.unclosedTexts.length === 0 && section.children.every(isShut);
}

/**
 * The step that an edit lies in, cut alone. Undefined where the edit reaches out of one step, or changes where the step ends. A step
 * that closes its own braces and texts, before the edit and after it, can't change how what is round it is cut.
 */
export function cutStepAgain(cut: CutText, text: Written, { start, end, by }: Changed): StepCut | undefined {
  const at = lastBefore(cut, start);
  const section = cut.section(at);
  if (section?.word !== 'sequence' || end >= section.end || !isShut(section)) return undefined;
  const { children } = section;
  const child = lastBefore({ count: children.length, section: (number) => children[number] }, start);
  const old = children[child];
  if (old?.word !== 'step' || old.children.length > 0 || start <= old.start || end >= old.end) return undefined;
  const written = stretchOf(text, old.start, old.end + by);
  const [round, ...more] = cutSections(`${ROUND}${written}}`);
  const step = round?.children[0];
  const isOne = more.length === 0 && round?.children.length === 1 && step?.word === 'step' && isShut(round);
  if (!isOne || step.children.length > 0 || step.text !== written || !step.text.endsWith('}')) return undefined;
  return { section: at, child, step: sectionAt(step, old.start, old.end + by), by };
}
