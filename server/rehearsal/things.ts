// Parts, fasteners and drives by name, as a job finds them. How one stands is made when it is asked for, so that a job costs what it touches.
import { gradesOfKind, partsOfKind, SEAL_OF } from '../model/by-kind.ts';
import { type Order, orderBy } from '../model/standing-order.ts';
import type { TradeKind } from '../model/trade-names.ts';
import type { Thing, View } from '../model/view.ts';
import { question } from '../model/view-questions.ts';
import { gradesAlone } from './graded.ts';
import type { Kind, Ledger } from './ledger.ts';

export interface Things<thing> {
  readonly size: number;
  get(name: string): thing | undefined;
  /** All of them, in the order written. Whoever asks for all hangs on all of them: ask for those that are meant where that can be told. */
  values(): readonly thing[];
  /** The names of those that stand otherwise than as the job began. Nobody hangs on it: it is for who goes on with each by itself. */
  changed(): readonly string[];
  /** Those of some names, as far as they are there, in the order given. */
  among(names: Iterable<string>): readonly thing[];
  /** The same as they stand, to be looked at: nobody may change what is given. */
  seen(names: Iterable<string>): readonly thing[];
  /** The names of those that the step in hand asked for when the job was carried out, in the order written: no other is changed by it. */
  askedHere(): readonly string[];
}

export interface Parts<thing> extends Things<thing> {
  /** Those that the trade takes for one of these by name, in the order written. */
  ofKind(...kinds: readonly TradeKind[]): readonly thing[];
  /** Those, and what seals them. */
  ofKindOrSeals(...kinds: readonly TradeKind[]): readonly thing[];
}

/** Some of the things, found by what they have to do with something. */
export interface Linked<thing> {
  get(name: string): readonly thing[];
}

type List = 'parts' | 'fasteners' | 'drives';

/** The names in a list, in the order written; of two things with one name the first counts. Parts with the tables that go on as parts. */
export const namesIn = question((view, list: List): readonly string[] => {
  const things: readonly Thing[] = view[list];
  // Where no name is declared twice, none has to be looked up.
  const first = view.duplicates.length === 0 ? things : things.filter((each) => view.things.get(each.name) === each);
  const names = first.map(({ name }) => name);
  return list === 'parts' ? [...names, ...gradesAlone(view).map(({ name }) => name)] : names;
});

/** Some names of a list in the order written, each once. */
const ORDER: Readonly<Record<List, Order>> = {
  parts: orderBy((view) => namesIn(view, 'parts')),
  fasteners: orderBy((view) => namesIn(view, 'fasteners')),
  drives: orderBy((view) => namesIn(view, 'drives')),
};
export function inOrder(view: View, list: List, names: Iterable<string>): readonly string[] {
  return ORDER[list].sorted(view, names);
}

/** The names of parts that are of one of some kinds, in the order written; the kinds are one subject. */
const namesOfKinds = question((view, key: string): readonly string[] => {
  const kinds = key.split(',');
  const parts = kinds.map((kind) => partsOfKind(view, kind)).filter((names) => names.length > 0);
  const grades = kinds.flatMap((kind) => gradesOfKind(view, kind));
  const [first = []] = parts;
  return parts.length <= 1 && grades.length === 0 ? first : inOrder(view, 'parts', [...parts.flat(), ...grades]);
});

/** The things of a list. `begin` tells how one stands as the job begins; undefined where there is none of that name. */
export function newThings<thing extends object>(
  ledger: Ledger,
  view: View,
  list: List,
  begin: (view: View, name: string) => thing | undefined,
  kind: Kind,
): Things<thing> {
  const entries = ledger.entries((name) => () => begin(view, name), kind);
  const get = (name: string): thing | undefined => ledger.take(entries.of(name)) as thing | undefined;
  const among = (names: Iterable<string>): readonly thing[] => {
    const found: thing[] = [];
    for (const name of names) {
      const thing = get(name);
      if (thing !== undefined) found.push(thing);
    }
    return found;
  };
  return {
    get size() {
      return namesIn(view, list).length;
    },
    get,
    values: () => among(namesIn(view, list)),
    changed() {
      const changed: string[] = [];
      for (const entry of entries.all.values()) if (ledger.isChanged(entry)) changed.push(entry.name);
      return changed;
    },
    among,
    seen(names) {
      const found: thing[] = [];
      for (const name of names) {
        const thing = ledger.read(entries.of(name)) as thing | undefined;
        if (thing !== undefined) found.push(thing);
      }
      return found;
    },
    askedHere: () =>
      inOrder(
        view,
        list,
        ledger.askedHere(entries).map(({ name }) => name),
      ),
  };
}

/** The parts, and the tables that go on as parts. */
export function newParts<thing extends object>(
  ledger: Ledger,
  view: View,
  begin: (view: View, name: string) => thing | undefined,
  kind: Kind,
): Parts<thing> {
  const parts = newThings(ledger, view, 'parts', begin, kind);
  const ofKinds = (kinds: readonly string[]): readonly thing[] => parts.among(namesOfKinds(view, kinds.join(',')));
  return Object.assign(parts, {
    ofKind: (...kinds: readonly TradeKind[]) => ofKinds(kinds),
    ofKindOrSeals: (...kinds: readonly TradeKind[]) => ofKinds([...kinds, ...kinds.map((kind) => SEAL_OF + kind)]),
  });
}
