// Which of the parts that may stand at a place are most likely meant there: a chain behind `chain`, wheels behind `over`.
import { isA } from '../model/trade-names.ts';
import type { Thing } from '../model/view.ts';
import type { Cursor } from './cursor.ts';

type Apt = (thing: Thing) => boolean;

/** A part of which a statement with a word is made. */
function says(word: string): Apt {
  return (thing) => thing.kind === 'part' && thing.statements.some((each) => each.word === word);
}

const [hasTeeth, isShaft, isHeldBack]: readonly Apt[] = [
  says('teeth'),
  (thing) => isA(thing, 'crankshaft', 'camshaft'),
  says('held-back'),
];

/** By the word of the statement, or of the declaration, and the clause that stands last behind it. */
const APT: ReadonlyMap<string, Apt | undefined> = new Map([
  ['chain', says('links')],
  ['chain over', hasTeeth],
  ['belt over', hasTeeth],
  ['mesh', hasTeeth],
  ['mesh with', hasTeeth],
  ['centre-distance', hasTeeth],
  ['centre-distance to', hasTeeth],
  ['ratio', isShaft],
  ['ratio to', isShaft],
  ['set', isShaft],
  ['rotate', isShaft],
  ['tensioner', isHeldBack],
  ['hold-back', isHeldBack],
  ['release', isHeldBack],
  ['valve-timing on', (thing) => isA(thing, 'camshaft')],
]);

/** Whether a thing is what is most likely meant at the cursor; undefined where all are alike. */
export function aptAt({ statement, placed, last }: Cursor): Apt | undefined {
  if (statement === undefined) return APT.get(`${placed?.declaration.word} ${last?.payload}`);
  const clause = statement.behind.findLast(({ payload }) => ['over', 'with', 'to', 'on'].includes(payload));
  return APT.get([statement.row.word, ...(clause === undefined ? [] : [clause.payload])].join(' '));
}
