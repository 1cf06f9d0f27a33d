// The things of a list of which something holds. Who asks for them is asked again when one comes or goes of which it holds, and not when any other does.
import { type Entry, keyed } from './keyed.ts';
import type { View } from './view.ts';

const ALL = '';

/** Those of a list of which something holds, in the order of the list. `holds` may read and ask as a question does. */
export function thoseThat<item>(
  listOf: (view: View) => readonly item[],
  holds: (item: item, view: View) => boolean,
): (view: View) => readonly item[] {
  const those = keyed(listOf, (view, item): readonly Entry<item>[] => (holds(item, view) ? [[ALL, item]] : []));
  return (view) => those(view, ALL);
}
