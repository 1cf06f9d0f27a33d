// What may be changed, dropped or inserted in a spec that is built on another.
import { HOLE } from '../../grammar/section.ts';
import type { Token } from '../../grammar/tokens.ts';
import { told } from '../../grammar/told.ts';
import { CHANGEABLE, CHANGES, DECLARATIONS, type NameKind, statementsOf } from '../../grammar/vocabulary.ts';
import type { Placed } from '../model/placed.ts';
import type { Cursor } from './cursor.ts';
import type { Completion } from './offered.ts';
import type { Names } from './offered-names.ts';
import { clausesOf } from './offered-words.ts';

/** Of a change that has no name yet and stands straight before the cursor, what kind of thing it changes: `part` of `drop part`. */
function unnamedChange(placed: Placed | undefined, tokens: readonly Token[]): string | undefined {
  const child = placed?.section.children[tokens.filter(({ image }) => image === HOLE).length - 1];
  const [word, kind = '', ...more] = child?.text.trim().split(/\s+/) ?? [];
  return (word === 'change' || word === 'drop') && CHANGEABLE.has(kind) && more.length === 0 ? kind : undefined;
}

/** What may be changed, dropped or inserted, and what of it is in the base. */
export function ofChange({ last, placed, block, tokens }: Cursor, names: Names): readonly Completion[] | undefined {
  const declaration = placed?.declaration;
  if (block === 'spec' && CHANGES.some((row) => row.word === last?.payload)) {
    const rows = DECLARATIONS.filter((row) => CHANGEABLE.has(row.word));
    const kinds = last?.payload === 'insert' ? rows.filter((row) => row.word === 'step') : rows;
    return kinds.map((row) => ({
      label: row.word,
      kind: 'word',
      detail: told`of the base`,
      help: told.term(row.help),
      rank: 0,
    }));
  }
  const kind = block === 'spec' && last?.image === HOLE ? unnamedChange(placed, tokens) : undefined;
  if (kind !== undefined) return kind === 'engine' ? [] : names.ofKinds([kind as NameKind]);
  if (declaration?.changed === undefined || last === undefined) return undefined;
  if (last.startOffset === declaration.changed.start && declaration.word !== 'insert')
    return names.ofKinds([declaration.changed.word as NameKind]);
  if (last.payload === 'drop' && declaration.word === 'change' && block !== undefined)
    return statementsOf(block).flatMap(({ word, help, inChange }) =>
      inChange === true || word === 'when'
        ? []
        : [{ label: word, kind: 'word', detail: told`statement`, help: told.term(help), rank: 0 }],
    );
  if (block !== undefined) return undefined;
  if (declaration.word === 'insert')
    return last.payload === 'after' || last.payload === 'before'
      ? names.ofKinds(['step'])
      : last.payload === 'each'
        ? names.ofKinds(['part'])
        : clausesOf(['after', 'before', 'each'], 0);
  return undefined;
}
