// From the declaration of a part or a bolt to the work on it, and from a part to what covers it and what it covers.
import type { Analysis } from '../model/analysis.ts';
import type { FilePlace } from '../model/finding.ts';
import { placeOf } from '../model/placed.ts';
import type { Part, View } from '../model/view.ts';
import { nameAt } from './place-in-tree.ts';

/** The work that puts a thing where it belongs. */
const PUTS_ON = new Set(['fit', 'push-home', 'snug', 'tighten', 'secure']);
const FITS = new Set(['fit']);

/** The actions of steps that fit or tighten a part or a bolt, that tighten what holds the part, and that fit what covers it; each once. */
export function workOn(analysis: Analysis, offset: number): readonly FilePlace[] {
  const name = nameAt(analysis, offset);
  if (name === undefined || name.set !== 'thing') return [];
  const places = new Map<string, FilePlace>();
  for (const view of analysis.views) {
    const thing = view.things.get(name.thing);
    if (thing === undefined) continue;
    const bolts = view.fasteners.filter((each) => each.clamps.some((clamp) => clamp.part === thing.name));
    const covers = view.parts.filter((each) => each.covers.some((cover) => cover.part === thing.name));
    const own = new Set([thing.name, ...bolts.map((each) => each.name)]);
    const over = new Set(covers.map((each) => each.name));
    for (const step of view.steps)
      for (const statement of step.statements) {
        if (statement.kind !== 'action') continue;
        const isOwn = PUTS_ON.has(statement.word) && statement.targets.some((each) => own.has(each.owner.text));
        const isOver = FITS.has(statement.word) && statement.targets.some((each) => over.has(each.owner.text));
        if (!isOwn && !isOver) continue;
        const place = placeOf(step.placed, statement);
        places.set(`${place.file} ${place.start}`, place);
      }
  }
  return [...places.values()].sort((a, b) => (a.file < b.file ? -1 : a.file > b.file ? 1 : a.start - b.start));
}

/** A part as the hierarchy of covers shows it. */
export interface CoverItem {
  readonly name: string;
  readonly title: string;
  readonly whole: FilePlace;
  readonly nameAt: FilePlace;
}

function itemOf(part: Part): CoverItem {
  const { placed, declaration } = part;
  return {
    name: part.name,
    title: part.title ?? '',
    whole: placeOf(placed, declaration),
    nameAt: placeOf(placed, declaration.name ?? declaration.wordSpan),
  };
}

function parts(analysis: Analysis, which: (view: View) => readonly Part[]): readonly CoverItem[] {
  const found = new Map<string, CoverItem>();
  for (const view of analysis.views) for (const part of which(view)) found.set(part.name, itemOf(part));
  return [...found.values()];
}

/** The part whose name stands at an offset. */
export function partAt(analysis: Analysis, offset: number): CoverItem | undefined {
  const name = nameAt(analysis, offset);
  if (name === undefined || name.set !== 'thing') return undefined;
  return parts(analysis, (view) => view.parts.filter((each) => each.name === name.thing))[0];
}

/** What covers a part: it comes off first. */
export function coversOver(analysis: Analysis, name: string): readonly CoverItem[] {
  return parts(analysis, (view) => view.parts.filter((each) => each.covers.some((cover) => cover.part === name)));
}

/** What a part covers. */
export function coveredBy(analysis: Analysis, name: string): readonly CoverItem[] {
  return parts(analysis, (view) => {
    const part = view.parts.find((each) => each.name === name);
    return view.parts.filter((each) => part?.covers.some((cover) => cover.part === each.name) === true);
  });
}
