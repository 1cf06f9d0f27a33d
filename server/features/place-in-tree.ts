// Where a cursor stands: in which declaration, at which name, in which block. Plain offsets in the file.

import type { Section } from '../../grammar/section.ts';
import type { Statement } from '../../grammar/tree.ts';
import type { Block } from '../../grammar/vocabulary.ts';
import type { Analysis } from '../model/analysis.ts';
import type { FilePlace } from '../model/finding.ts';
import { type Placed, placeOf, type ReadFile } from '../model/placed.ts';
import { usesOf } from '../model/references.ts';
import { blockOf } from '../model/statements.ts';
import type { Use } from '../model/uses.ts';
import type { Thing } from '../model/view.ts';
import { homeOfPlace, placeNamesOf } from './place-names.ts';

/** Every declaration of a file, steps after their sequence, and each `when` round some. */
export function everyPlacedIn({ sections }: ReadFile): readonly Placed[] {
  return sections.flatMap((section) => [...section.every, ...section.whens]);
}

/** Those of the file that is looked at. */
export function everyPlaced(analysis: Analysis): readonly Placed[] {
  return everyPlacedIn(analysis.file);
}

/** The declarations of the section round an offset, or of the two that meet there. */
export function placedNear(analysis: Analysis, offset: number): readonly Placed[] {
  const { sections } = analysis.file;
  let low = 0;
  let high = sections.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((sections[middle]?.section.end ?? 0) < offset) low = middle + 1;
    else high = middle;
  }
  const near: Placed[] = [];
  for (let i = low; i < sections.length && (sections[i]?.section.start ?? 0) <= offset; i += 1)
    near.push(...(sections[i]?.every ?? []), ...(sections[i]?.whens ?? []));
  return near;
}

/** Whether some of a declaration may stand between two offsets: one of a sequence with many steps need not be gone through. */
export function liesIn({ section, origin }: Placed, start: number, end: number): boolean {
  return origin !== undefined || (section.start <= end && start <= section.end);
}

/** The innermost declaration round an offset; of two that meet there the later one. A `when` counts only outside all others. */
export function placedAt(analysis: Analysis, offset: number): Placed | undefined {
  let best: Placed | undefined;
  for (const placed of placedNear(analysis, offset)) {
    const { section } = placed;
    if (offset < section.start || offset > section.end) continue;
    if (best === undefined || section.start >= best.section.start) best = placed;
  }
  return best;
}

/** The offset in a section's own text of an offset in the file; one inside a child is that of its hole. */
export function toOwn(section: Section, offset: number): number {
  let shift = section.start;
  for (const child of section.children) {
    if (offset >= child.end) shift += child.end - child.start - 1;
    else if (offset > child.start) return child.start - shift;
  }
  return offset - shift;
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
  readonly set: 'thing' | 'feature' | 'place' | 'source' | 'variant' | 'spec' | 'record';
}

/** Statements that name a feature of their part. */
const FEATURE_WORDS = new Set(['dimension', 'figure', 'mark', 'size', 'feature', 'orient']);

/** Those of a body, and those in a `when` and in a repair size. */
function everyStatement(statements: readonly Statement[]): readonly Statement[] {
  return statements.flatMap((each) =>
    (each.kind === 'when' || each.kind === 'size') && each.body !== undefined
      ? [each, ...everyStatement(each.body.statements)]
      : [each],
  );
}

/** The features that a statement declares; a rule of `orient` names them. */
function featuresDeclared(statement: Statement): readonly string[] {
  switch (statement.kind) {
    case 'dimension':
    case 'figure':
    case 'mark':
    case 'size':
      return [statement.name.text];
    case 'names':
      return statement.word === 'feature' ? statement.names.map((name) => name.text) : [];
    default:
      return [];
  }
}

/** The names that one declaration declares and uses. */
export function namesOfPlaced(placed: Placed): readonly NameAt[] {
  const names: NameAt[] = [];
  const { declaration } = placed;
  const own = declaration.name;
  if (own !== undefined && !['change', 'drop'].includes(declaration.word))
    names.push({
      text: own.text,
      place: placeOf(placed, own),
      thing: own.text,
      declares: true,
      set: declaration.word === 'spec' ? 'spec' : declaration.word === 'record' ? 'record' : 'thing',
    });
  for (const name of declaration.variants ?? [])
    names.push({ text: name.text, place: placeOf(placed, name), thing: name.text, declares: false, set: 'variant' });
  for (const use of usesOf(placed).uses) {
    if (use.name.text === 'engine') continue;
    if (use.kinds[0] === 'spec') {
      const { name } = use;
      names.push({
        text: name.text,
        place: placeOf(placed, name),
        thing: name.text,
        declares: false,
        use,
        set: 'spec',
      });
      continue;
    }
    if (use.ownFeature !== true)
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
  const statements = declaration.body === undefined ? [] : everyStatement(declaration.body.statements);
  const declared = new Set(statements.flatMap(featuresDeclared));
  for (const statement of statements) {
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
    if (statement.kind === 'drop' && statement.name !== undefined && FEATURE_WORDS.has(statement.what.word))
      names.push({
        text: statement.name.text,
        place: placeOf(placed, statement.name),
        thing: own.text,
        feature: statement.name.text,
        declares: false,
        set: 'feature',
      });
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
    if (statement.kind === 'orient') {
      for (const { feature } of statement.rules) {
        names.push({
          text: feature.text,
          place: placeOf(placed, feature),
          thing: own.text,
          feature: feature.text,
          declares: !declared.has(feature.text),
          set: 'feature',
        });
      }
    }
  }
  for (const { name, owner, declares } of placeNamesOf(placed))
    names.push({
      text: name.text,
      place: placeOf(placed, name),
      thing: owner,
      feature: name.text,
      declares,
      set: 'place',
    });
  return names;
}

/** The name of a place with the part that it is a place of; undefined where no part has it. Other names as they are. */
export function withHome(analysis: Analysis, name: NameAt): NameAt | undefined {
  if (name.set !== 'place') return name;
  const home = homeOfPlace(analysis, name.thing, name.text);
  return home === undefined ? undefined : { ...name, thing: home };
}

/** The name at an offset. A word in a list of parts that no part is called may be a place of the one before it. */
export function nameAt(analysis: Analysis, offset: number): NameAt | undefined {
  const found = placedNear(analysis, offset)
    .filter((placed) => liesIn(placed, offset, offset))
    .flatMap(namesOfPlaced)
    .filter((name) => name.place.start <= offset && offset <= name.place.end);
  const first = found.find((each) => each.set !== 'place');
  const isThere =
    first !== undefined && (first.use?.follows === undefined || thingOf(analysis, first.thing) !== undefined);
  if (isThere) return first;
  const place = found.find((each) => each.set === 'place');
  return (place === undefined ? undefined : withHome(analysis, place)) ?? first ?? place;
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

/** The block whose statements may stand at an offset, that of a repair size too; undefined outside all braces. */
export function blockAt(analysis: Analysis, offset: number): Block | undefined {
  const placed = placedAt(analysis, offset);
  const body = placed?.declaration.body;
  if (placed === undefined || body === undefined || placed.declaration.word === 'when') return undefined;
  const own = toOwn(placed.section, offset);
  const isOpen = placed.section.unclosedBraces.length > 0;
  if (own <= body.start || (own >= body.end && !isOpen)) return undefined;
  const size = body.statements.find(
    (each) => each.kind === 'size' && each.body !== undefined && own > each.body.start && own < each.body.end,
  );
  return size === undefined ? blockOf(placed.declaration) : 'size';
}

/** The statement that an offset of a declaration's own text is in or stands behind, those inside `when` and sizes too. */
export function statementBefore(statements: readonly Statement[], own: number): Statement | undefined {
  let last: Statement | undefined;
  for (const each of statements) {
    if (each.wordSpan.end > own) break;
    last = each;
  }
  const body = last?.kind === 'when' || last?.kind === 'size' ? last.body : undefined;
  if (body === undefined || own <= body.start || own >= body.end) return last;
  return statementBefore(body.statements, own);
}
