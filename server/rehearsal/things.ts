// Parts, fasteners and drives by name, as a job finds them. Whoever looks one up tells the journal by that.
import { type Cell, type Journal, type Kind, newCell, type Piece, scan, touch } from './journal.ts';

export interface Things<thing> {
  readonly size: number;
  /** To look at it or to change it. */
  get(name: string): thing | undefined;
  /** All of them, to look at. What is then changed is told first, by `toChange`. */
  values(): readonly thing[];
  toChange(name: string): void;
  /** Which pieces of the work looked at it, or at all of its kind, when they were last carried out. */
  lookedAtBy(name: string, pieces: readonly Piece[]): readonly number[];
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

/** An empty list of things. Without a `group` there are few of them: who goes through all has looked at each. */
export function newThings<thing, image>(journal: Journal, kind: Kind<thing, image>, group = 0): Entered<thing> {
  const cells = new Map<string, Cell<thing, image>>();
  const all: thing[] = [];
  return {
    enter(name, thing) {
      cells.set(name, newCell(thing, kind, group));
      all.push(thing);
    },
    things: {
      get size() {
        return all.length;
      },
      get(name) {
        const cell = cells.get(name);
        if (cell === undefined) return undefined;
        touch(journal, cell);
        return cell.thing;
      },
      values() {
        if (group === 0) for (const cell of cells.values()) touch(journal, cell);
        else scan(journal, group, () => cells.values());
        return all;
      },
      toChange(name) {
        const cell = cells.get(name);
        if (cell !== undefined) touch(journal, cell);
      },
      lookedAtBy(name, pieces) {
        const scanning = pieces.flatMap(({ scanned }, at) => ((scanned & group) === 0 ? [] : [at]));
        return [...(cells.get(name)?.at ?? []), ...scanning];
      },
    },
    link() {
      const lists = new Map<string, { readonly cells: Cell<thing, image>[]; readonly things: thing[] }>();
      return {
        linked: {
          get(name) {
            const list = lists.get(name);
            if (list === undefined) return NONE;
            for (const cell of list.cells) touch(journal, cell);
            return list.things;
          },
        },
        enter(to, name) {
          const cell = cells.get(name);
          if (cell === undefined) return;
          const list = lists.get(to);
          if (list === undefined) lists.set(to, { cells: [cell], things: [cell.thing] });
          else {
            list.cells.push(cell);
            list.things.push(cell.thing);
          }
        },
      };
    },
  };
}
