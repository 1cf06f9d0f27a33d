// At which step of a job a clearance that follows from sizes is written down: where the last of its parts goes on.
import type { Expression } from '../../grammar/tree.ts';
import type { Limit, Sequence, Step, View } from '../model/view.ts';

/** The parts that an expression takes sizes of. */
function partsIn(expression: Expression, view: View): readonly string[] {
  switch (expression.kind) {
    case 'quantity':
      return [];
    case 'negated':
      return partsIn(expression.operand, view);
    case 'binary':
      return [...partsIn(expression.left, view), ...partsIn(expression.right, view)];
    case 'call':
      return expression.operands.flatMap((each) => partsIn(each, view));
    case 'reference': {
      const name = expression.reference.owner.text;
      return view.things.get(name)?.kind === 'part' ? [name] : [];
    }
  }
}

/** What a job works on by name, and the steps in which parts go on, in order. */
function workedOn(steps: readonly Step[]): {
  readonly names: ReadonlySet<string>;
  readonly joins: readonly { readonly step: Step; readonly targets: readonly string[]; readonly mate: string }[];
} {
  const names = new Set<string>();
  const joins: { step: Step; targets: readonly string[]; mate: string }[] = [];
  for (const step of steps)
    for (const each of step.statements) {
      if (each.kind === 'confirm') names.add(each.target.owner.text);
      if (each.kind !== 'action') continue;
      const targets = each.targets.map(({ owner }) => owner.text);
      const mate = each.mate?.reference.owner.text ?? '';
      for (const name of [...targets, mate]) names.add(name);
      if (each.word === 'fit') joins.push({ step, targets, mate });
    }
  return { names, joins };
}

/** The last step that puts one of the parts to another; else the one by which all of them have been in hand. */
function stepOf(parts: readonly string[], joins: ReturnType<typeof workedOn>['joins']): Step | undefined {
  const direct = joins.filter(
    (each) => parts.includes(each.mate) && each.targets.some((name) => name !== each.mate && parts.includes(name)),
  );
  const last = direct.at(-1);
  if (last !== undefined) return last.step;
  const firsts = parts.map((name) => joins.findIndex((each) => each.mate === name || each.targets.includes(name)));
  if (firsts.some((at) => at < 0) || !joins.some((each) => each.targets.some((name) => parts.includes(name))))
    return undefined;
  return joins[Math.max(...firsts)]?.step;
}

/** What of a spec belongs to a job: the limits that are written at its steps, and the names that it works on. */
export interface JobScope {
  readonly names: ReadonlySet<string>;
  /** Limits that nobody is told to measure, at the step where their last part goes on. */
  readonly clearances: ReadonlyMap<Step, readonly Limit[]>;
  /** All limits that belong to the job. */
  readonly limits: readonly Limit[];
}

/** Looks through the sequences of a job. `isWhole`: it builds the engine from bare, so that what rests on the engine alone belongs to it. */
export function jobScope(sequences: readonly Sequence[], view: View, isWhole: boolean): JobScope {
  const steps = sequences.flatMap((sequence) => sequence.steps);
  const { names, joins } = workedOn(steps);
  const elsewhere = workedOn(view.sequences.flatMap((sequence) => sequence.steps)).names;
  const clearances = new Map<Step, Limit[]>();
  const limits = view.limits.filter((limit) => {
    if (names.has(limit.name)) return true;
    const parts = limit.expression === undefined ? [] : [...new Set(partsIn(limit.expression, view))];
    if (parts.length === 0) return isWhole && !elsewhere.has(limit.name);
    if (!parts.every((name) => names.has(name))) return false;
    const last = stepOf(parts, joins);
    if (last === undefined) return isWhole;
    clearances.set(last, [...(clearances.get(last) ?? []), limit]);
    return true;
  });
  return { names, clearances, limits };
}
