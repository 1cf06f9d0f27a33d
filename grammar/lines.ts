// Writes lines: indents them, and breaks a line that is too wide where it may be broken. Knows nothing of what words mean.

/** The widest line of the canonical layout, where it can be broken. */
export const WIDTH = 72;

/** How much further the rest of a broken line stands. */
const FURTHER = 2;

interface Piece {
  readonly text: string;
  readonly blankBefore: boolean;
  readonly mayBreak: boolean;
}

export interface LineWriter {
  /** Ends the line at hand and begins one with this indent. */
  begin(indent: number): void;
  /** Adds to the line at hand. */
  add(text: string, blankBefore: boolean, mayBreak: boolean): void;
  /** Ends the line at hand, and writes an empty one, unless one is there or nothing is. */
  emptyLine(): void;
  /** Ends the line at hand, and writes this one as it is. What comes next without a beginning stands further in. */
  whole(line: string): void;
  /** Ends the line at hand with a comment. What comes next without a beginning stands further in. */
  comment(text: string): void;
  /** The width of the line at hand, unbroken; nothing but its indent when it is empty. */
  width(): number;
  /** How far in the rest of a broken line stands. */
  further(): number;
  /** All lines, each with its line end; nothing for no lines. */
  text(): string;
}

const widthOf = (piece: Piece, isFirst: boolean): number => piece.text.length + (piece.blankBefore && !isFirst ? 1 : 0);

/** How many of the pieces from `from` go on one line: up to the last break within the width, or else the first beyond it. */
function piecesOfLine(pieces: readonly Piece[], from: number, indent: number): number {
  let width = indent;
  let lastBreak = -1;
  for (let at = from; at < pieces.length; at += 1) {
    const piece = pieces[at];
    if (piece === undefined) break;
    if (at > from && piece.mayBreak) {
      if (width > WIDTH) return (lastBreak > from ? lastBreak : at) - from;
      lastBreak = at;
    }
    width += widthOf(piece, at === from);
  }
  return (width > WIDTH && lastBreak > from ? lastBreak : pieces.length) - from;
}

/** A writer with no lines yet; `follows` says that what it writes comes after other lines. */
export function lineWriter(follows = false): LineWriter {
  const lines: string[] = [];
  let pieces: Piece[] = [];
  let base = 0;
  let indent = 0;

  const end = (): void => {
    let from = 0;
    while (from < pieces.length) {
      const stop = from + piecesOfLine(pieces, from, indent);
      let line = ' '.repeat(indent);
      for (let i = from; i < stop; i += 1) {
        const piece = pieces[i];
        if (piece !== undefined) line += piece.blankBefore && i > from ? ` ${piece.text}` : piece.text;
      }
      lines.push(line);
      from = stop;
      indent = base + FURTHER;
    }
    pieces = [];
  };

  return {
    begin(next) {
      end();
      base = next;
      indent = next;
    },
    add(text, blankBefore, mayBreak) {
      pieces.push({ text, blankBefore, mayBreak });
    },
    emptyLine() {
      end();
      if (lines.length === 0 ? follows : lines[lines.length - 1] !== '') lines.push('');
    },
    whole(line) {
      end();
      lines.push(line);
    },
    comment(text) {
      end();
      const last = lines.length - 1;
      if (last < 0 || lines[last] === '') lines.push(text);
      else lines[last] = `${lines[last]}  ${text}`;
    },
    width: () => pieces.reduce((sum, piece, i) => sum + widthOf(piece, i === 0), indent),
    further: () => base + FURTHER,
    text() {
      end();
      while (lines[lines.length - 1] === '') lines.pop();
      return lines.map((line) => `${line}\n`).join('');
    },
  };
}
