// What a job puts in, machines and measures, and which tables of grades and sizes it is asked for with that.
import { leavesOf } from '../../grammar/terms.ts';
import type { Grades, Limit, Step, View } from '../model/view.ts';

/** The tables that are among some names, themselves or by one of their rows. */
export function gradesIn(names: ReadonlySet<string>, view: View): readonly Grades[] {
  return view.grades.filter((table) => names.has(table.name) || table.rows.some((row) => names.has(row.name.text)));
}

/** Whether a table goes by something that is measured among some names, or that comes out of it. */
export function isChosenBy(table: Grades, names: ReadonlySet<string>, view: View): boolean {
  const by = table.by?.owner.text;
  const limit = view.limits.find((each) => each.name === by);
  return (
    (by !== undefined && names.has(by)) ||
    leavesOf(limit?.expression).some((leaf) => leaf.kind === 'reference' && names.has(leaf.reference.owner.text))
  );
}

/** What some steps put in or machine, what they measure, and the parts that it is measured at. */
export function workedOn(steps: readonly Step[], view: View): ReadonlySet<string> {
  const names = new Set<string>();
  const hasSizes = (name: string): boolean => {
    const thing = view.things.get(name);
    return thing?.kind === 'part' && thing.sizes.size > 0;
  };
  for (const each of steps.flatMap((step) => step.statements)) {
    if (each.kind !== 'action' || !['fit', 'machine', 'measure'].includes(each.word)) continue;
    const targets = each.targets.map((target) => target.owner.text);
    for (const name of targets) names.add(name);
    // The block goes with its pistons: it was bored for them.
    if (each.word === 'fit' && each.mate !== undefined && targets.some(hasSizes))
      names.add(each.mate.reference.owner.text);
    for (const limit of each.word === 'measure' ? targets.flatMap((name) => limitNamed(name, view)) : []) {
      for (const of of [limit.each, limit.of]) if (of !== undefined) names.add(of.owner.text);
      for (const leaf of leavesOf(limit.expression))
        if (leaf.kind === 'reference') names.add(leaf.reference.owner.text);
    }
  }
  return names;
}

export function limitNamed(name: string, view: View): readonly Limit[] {
  const thing = view.things.get(name);
  return thing?.kind === 'limit' ? [thing] : [];
}
