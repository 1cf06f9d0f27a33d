// A review ready to be shown: changes with lines and columns in place of offsets, in pairs of files. How each form looks is in the
// files beside this one.
import type { FilePlace } from '../model/finding.ts';
import type { Change } from './change.ts';

export interface Position {
  readonly line: number;
  readonly column: number;
}

/** Lines and columns count from 1, columns in UTF-16 units. */
export interface LinePlace {
  readonly file: string;
  readonly start: Position;
  readonly end: Position;
}

export interface PlacedChange extends Omit<Change, 'oldPlace' | 'newPlace'> {
  readonly oldPlace?: LinePlace;
  readonly newPlace?: LinePlace;
}

/** Two files that were compared, by the names that they are shown under; one of them is absent where the other has no match. */
export interface ReviewedFiles {
  readonly old: string | undefined;
  readonly new: string | undefined;
  readonly changes: readonly PlacedChange[];
}

/** A change with its places turned to lines. */
export function placedChange(
  change: Change,
  toLines: (place: FilePlace, side: 'old' | 'new') => LinePlace,
): PlacedChange {
  const { oldPlace, newPlace, ...rest } = change;
  return {
    ...rest,
    ...(oldPlace === undefined ? {} : { oldPlace: toLines(oldPlace, 'old') }),
    ...(newPlace === undefined ? {} : { newPlace: toLines(newPlace, 'new') }),
  };
}

/** What the weights are called in a heading. */
export const HEADINGS = {
  critical: 'Critical: an engine or a hand can be lost by it',
  matters: 'Matters: the work is otherwise',
  wording: 'Wording: nothing is done otherwise',
} as const;

/** Above a review. */
export const TITLE = 'What changed for the bench';

/** What became of the thing, in one word. */
export const KINDS = { changed: 'Changed', added: 'New', removed: 'Gone', moved: 'Moved' } as const;

/** Said once in every form. */
export const CAUTION =
  "The maker's manual, local rules and licensed practice come first. A figure that was worked out here is a check, not an instruction.";

/** `2 critical, 1 that matters, 3 of wording`; or that nothing changed. */
export function countsText(changes: readonly { readonly weight: Change['weight'] }[]): string {
  const many = (weight: Change['weight']): number => changes.filter((each) => each.weight === weight).length;
  if (changes.length === 0) return 'Nothing changed in meaning.';
  const [critical, matters, wording] = [many('critical'), many('matters'), many('wording')];
  const said = [
    critical === 0 ? undefined : `${critical} critical`,
    matters === 0 ? undefined : `${matters} that ${matters === 1 ? 'matters' : 'matter'}`,
    wording === 0 ? undefined : `${wording} of wording`,
  ].filter((each) => each !== undefined);
  return `${changes.length} ${changes.length === 1 ? 'change' : 'changes'}: ${said.join(', ')}.`;
}

/** `old.fettle, now new.fettle`, or which of them has no match. */
export function filesText({ old, new: now }: ReviewedFiles): string {
  if (old === undefined) return `${now ?? ''} (a new file)`;
  if (now === undefined) return `${old} (the file is gone)`;
  return old === now ? old : `${old}, now ${now}`;
}

/** `line 41`, of the new file where it still stands there, else of the old one. */
export function placeText(change: PlacedChange, files: ReviewedFiles): string {
  const { oldPlace, newPlace } = change;
  const at = (place: LinePlace | undefined, file: string | undefined): string | undefined =>
    place === undefined ? undefined : `${place.file === file ? '' : `${place.file} `}line ${place.start.line}`;
  const [before, after] = [at(oldPlace, files.old), at(newPlace, files.new)];
  if (before !== undefined && after !== undefined) return before === after ? after : `${before}, now ${after}`;
  return after ?? (before === undefined ? '' : `${before} of the old`);
}

/** The old and the new text of a change; what its sentence quotes whole is not said twice. */
export function sidesText(change: PlacedChange): readonly { readonly label: 'Old' | 'New'; readonly text: string }[] {
  return (
    [
      ['Old', change.old],
      ['New', change.new],
    ] as const
  ).flatMap(([label, text]) => (text === undefined || change.message.includes(text) ? [] : [{ label, text }]));
}
