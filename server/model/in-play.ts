// What of a spec is in play: of files that only hold things for others to use (bolts, supplies), only what something outside them names. What
// is merely taken as a pattern (`like`) is not: the bolt that takes it is.
import type { Placed } from './placed.ts';
import { usesOf } from './references.ts';
import type { Thing, View } from './view.ts';

/** What a file of things for others to use may declare. */
const FOR_OTHERS: ReadonlySet<string> = new Set(['fastener', 'supply', 'grades']);

/** Tells of each thing of a view whether it is in play; `home` is the file that is asked about, of which all is. */
export function inPlay(view: View, home: string): (thing: Pick<Thing, 'name' | 'placed'>) => boolean {
  const engines = new Set<string>([home, ...(view.engine === undefined ? [] : [view.engine.placed.file])]);
  for (const thing of view.things.values()) if (!FOR_OTHERS.has(thing.kind)) engines.add(thing.placed.file);
  const named = new Set<string>();
  const note = (placed: Placed): void => {
    if (!engines.has(placed.file)) return;
    for (const use of usesOf(placed).uses) if (use.word !== 'like') named.add(use.name.text);
  };
  for (const thing of view.things.values()) note(thing.placed);
  return (thing) => engines.has(thing.placed.file) || named.has(thing.name);
}
