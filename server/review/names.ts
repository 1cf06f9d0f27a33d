// Which old name is which new one: of things, of features of a part, of sources. How they are found is in renames.ts.
import type { Name } from '../../grammar/tree.ts';
import type { Placed } from '../model/placed.ts';
import { usesOf } from '../model/references.ts';

export interface Renames {
  /** Old name to new name of a thing. */
  readonly things: Map<string, string>;
  /** `owner.feature` by the old names to the new name of the feature. */
  readonly features: Map<string, string>;
  readonly sources: Map<string, string>;
  /** Old and new names that have no other side yet: any of the one may be any of the other. */
  readonly loose: { readonly old: ReadonlySet<string>; readonly now: ReadonlySet<string> };
}

export function noRenames(): Renames {
  return { things: new Map(), features: new Map(), sources: new Map(), loose: { old: new Set(), now: new Set() } };
}

/** What a name in a declaration stands for; a name that stands for itself is not in it. */
type Stands = ReadonlyMap<
  Name,
  { readonly sort: 'thing' | 'source' } | { readonly sort: 'feature'; readonly owner: string }
>;

const cache = new WeakMap<Placed['parsed'], Stands>();

function standsIn(placed: Placed): Stands {
  const known = cache.get(placed.parsed);
  if (known !== undefined) return known;
  const stands = new Map<Name, { sort: 'thing' | 'source' } | { sort: 'feature'; owner: string }>();
  const { uses, sources } = usesOf(placed);
  for (const source of sources) stands.set(source, { sort: 'source' });
  for (const use of uses) {
    stands.set(use.name, { sort: 'thing' });
    if (use.feature !== undefined) stands.set(use.feature, { sort: 'feature', owner: use.name.text });
  }
  cache.set(placed.parsed, stands);
  return stands;
}

/** Whether a name in an old declaration and one in a new declaration mean the same. */
export function sameName(
  one: { readonly name: Name; readonly in: Placed | undefined },
  other: { readonly name: Name; readonly in: Placed | undefined },
  renames: Renames,
): boolean {
  const stands = one.in === undefined ? undefined : standsIn(one.in).get(one.name);
  const [old, now] = [one.name.text, other.name.text];
  switch (stands?.sort) {
    case 'thing':
      if (renames.loose.old.has(old) && renames.loose.now.has(now)) return true;
      return (renames.things.get(old) ?? old) === now;
    case 'source':
      return (renames.sources.get(old) ?? old) === now;
    case 'feature':
      return (renames.features.get(`${stands.owner}.${old}`) ?? old) === now;
    default:
      return old === now;
  }
}

/** A text that names things, with their new names in place of the old ones. */
export function renamedText(text: string, renames: Renames): string {
  let out = text;
  for (const [old, now] of renames.things)
    out = out.replaceAll(new RegExp(`(?<![\\p{L}\\p{N}_-])${escaped(old)}(?![\\p{L}\\p{N}_-])`, 'gu'), () => now);
  return out;
}

function escaped(text: string): string {
  return text.replace(/[.*+?^${}()|[\]\\]/g, '\\$&');
}
