// What each piece of the work looked at and how that stood before it, so that after an edit only those pieces are carried out again
// whose outcome can be another. Nothing of engines is known here.

/** How what a cell holds is copied, put back and compared. */
export interface Kind<thing, image> {
  copy(thing: thing): image;
  put(thing: thing, image: image): void;
  isLike(thing: thing, image: image): boolean;
}

/** Something that the work looks at. Who reads or changes its content tells the journal before (`touch`, `scan`). */
export interface Cell<thing = unknown, image = unknown> {
  readonly thing: thing;
  /** Undefined for what stays the same all through the work, and may be another after an edit. */
  readonly kind: Kind<thing, image> | undefined;
  /** What it is one of that may be gone through as a whole: a bit of its own for each such list, or 0. */
  readonly group: number;
  /** The piece that looked at it last. */
  stamp: number;
  /** How it stood when it was last looked at, as long as it still stands so. */
  image: image | undefined;
  /** The pieces that look at it, in order, and how it stood before each. */
  readonly at: number[];
  readonly before: image[];
}

/** A piece of the work: what it looked at when it was last carried out. */
export interface Piece {
  touched: readonly Cell[];
  /** The lists that it went through as a whole. */
  scanned: number;
}

export interface Journal {
  /** The piece in hand; 0 where nothing is noted. */
  stamp: number;
  touched: Cell[];
  scanned: number;
  /** While pieces are carried out again: brings what is looked at to how it stood then. */
  replay: { readonly load: (cell: Cell) => void; readonly visit: (cell: Cell) => void } | undefined;
}

export function newJournal(): Journal {
  return { stamp: 0, touched: [], scanned: 0, replay: undefined };
}

export function newCell<thing, image>(
  thing: thing,
  kind: Kind<thing, image> | undefined,
  group = 0,
): Cell<thing, image> {
  return { thing, kind, group, stamp: 0, image: undefined, at: [], before: [] };
}

/** What follows is told to no piece but the next. */
function begin(journal: Journal): void {
  journal.stamp += 1;
  journal.touched = [];
  journal.scanned = 0;
}

/** To be told before a cell is read or changed. */
export function touch(journal: Journal, cell: Cell): void {
  if (cell.stamp === journal.stamp) return;
  cell.stamp = journal.stamp;
  journal.touched.push(cell);
  if (cell.kind === undefined) return;
  if (journal.replay !== undefined) journal.replay.load(cell);
  else cell.image ??= cell.kind.copy(cell.thing);
}

/** To be told before all cells of a list are read. What is changed of them is touched besides. */
export function scan(journal: Journal, group: number, cells: () => Iterable<Cell>): void {
  journal.scanned |= group;
  if (journal.replay === undefined) return;
  for (const cell of cells()) if (cell.stamp !== journal.stamp) journal.replay.visit(cell);
}

/** Carries all pieces out, in order. `watch` is called after each: tests look there whether all that changed was touched. */
export function carryOutAll<piece extends Piece>(
  journal: Journal,
  pieces: readonly piece[],
  carryOut: (piece: piece) => void,
  watch?: () => void,
): void {
  for (const [i, piece] of pieces.entries()) {
    begin(journal);
    carryOut(piece);
    piece.touched = journal.touched;
    piece.scanned = journal.scanned;
    for (const cell of journal.touched) {
      cell.at.push(i);
      if (cell.kind === undefined) continue;
      cell.before.push(cell.image);
      if (!cell.kind.isLike(cell.thing, cell.image)) cell.image = undefined;
    }
    watch?.();
  }
  // What is looked at from here on is no part of the work.
  begin(journal);
}

/** The place in `at` of the first piece from this one on. */
function firstFrom({ at }: Cell, piece: number): number {
  let low = 0;
  let high = at.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((at[middle] ?? 0) < piece) low = middle + 1;
    else high = middle;
  }
  return low;
}

function leaves(cell: Cell, piece: number): void {
  const place = firstFrom(cell, piece);
  if (cell.at[place] !== piece) return;
  cell.at.splice(place, 1);
  if (cell.kind !== undefined) cell.before.splice(place, 1);
}

function enters(cell: Cell, piece: number, before: unknown): void {
  const place = firstFrom(cell, piece);
  const isThere = cell.at[place] === piece;
  if (!isThere) cell.at.splice(place, 0, piece);
  if (cell.kind !== undefined) cell.before.splice(place, isThere ? 1 : 0, before);
}

/**
 * Carries some pieces out again, and those after them that looked at what stands otherwise now. `changed` are cells without a kind
 * that are not what they were.
 *
 * All cells stand as at the end of the work, before and after. In between, those that stand otherwise than they did at this moment of
 * the work before are `other`; any cell that is not is brought to how it stood then when it is looked at, and put back after.
 */
export function carryOutAgain<piece extends Piece>(
  journal: Journal,
  pieces: readonly piece[],
  first: ReadonlySet<number>,
  changed: readonly Cell[],
  carryOut: (piece: piece) => void,
): void {
  const due = new Uint8Array(pieces.length);
  const other = new Set<Cell>();
  /** How a cell stood at the end of the work before. */
  const ends = new Map<Cell, unknown>();
  let before = new Map<Cell, unknown>();
  let visited: Cell[] = [];
  let now = 0;

  const stood = (cell: Cell, piece: number): unknown => {
    const place = firstFrom(cell, piece);
    return place < cell.at.length ? cell.before[place] : ends.get(cell);
  };
  const keepEnd = (cell: Cell): void => {
    if (!ends.has(cell)) ends.set(cell, cell.kind?.copy(cell.thing));
  };
  const bringBack = (cell: Cell): unknown => {
    keepEnd(cell);
    const image = stood(cell, now);
    cell.kind?.put(cell.thing, image);
    return image;
  };
  const putOff = (cell: Cell): void => {
    other.delete(cell);
    cell.kind?.put(cell.thing, ends.get(cell));
  };
  const isScanned = (piece: Piece): boolean =>
    piece.scanned !== 0 && [...other].some((cell) => (cell.group & piece.scanned) !== 0);
  const standsOtherwise = (cell: Cell): void => {
    if (!other.has(cell) && cell.group !== 0)
      for (let i = now + 1; i < pieces.length; i += 1) if (((pieces[i]?.scanned ?? 0) & cell.group) !== 0) due[i] = 1;
    other.add(cell);
    for (let place = firstFrom(cell, now + 1); place < cell.at.length; place += 1) due[cell.at[place] ?? 0] = 1;
  };
  const again = (piece: piece): void => {
    const old = piece.touched;
    before = new Map();
    visited = [];
    begin(journal);
    carryOut(piece);
    piece.touched = journal.touched;
    piece.scanned = journal.scanned;
    for (const cell of visited) if (cell.stamp !== journal.stamp && !other.has(cell)) putOff(cell);
    for (const cell of old) {
      if (cell.stamp === journal.stamp) continue;
      // It is not looked at any more, so it stands after as before.
      if (cell.kind !== undefined) {
        if (!other.has(cell)) bringBack(cell);
        const isLike = cell.kind.isLike(cell.thing, stood(cell, now + 1));
        leaves(cell, now);
        if (isLike) putOff(cell);
        else standsOtherwise(cell);
      } else leaves(cell, now);
    }
    for (const cell of piece.touched) {
      if (cell.kind !== undefined) {
        const isLike = cell.kind.isLike(cell.thing, stood(cell, now + 1));
        enters(cell, now, before.get(cell));
        if (isLike) putOff(cell);
        else standsOtherwise(cell);
      } else enters(cell, now, undefined);
    }
  };

  journal.replay = {
    load(cell) {
      before.set(cell, other.has(cell) ? cell.kind?.copy(cell.thing) : bringBack(cell));
    },
    visit(cell) {
      if (other.has(cell) || firstFrom(cell, now) === cell.at.length) return;
      bringBack(cell);
      visited.push(cell);
    },
  };
  now = -1;
  for (const cell of changed) standsOtherwise(cell);
  for (const i of first) due[i] = 1;
  for (now = 0; now < pieces.length; now += 1) {
    const piece = pieces[now];
    if (due[now] === 0 || piece === undefined) continue;
    if (first.has(now) || piece.touched.some((cell) => other.has(cell)) || isScanned(piece)) again(piece);
  }
  journal.replay = undefined;
  begin(journal);
}
