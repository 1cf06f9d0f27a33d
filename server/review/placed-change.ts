// A review ready to be shown: changes with lines and columns in place of offsets, in pairs of files. How each form looks is in the
// files beside this one.
import { type Told, told } from '../../grammar/told.ts';
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
  critical: told`Critical: an engine or a hand can be lost by it`,
  matters: told`Matters: the work is otherwise`,
  wording: told`Wording: nothing is done otherwise`,
} as const;

/** Above a review. */
export const TITLE = told`What changed for the bench`;

/** What became of the thing, in one word. */
export const KINDS = { changed: told`Changed`, added: told`New`, removed: told`Gone`, moved: told`Moved` } as const;

/** Said once in every form. */
export const CAUTION = told`The maker's manual, local rules and licensed practice come first. A figure that was worked out here is a check, not an instruction.`;

/** `2 critical, 1 that matters, 3 of wording`; or that nothing changed. */
export function countsText(changes: readonly { readonly weight: Change['weight'] }[]): Told {
  const many = (weight: Change['weight']): number => changes.filter((each) => each.weight === weight).length;
  if (changes.length === 0) return told`Nothing changed in meaning.`;
  const [critical, matters, wording] = [many('critical'), many('matters'), many('wording')];
  const said = [
    critical === 0 ? undefined : told`${critical} critical`,
    matters === 0 ? undefined : matters === 1 ? told`${matters} that matters` : told`${matters} that matter`,
    wording === 0 ? undefined : told`${wording} of wording`,
  ].filter((each) => each !== undefined);
  const list = told.row(said.flatMap((each, i) => (i === 0 ? [each] : [', ', each])));
  return changes.length === 1 ? told`${changes.length} change: ${list}.` : told`${changes.length} changes: ${list}.`;
}

/** `old.fettle, now new.fettle`, or which of them has no match. */
export function filesText({ old, new: now }: ReviewedFiles): Told {
  if (old === undefined) return told`${told.named(now ?? '')} (a new file)`;
  if (now === undefined) return told`${told.named(old)} (the file is gone)`;
  return old === now ? told`${told.named(old)}` : told`${told.named(old)}, now ${told.named(now)}`;
}

/** `line 41`, of the new file where it still stands there, else of the old one; undefined where it stands nowhere. */
export function placeText(change: PlacedChange, files: ReviewedFiles): Told | undefined {
  const { oldPlace, newPlace } = change;
  const at = (place: LinePlace | undefined, file: string | undefined): Told | undefined => {
    if (place === undefined) return undefined;
    const { line } = place.start;
    return place.file === file ? told`line ${line}` : told`${told.named(place.file)} line ${line}`;
  };
  const [before, after] = [at(oldPlace, files.old), at(newPlace, files.new)];
  if (before !== undefined && after !== undefined)
    return before.text === after.text ? after : told`${before}, now ${after}`;
  return after ?? (before === undefined ? undefined : told`${before} of the old`);
}

const OLD = told`Old`;
const NEW = told`New`;

/** The old and the new text of a change; what its sentence quotes whole is not said twice. */
export function sidesText(change: PlacedChange): readonly { readonly label: Told; readonly text: string }[] {
  return (
    [
      [OLD, change.old],
      [NEW, change.new],
    ] as const
  ).flatMap(([label, text]) => (text === undefined || change.message.includes(text) ? [] : [{ label, text }]));
}
