// How the statement under the cursor is written, with the piece that comes next.

import type { Token } from '../../grammar/tokens.ts';
import { type Told, told } from '../../grammar/told.ts';
import type { Analysis } from '../model/analysis.ts';
import { cursorAt } from './cursor.ts';
import { type Piece, piecesOf } from './forms.ts';

export interface Signature {
  readonly label: string;
  readonly help: Told;
  /** Where each piece stands in the label. */
  readonly pieces: readonly (readonly [number, number])[];
  readonly active: number;
}

/**
 * Where in the pieces the writing is: a word that begins a piece leads there; else a piece without such a word comes next. Undefined
 * where the last piece is written, so that nothing is left to show.
 */
function activeOf(pieces: readonly Piece[], behind: readonly Token[], typed: string): number | undefined {
  let active = 0;
  let filled = false;
  for (const [i, token] of behind.entries()) {
    const led = pieces.findIndex((piece, at) => at >= active && piece.leads.includes(token.payload));
    if (led >= 0) {
      active = led;
      filled = /^(?:together|left|right|clockwise|anticlockwise|inline|flat|vee|radial)$/.test(token.payload);
      continue;
    }
    const joins = ['Comma', 'Dot', 'Dots', 'Unit', 'Colon', 'Minus', 'PlusMinus', 'OClock'];
    const goesOn =
      joins.includes(token.tokenType.name) || joins.slice(0, 3).includes(behind[i - 1]?.tokenType.name ?? '');
    if (filled && !goesOn && pieces[active + 1]?.leads.length === 0) active += 1;
    filled = true;
  }
  const next = pieces[active + 1];
  const last = behind[behind.length - 1];
  if (!filled || last?.tokenType.name === 'Comma') return active;
  return next === undefined && typed === '' ? undefined : Math.min(active + 1, pieces.length - 1);
}

/** The form of the statement round an offset; undefined where it takes a single piece, or none stands there. */
export function signature(analysis: Analysis, offset: number): Signature | undefined {
  const cursor = cursorAt(analysis, offset);
  const { statement, block } = cursor;
  if (statement === undefined || block === undefined || cursor.inText) return undefined;
  const { row, behind } = statement;
  const pieces = piecesOf(row, block);
  if (pieces.length < 2) return undefined;
  const last = behind[behind.length - 1];
  // On a line of its own after a whole statement the next one begins.
  if (cursor.newLine && last?.tokenType.name !== 'Comma') return undefined;
  const active = activeOf(pieces, behind, cursor.typed);
  if (active === undefined) return undefined;
  let label = row.word;
  const places = pieces.map(({ text: piece }) => {
    label += ' ';
    const start = label.length;
    label += piece;
    return [start, label.length] as const;
  });
  return { label, help: told`${told.term(row.help)} As in: ${row.example}`, pieces: places, active };
}
