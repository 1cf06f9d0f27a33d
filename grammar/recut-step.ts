// Cuts one step of a sequence again after an edit inside it, where that gives what a cut of the whole text would. Any other edit is
// for recut.ts.
import { type Changed, changedStretch, lastBefore } from './recut.ts';
import { cutSections, type Section } from './sections.ts';

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
export function cutStepAgain(sections: readonly Section[], before: string, text: string): StepCut | undefined {
  const { start, end, by }: Changed = changedStretch(before, text);
  const at = lastBefore(sections, start);
  const section = sections[at];
  if (section?.word !== 'sequence' || end >= section.end || !isShut(section)) return undefined;
  const child = lastBefore(section.children, start);
  const old = section.children[child];
  if (old?.word !== 'step' || old.children.length > 0 || start <= old.start || end >= old.end) return undefined;
  const written = text.slice(old.start, old.end + by);
  const cut = cutSections(`${ROUND}${written}}`);
  const step = cut[0]?.children[0];
  const isOne = cut.length === 1 && cut[0]?.children.length === 1 && step?.word === 'step' && isShut(cut[0]);
  if (!isOne || step.children.length > 0 || step.text !== written || !step.text.endsWith('}')) return undefined;
  return { section: at, child, step: { ...step, start: old.start, end: old.end + by }, by };
}
