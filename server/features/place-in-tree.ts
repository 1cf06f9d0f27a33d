// Where a cursor stands: in which declaration, at which name, in which block. Plain offsets in the file.

import { type Section, toFile } from '../../grammar/sections.ts';
import type { Block } from '../../grammar/vocabulary.ts';
import type { Analysis } from '../model/analysis.ts';
import type { FilePlace } from '../model/finding.ts';
import { type Placed, placeOf } from '../model/placed.ts';
import { type Use, usesOf } from '../model/references.ts';
import type { Thing } from '../model/view.ts';

/** Every declaration of the file, steps after their sequence. */
export function everyPlaced(analysis: Analysis): readonly Placed[] {
  return analysis.file.declarations.flatMap((placed) => [placed, ...placed.steps.filter((step) => step !== undefined)]);
}

function holds(section: Section, offset: number): boolean {
  return offset >= section.start && offset <= section.end;
}

/** The innermost declaration round an offset. */
export function placedAt(analysis: Analysis, offset: number): Placed | undefined {
  let best: Placed | undefined;
  for (const placed of everyPlaced(analysis)) {
    if (!holds(placed.section, offset)) continue;
    if (best === undefined || placed.section.start >= best.section.start) best = placed;
  }
  return best;
}

/** A name in the file that is declared or used there. */
export interface NameAt {
  readonly text: string;
  readonly place: FilePlace;
  /** The thing that it names; a feature stands in `feature`. */
  readonly thing: string;
  readonly feature?: string;
  readonly declares: boolean;
  readonly use?: Use;
  readonly set: 'thing' | 'feature' | 'source' | 'variant';
}

/** Every name in one file, with what it names. */
export function namesIn(analysis: Analysis): readonly NameAt[] {
  return everyPlaced(analysis).flatMap(namesOfPlaced);
}

/** The names that one declaration declares and uses. */
export function namesOfPlaced(placed: Placed): readonly NameAt[] {
  const names: NameAt[] = [];
  const { declaration } = placed;
  const own = declaration.name;
  if (own !== undefined && declaration.word !== 'spec')
    names.push({ text: own.text, place: placeOf(placed, own), thing: own.text, declares: true, set: 'thing' });
  for (const use of usesOf(placed).uses) {
    if (use.kinds[0] === 'spec' || use.name.text === 'engine') continue;
    names.push({
      text: use.name.text,
      place: placeOf(placed, use.name),
      thing: use.name.text,
      declares: false,
      use,
      set: 'thing',
    });
    if (use.feature !== undefined)
      names.push({
        text: use.feature.text,
        place: placeOf(placed, use.feature),
        thing: use.name.text,
        feature: use.feature.text,
        declares: false,
        use,
        set: 'feature',
      });
  }
  for (const source of usesOf(placed).sources)
    names.push({
      text: source.text,
      place: placeOf(placed, source),
      thing: source.text,
      declares: false,
      set: 'source',
    });
  for (const { name } of usesOf(placed).variants)
    names.push({ text: name.text, place: placeOf(placed, name), thing: name.text, declares: false, set: 'variant' });
  for (const statement of declaration.body?.statements ?? []) {
    if (statement.kind === 'source')
      names.push({
        text: statement.name.text,
        place: placeOf(placed, statement.name),
        thing: statement.name.text,
        declares: true,
        set: 'source',
      });
    if (statement.kind === 'names' && statement.word === 'variants')
      for (const name of statement.names)
        names.push({ text: name.text, place: placeOf(placed, name), thing: name.text, declares: true, set: 'variant' });
    if (own === undefined) continue;
    if (statement.kind === 'names' && statement.word === 'feature')
      for (const name of statement.names)
        names.push({
          text: name.text,
          place: placeOf(placed, name),
          thing: own.text,
          feature: name.text,
          declares: true,
          set: 'feature',
        });
    if (
      statement.kind === 'dimension' ||
      statement.kind === 'figure' ||
      statement.kind === 'mark' ||
      statement.kind === 'size'
    )
      names.push({
        text: statement.name.text,
        place: placeOf(placed, statement.name),
        thing: own.text,
        feature: statement.name.text,
        declares: true,
        set: 'feature',
      });
  }
  return names;
}

/** The name at an offset. */
export function nameAt(analysis: Analysis, offset: number): NameAt | undefined {
  return namesIn(analysis).find((name) => name.place.start <= offset && offset <= name.place.end);
}

/** Whether two names mean the same. */
export function sameName(first: NameAt, second: NameAt): boolean {
  return first.set === second.set && first.thing === second.thing && first.feature === second.feature;
}

/** The thing of a name in the first view that has it. */
export function thingOf(analysis: Analysis, name: string): Thing | undefined {
  for (const view of analysis.views) {
    const thing = view.things.get(name);
    if (thing !== undefined) return thing;
  }
  return undefined;
}

/** The block whose statements may stand at an offset; undefined outside all braces. */
export function blockAt(analysis: Analysis, offset: number): Block | undefined {
  const placed = placedAt(analysis, offset);
  const body = placed?.declaration.body;
  if (placed === undefined || body === undefined) return undefined;
  const [start, end] = [toFile(placed.section, body.start), toFile(placed.section, body.end)];
  return offset > start && offset < end ? (placed.declaration.word as Block) : undefined;
}
