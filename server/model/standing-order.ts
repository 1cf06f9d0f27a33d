// In what order names of a list are written. Who sorts by it hangs on that alone: a name that comes or goes among others leaves those as they
// stand to each other, so that nobody is asked again who does not look that name up.
import {
  ask,
  type Cell,
  changed,
  differsIn,
  newCell,
  newQuestion,
  noteDiffering,
  noteRead,
  type Question,
  unnoted,
} from './questions.ts';
import type { View } from './view.ts';
import { lookIn, type Standing, standingWith } from './view-questions.ts';

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

class StandingOrder implements Standing {
  places: Places = new Map();
  differs = false;
  /** Of the views of all variants, one. */
  readonly cell: Cell;
  private readonly names: Question<readonly string[]>;
  private taken: readonly string[] = [];
  private likeness: { own: readonly string[]; other: readonly string[]; isLike: boolean } | undefined;

  constructor(
    namesOf: () => readonly string[],
    fallsBehind: (standing: StandingOrder) => void,
    first: StandingOrder | undefined,
  ) {
    this.cell = first?.cell ?? newCell();
    this.names = newQuestion(namesOf, (before, now) => before === now, { due: () => fallsBehind(this) });
  }

  /** Whether the names of another variant are the same ones in the same order; looked up once for two lists. */
  isLike(other: StandingOrder): boolean {
    if (other === this) return true;
    const { likeness } = this;
    if (likeness?.own !== this.taken || likeness.other !== other.taken)
      this.likeness = { own: this.taken, other: other.taken, isLike: isSameList(this.taken, other.taken) };
    return this.likeness?.isLike === true;
  }

  bringUp(): void {
    let names: readonly string[] = [];
    this.differs = differsIn(() => {
      names = unnoted(() => ask(this.names)) ?? [];
    });
    if (names === this.taken) return;
    this.taken = names;
    if (!isSameOrder(this.places, names)) changed(this.cell);
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
  const standing = standingWith<StandingOrder>(
    (view, fallsBehind, first) => new StandingOrder(() => lookIn(view, () => namesOf(view)), fallsBehind, first),
  );
  /** What comes of the places of the names in a view, noted as read. */
  const inPlaces = (view: View, order: (places: Places) => readonly string[]): readonly string[] => {
    const of = standing(view);
    if (of === undefined) return order(placesAmong(namesOf(view)));
    const { own, all } = of;
    noteRead(own.cell);
    const inOrder = order(own.places);
    const isOther = (other: StandingOrder): boolean => !own.isLike(other) && !isSameList(order(other.places), inOrder);
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
