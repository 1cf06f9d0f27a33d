// The names of places (`upper` of a shell, `left` of a head) where they are declared and written, and the part whose places they are.
import type { Name } from '../../grammar/tree.ts';
import type { Analysis } from '../model/analysis.ts';
import type { Placed } from '../model/placed.ts';
import { usesOf } from '../model/references.ts';
import type { Part, Thing, View } from '../model/view.ts';

export interface PlaceName {
  readonly name: Name;
  /** What it is written behind, or the declaration that it stands in: a part, or what stands for the places of one. */
  readonly owner: string;
  readonly declares: boolean;
}

function isRecord(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null;
}

function isName(value: unknown): value is Name {
  return isRecord(value) && typeof value['text'] === 'string' && typeof value['start'] === 'number';
}

/** Every place that a declaration names, by walking its tree. */
export function placeNamesOf(placed: Placed): readonly PlaceName[] {
  const { declaration } = placed;
  const found: PlaceName[] = [];
  const visit = (node: unknown, owner: string): void => {
    if (Array.isArray(node)) {
      for (const each of node) visit(each, owner);
      return;
    }
    if (!isRecord(node)) return;
    const told = isName(node['owner']) ? node['owner'].text : owner;
    const limit = isRecord(node['limit']) && isName(node['limit']['owner']) ? node['limit']['owner'].text : told;
    for (const [key, value] of Object.entries(node)) {
      if (key === 'places' && Array.isArray(value))
        for (const place of value)
          if (isRecord(place) && isName(place['name']))
            found.push({ name: place['name'], owner: limit, declares: node['kind'] === 'places' });
      visit(value, limit);
    }
  };
  visit(declaration, declaration.name?.text ?? '');
  // `fit main-shell upper, lower`: the second stands where a thing may stand.
  for (const { name, follows } of usesOf(placed).uses)
    if (follows !== undefined) found.push({ name, owner: follows.text, declares: false });
  return found;
}

function hasPlace(thing: Thing | undefined, place: string): thing is Part {
  return thing?.kind === 'part' && thing.places.some((group) => group.name === place);
}

/** The names that may stand for the parts whose places a thing goes by, the nearest first. */
function standsFor(thing: Thing | undefined): readonly string[] {
  switch (thing?.kind) {
    case 'limit':
      return usesOf(thing.placed).uses.map((use) => use.name.text);
    case 'fastener':
      return [...thing.eachOf.map((each) => each.owner.text), ...thing.clamps.map((clamp) => clamp.part)];
    case 'grades':
      return thing.by === undefined ? [] : [thing.by.owner.text];
    default:
      return [];
  }
}

function homeIn(view: View, owner: string, place: string, depth: number): string | undefined {
  const thing = view.things.get(owner);
  if (hasPlace(thing, place)) return thing.name;
  if (depth === 0) return undefined;
  for (const name of standsFor(thing)) {
    const home = homeIn(view, name, place, depth - 1);
    if (home !== undefined) return home;
  }
  return undefined;
}

/** The part that has a place of that name, for what the place is written behind; undefined where none has. */
export function homeOfPlace(analysis: Analysis, owner: string, place: string): string | undefined {
  for (const view of analysis.views) {
    const home = homeIn(view, owner, place, 2);
    if (home !== undefined) return home;
  }
  return undefined;
}
