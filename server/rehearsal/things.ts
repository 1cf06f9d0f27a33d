// Parts, fasteners and drives by name, as a job finds them. How one stands is made when it is asked for, so that a job costs what it touches.
import { isA, isOrSeals, type TradeKind } from '../model/trade-names.ts';
import type { View } from '../model/view.ts';
import { question } from '../model/view-questions.ts';
import { gradesAlone } from './graded.ts';
import type { Ledger } from './ledger.ts';

export interface Things<thing> {
  readonly size: number;
  get(name: string): thing | undefined;
  /** All of them, in the order written. Whoever asks for all hangs on all of them: ask for those that are meant where that can be told. */
  values(): readonly thing[];
  /** The names of those that stand otherwise than as the job began. Nobody hangs on it: it is for who goes on with each by itself. */
  changed(): readonly string[];
  /** Those that the trade takes for one of these by name, in the order written. */
  ofKind(...kinds: readonly TradeKind[]): readonly thing[];
  /** Those, and what seals them. */
  ofKindOrSeals(...kinds: readonly TradeKind[]): readonly thing[];
  /** Those of some names, as far as they are there, in the order given. */
  among(names: Iterable<string>): readonly thing[];
}

/** Some of the things, found by what they have to do with something. */
export interface Linked<thing> {
  get(name: string): readonly thing[];
}

type List = 'parts' | 'fasteners' | 'drives';

/** The names in a list, in the order written; of two things with one name the first counts. Parts with the tables that go on as parts. */
export const namesIn = question((view, list: List): readonly string[] => [
  ...(view[list] as readonly { readonly name: string }[]).flatMap((thing) =>
    view.things.get(thing.name) === thing ? [thing.name] : [],
  ),
  ...(list === 'parts' ? gradesAlone(view).map(({ name }) => name) : []),
]);

/** Some names of a list in the order written; the list and the names are one subject, each on a line. */
export const inOrder = question((view, key: string): readonly string[] => {
  const [list = '', ...names] = key.split('\n');
  const wanted = new Set(names);
  return namesIn(view, list as List).filter((name) => wanted.has(name));
});

/** The names in a list that pass a test; the list and the kinds are one subject. */
const namesBy = (
  test: (name: string, ...kinds: readonly TradeKind[]) => boolean,
): ((view: View, key: string) => readonly string[]) =>
  question((view, key: string) => {
    const [list = '', ...kinds] = key.split(' ');
    return namesIn(view, list as List).filter((name) => test(name, ...(kinds as TradeKind[])));
  });
const namesOfKind = namesBy(isA);
const namesOfKindOrSeals = namesBy(isOrSeals);

/** The things of a list. `begin` tells how one stands as the job begins; undefined where there is none of that name. */
export function newThings<thing>(
  ledger: Ledger,
  view: View,
  list: List,
  begin: (view: View, name: string) => thing | undefined,
): Things<thing> {
  const entries = new Map<string, ReturnType<Ledger['entry']>>();
  const get = (name: string): thing | undefined => {
    let entry = entries.get(name);
    if (entry === undefined) {
      entry = ledger.entry(() => begin(view, name), true);
      entries.set(name, entry);
    }
    return ledger.take(entry) as thing | undefined;
  };
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
    changed: () => [...entries].flatMap(([name, entry]) => (ledger.isChanged(entry) ? [name] : [])),
    ofKind: (...kinds) => among(namesOfKind(view, `${list} ${kinds.join(' ')}`)),
    ofKindOrSeals: (...kinds) => among(namesOfKindOrSeals(view, `${list} ${kinds.join(' ')}`)),
    among,
  };
}
