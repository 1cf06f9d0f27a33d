// Parts, fasteners and drives by name, as a job finds them.

export interface Things<thing> {
  readonly size: number;
  get(name: string): thing | undefined;
  /** All of them, in the order written. */
  values(): readonly thing[];
}

/** Some of the things, found by what they have to do with something. */
export interface Linked<thing> {
  get(name: string): readonly thing[];
}

export interface Entered<thing> {
  readonly things: Things<thing>;
  readonly enter: (name: string, thing: thing) => void;
  readonly link: () => { readonly linked: Linked<thing>; readonly enter: (to: string, name: string) => void };
}

const NONE: readonly never[] = [];

/** An empty list of things. */
export function newThings<thing>(): Entered<thing> {
  const byName = new Map<string, thing>();
  const all: thing[] = [];
  return {
    enter(name, thing) {
      byName.set(name, thing);
      all.push(thing);
    },
    things: {
      get size() {
        return all.length;
      },
      get: (name) => byName.get(name),
      values: () => all,
    },
    link() {
      const lists = new Map<string, thing[]>();
      return {
        linked: { get: (name) => lists.get(name) ?? NONE },
        enter(to, name) {
          const thing = byName.get(name);
          if (thing === undefined) return;
          const list = lists.get(to);
          if (list === undefined) lists.set(to, [thing]);
          else list.push(thing);
        },
      };
    },
  };
}
