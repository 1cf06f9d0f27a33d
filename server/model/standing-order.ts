// In what order names of a list are written. Who sorts by it hangs on that alone: a name that comes or goes among others leaves those as they
// stand to each other, so that nobody is asked again who does not look that name up.
import {
  ask,
  type Cell,
  differsIn,
  invalidate,
  newCell,
  newQuestion,
  noteDiffering,
  type Question,
  track,
  untracked,
} from './questions.ts';
import type { View } from './view.ts';
import { type Attached, attachedTo, lookIn } from './view-questions.ts';

type Places = ReadonlyMap<string, number>;

const placesAmong = (names: readonly string[]): Places => new Map(names.map((name, i) => [name, i]));

/** Whether names that stood in another list before stand in the same order in this one. */
function isSameOrder(before: Places, names: readonly string[]): boolean {
  let last = -1;
  for (const name of names) {
    const place = before.get(name);
    if (place === undefined) continue;
    if (place < last) return false;
    last = place;
  }
  return true;
}

class StandingOrder implements Attached {
  places: Places = new Map();
  differs = false;
  /** Of the views of all variants, one. */
  readonly cell: Cell;
  private readonly names: Question<readonly string[]>;
  private taken: readonly string[] = [];
  private comparison: { own: readonly string[]; other: readonly string[]; isEqual: boolean } | undefined;

  constructor(
    namesOf: () => readonly string[],
    onStale: (attached: StandingOrder) => void,
    first: StandingOrder | undefined,
  ) {
    this.cell = first?.cell ?? newCell();
    this.names = newQuestion(namesOf, (before, now) => before === now, { onStale: () => onStale(this) });
  }

  /** Whether the names of another variant are the same ones in the same order; looked up once for two lists. */
  isEqual(other: StandingOrder): boolean {
    if (other === this) return true;
    const { comparison } = this;
    if (comparison?.own !== this.taken || comparison.other !== other.taken)
      this.comparison = { own: this.taken, other: other.taken, isEqual: isSameList(this.taken, other.taken) };
    return this.comparison?.isEqual === true;
  }

  refresh(): void {
    let names: readonly string[] = [];
    this.differs = differsIn(() => {
      names = untracked(() => ask(this.names)) ?? [];
    });
    if (names === this.taken) return;
    this.taken = names;
    if (!isSameOrder(this.places, names)) invalidate(this.cell);
    this.places = placesAmong(names);
  }
}

/** Those of some names that stand in a list, each once, in its order. */
function sorted(places: Places, names: ReadonlySet<string>): readonly string[] {
  const there: string[] = [];
  let last = -1;
  let isInOrder = true;
  for (const name of names) {
    const place = places.get(name);
    if (place === undefined) continue;
    there.push(name);
    isInOrder &&= place > last;
    last = place;
  }
  const placeOf = (name: string): number => places.get(name) ?? 0;
  return isInOrder ? there : there.sort((one, other) => placeOf(one) - placeOf(other));
}

/** The order of a list. */
export interface Order {
  /** Some names in the order written, each once, without those that are not in the list. */
  sorted(view: View, names: Iterable<string>): readonly string[];
}

/**
 * The order of the names of a list. `namesOf` tells the list, each name once; a name that stands for a thing of the view is told by that.
 */
export function orderBy(namesOf: (view: View) => readonly string[]): Order {
  const attached = attachedTo<StandingOrder>(
    (view, onStale, first) => new StandingOrder(() => lookIn(view, () => namesOf(view)), onStale, first),
  );
  /** What comes of the places of the names in a view, tracked. */
  const inPlaces = (view: View, order: (places: Places) => readonly string[]): readonly string[] => {
    const of = attached(view);
    if (of === undefined) return order(placesAmong(namesOf(view)));
    const { own, all } = of;
    track(own.cell);
    const inOrder = order(own.places);
    const isOther = (other: StandingOrder): boolean => !own.isEqual(other) && !isSameList(order(other.places), inOrder);
    if (all.length < 2 ? own.differs : all.some(isOther)) noteDiffering();
    return inOrder;
  };
  return {
    sorted(view, names) {
      const there = new Set([...names].filter((name) => view.things.get(name) !== undefined));
      return inPlaces(view, (places) => sorted(places, there));
    },
  };
}

function isSameList(one: readonly string[], other: readonly string[]): boolean {
  return one.length === other.length && one.every((name, i) => name === other[i]);
}
