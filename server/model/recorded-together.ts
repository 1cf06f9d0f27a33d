// What the views of all variants of a spec have in common, over all edits. A declaration that says the same for every variant stands in
// all of them as one; who looks a name up, goes through a list or asks for a flag is tracked for all of them, and notes that it differs where it
// does. So what hangs on nothing that differs is worked out once (view-questions.ts).
import { isSeen, type Placed } from './placed.ts';
import { type Cell, invalidate, isTracking, newCell, noteDiffering, track } from './questions.ts';
import type { Among, Standing } from './recorded.ts';
import { LIST_OF, type Thing } from './view.ts';

export type ThingList = (typeof LIST_OF)[Thing['kind']];
export type ListName = ThingList | 'specs' | 'engines';
export type Flag = 'draft' | 'incomplete' | 'perhaps' | 'engine' | 'duplicates';

export const THING_LISTS: readonly ThingList[] = Object.values(LIST_OF);

interface NameCell extends Cell {
  readonly of: string;
}

/** What is to stand for a declaration that all see, in an edit that is planned for one view after the other. */
export type Planned = Map<Placed, Standing>;

/** The view of one variant, as the others see it. */
export interface Member {
  readonly names: () => ReadonlyMap<string, Standing>;
  readonly list: (list: ListName) => readonly Standing[];
  /** What a flag says, told so that what is the same is the same object or value. */
  readonly flag: (flag: Flag) => unknown;
}

export function sameItems(some: readonly unknown[], others: readonly unknown[]): boolean {
  return some.length === others.length && some.every((each, i) => each === others[i]);
}

/** Whether two hold the same names in the same order, for the same. */
export function sameNames(some: ReadonlyMap<string, Standing>, others: ReadonlyMap<string, Standing>): boolean {
  if (some.size !== others.size) return false;
  const names = others.keys();
  for (const [name, standing] of some) if (names.next().value !== name || others.get(name) !== standing) return false;
  return true;
}

export class Together {
  readonly variants: readonly (string | undefined)[];
  /** In the order of the variants. */
  readonly members: Member[] = [];
  /** Of the edit in hand: what was read anew, and whether it says something else. */
  readonly reconciled = new Map<Standing, boolean>();
  /** Where those stand that all see alike. */
  readonly among: Among;
  /** Those, by where they stand. */
  private readonly standings = new Map<Placed, Standing>();
  private readonly nameCells = new Map<string, NameCell>();
  private readonly cells = new Map<ListName | Flag | 'all', Cell>();
  /** Whether lists, and all names, are the same for all variants; looked up when it is asked for. */
  private readonly areSame = new Map<ListName | Flag | 'all', boolean>();
  private readonly knownAlike = new WeakMap<Placed, boolean>();

  constructor(variants: readonly (string | undefined)[]) {
    this.variants = variants;
    this.among = { seenOf: (placed) => this.standings.get(placed), isOfSome: false, at: 0 };
  }

  /** Looks at one of the variants: what things say meanwhile is what they say for it. */
  lookAt<result>(variant: number, look: () => result): result {
    const before = this.among.at;
    this.among.at = variant;
    try {
      return look();
    } finally {
      this.among.at = before;
    }
  }

  /** Somebody looks at one of the variants from here on, and is no question, which would look at its own. */
  looksAt(variant: number): void {
    if (!isTracking(undefined)) this.among.at = variant;
  }

  /** Whether there is no other variant to differ from. */
  get isOne(): boolean {
    return this.variants.length < 2;
  }

  /** Whether a declaration is seen by every variant, so that it stands in the views of all as one. */
  isAlike(placed: Placed): boolean {
    if (this.isOne) return false;
    let isAlike = this.knownAlike.get(placed);
    if (isAlike === undefined) {
      const { word, body } = placed.declaration;
      isAlike =
        this.variants.every((variant) => isSeen(placed, variant)) &&
        // What it takes from another may be declared by variant.
        !(word === 'fastener' && body?.statements.some((each) => 'word' in each && each.word === 'like') === true) &&
        placed.steps.every((step) => step === undefined || this.isAlike(step));
      this.knownAlike.set(placed, isAlike);
    }
    return isAlike;
  }

  /** A declaration that all see alike has come to stand, or stands elsewhere. */
  stands(standing: Standing, was: Placed | undefined): void {
    if (was !== undefined && this.standings.get(was) === standing) this.standings.delete(was);
    if (this.isAlike(standing.placed)) this.standings.set(standing.placed, standing);
  }

  goes(standing: Standing): void {
    if (this.standings.get(standing.placed) === standing) this.standings.delete(standing.placed);
  }

  noteName(name: string): void {
    let cell = this.nameCells.get(name);
    if (cell === undefined) {
      cell = newCell(({ of }) => this.nameCells.delete(of as string), name) as NameCell;
      this.nameCells.set(name, cell);
    }
    track(cell);
    if (!this.areAlike((member) => member.names().get(name))) noteDiffering();
  }

  /** Whether all variants say the same object or value. */
  private areAlike(said: (member: Member) => unknown): boolean {
    const { members } = this;
    if (members.length < 2) return true;
    const ofFirst = said(members[0] as Member);
    for (let i = 1; i < members.length; i += 1) if (said(members[i] as Member) !== ofFirst) return false;
    return true;
  }

  /** A name leads to something else for a variant. */
  tellName(name: string): void {
    const cell = this.nameCells.get(name);
    if (cell !== undefined) invalidate(cell);
  }

  /** The names that somebody looked up. */
  namesLookedUp(): readonly string[] {
    return [...this.nameCells.keys()];
  }

  private note(key: ListName | Flag | 'all'): void {
    let cell = this.cells.get(key);
    if (cell === undefined) {
      cell = newCell();
      this.cells.set(key, cell);
    }
    track(cell);
  }

  noteAll(): void {
    this.note('all');
    this.noteIfNot('all', () => {
      const [first, ...others] = this.members.map((each) => each.names());
      return first === undefined || others.every((other) => sameNames(first, other));
    });
  }

  noteList(list: ListName): void {
    this.note(list);
    this.noteIfNot(list, () => {
      const [first, ...others] = this.members.map((each) => each.list(list));
      return first === undefined || others.every((other) => sameItems(first, other));
    });
  }

  private noteIfNot(key: ListName | 'all', isSame: () => boolean): void {
    if (this.isOne) return;
    let same = this.areSame.get(key);
    if (same === undefined) {
      same = isSame();
      this.areSame.set(key, same);
    }
    if (!same) noteDiffering();
  }

  noteFlag(flag: Flag): void {
    this.note(flag);
    if (!this.areAlike((member) => member.flag(flag))) noteDiffering();
  }

  tell(key: ListName | Flag | 'all'): void {
    this.areSame.delete(key);
    const cell = this.cells.get(key);
    if (cell !== undefined) invalidate(cell);
  }
}
