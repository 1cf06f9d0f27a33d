// What is known of an engine by name in the course of a job: drained places, pulled leads, what was said already. Each list is one
// cell of the journal.
import { type Act, sameAct } from './act.ts';
import { type Cell, type Journal, type Kind, newCell, touch } from './journal.ts';

/** Names, each with what is known of it. */
export interface Facts<value> {
  readonly size: number;
  has(name: string): boolean;
  get(name: string): value | undefined;
  set(name: string, value: value): void;
  delete(name: string): void;
  clear(): void;
  entries(): readonly (readonly [string, value])[];
}

/** Names alone. */
export interface Names {
  has(name: string): boolean;
  add(name: string): void;
  delete(name: string): void;
}

interface Held {
  names: Map<string, unknown>;
}

const NONE: ReadonlyMap<string, unknown> = new Map();

/** What was done with a name, where, and since when it is otherwise. */
export interface Adjusted {
  readonly by: Act;
  readonly changedBy: Act | undefined;
}

function sameFact(one: unknown, other: unknown): boolean {
  if (one === other) return true;
  if (typeof one !== 'object' || typeof other !== 'object' || one === null || other === null) return false;
  if ('changedBy' in one && 'changedBy' in other) {
    const [first, second] = [one as Adjusted, other as Adjusted];
    return sameAct(first.by, second.by) && sameAct(first.changedBy, second.changedBy);
  }
  return sameAct(one as Act, other as Act);
}

const KIND: Kind<Held, ReadonlyMap<string, unknown>> = {
  copy: ({ names }) => (names.size === 0 ? NONE : new Map(names)),
  put(held, image) {
    held.names = new Map(image);
  },
  isLike({ names }, image) {
    if (names.size !== image.size) return false;
    if (names.size === 0) return true;
    // The order counts: the first that was drained is the one that is told of.
    const others = [...image];
    let i = 0;
    for (const [name, value] of names) {
      const [otherName, other] = others[i] ?? [];
      if (name !== otherName || !sameFact(value, other)) return false;
      i += 1;
    }
    return true;
  },
};

function held(): { readonly cell: Cell<Held, ReadonlyMap<string, unknown>>; readonly thing: Held } {
  const thing: Held = { names: new Map() };
  return { thing, cell: newCell(thing, KIND) };
}

/** An empty list of names with what is known of them. */
export function newFacts<value extends Act | Adjusted>(journal: Journal): Facts<value> {
  const { thing, cell } = held();
  const names = (): Map<string, value> => {
    touch(journal, cell);
    return thing.names as Map<string, value>;
  };
  return {
    get size() {
      return names().size;
    },
    has: (name) => names().has(name),
    get: (name) => names().get(name),
    set(name, value) {
      names().set(name, value);
    },
    delete(name) {
      names().delete(name);
    },
    clear() {
      names().clear();
    },
    entries: () => [...names()],
  };
}

/** An empty list of names. */
export function newNames(journal: Journal): Names {
  const { thing, cell } = held();
  return {
    has(name) {
      touch(journal, cell);
      return thing.names.has(name);
    },
    add(name) {
      touch(journal, cell);
      thing.names.set(name, true);
    },
    delete(name) {
      touch(journal, cell);
      thing.names.delete(name);
    },
  };
}
