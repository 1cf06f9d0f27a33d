// One fault, one finding: what goes wrong in a job only because a sequence stands in the wrong place in it, or is in no job at all. The job is
// carried out once more as it would be without that fault, and what is not found then comes of it.
import { type Told, told } from '../../grammar/told.ts';
import type { Statement } from '../../grammar/tree.ts';
import type { Job, Sequence, View } from '../model/view.ts';
import { question } from '../model/view-questions.ts';
import { isAssembly, type Plan } from './plan.ts';
import type { RehearsalFinding } from './rehearsal-finding.ts';

/** A job as it would be without one of its faults. */
export interface Otherwise {
  /** What tells it from the others of its job: the sequence that is put in, and not its name, which another may have too. */
  readonly key: Sequence | 'order' | 'whole';
  readonly plan: Plan;
  /** What the first finding that comes of it says besides; undefined where the order alone is another, which is said by itself. */
  readonly because: ((message: Told) => Told) | undefined;
}

/** So many sequences that no job has are tried. Own choice, no source. */
const MOST_TRIED = 3;

function allows({ declaration }: Sequence, code: string): boolean {
  const statements: readonly Statement[] = declaration.body?.statements ?? [];
  return statements.some((each) => each.kind === 'allow' && each.code.text === code);
}

/** Whether an order that is not kept is one of whole sequences, and nothing says that it is meant so. */
function isOfSequences({ code, span }: RehearsalFinding, { sequences }: Plan): boolean {
  return (
    code === 'sequence/order' &&
    sequences.some((sequence) => sequence.after.some((name) => name === span) && !allows(sequence, 'sequence/order'))
  );
}

/** The sequences of a job in the order that their `after` asks for, else as they are. */
function inOrder(sequences: readonly Sequence[]): readonly Sequence[] {
  const left = [...sequences];
  const done: Sequence[] = [];
  while (left.length > 0) {
    const waits = (each: Sequence): boolean => each.after.some(({ text }) => left.some(({ name }) => name === text));
    const at = left.findIndex((each) => !waits(each));
    // Where they go in a circle no order is better.
    done.push(...left.splice(Math.max(0, at), 1));
  }
  return done;
}

/** The sequences of a file that none of its jobs has. */
const inNoJob = question((view, file: string): readonly Sequence[] => {
  const jobs = view.jobs.filter(({ placed }) => placed.file === file);
  if (jobs.length === 0) return [];
  const named = new Set(
    view.jobs.flatMap((job) => [
      ...job.sequences.map(({ text }) => text),
      ...(job.begins?.sequence === undefined ? [] : [job.begins.sequence]),
    ]),
  );
  return view.sequences.filter(({ name, placed, broken }) => placed.file === file && !broken && !named.has(name));
});

/** A job with a sequence in it that no job has, where it would stand by the order of the file. */
function withSequence(view: View, plan: Plan, sequence: Sequence): Plan {
  const all = view.sequences;
  const own = all.indexOf(sequence);
  const at = plan.sequences.findLastIndex((each) => all.indexOf(each) < own);
  const assembles = plan.assembles || isAssembly(sequence);
  return { ...plan, assembles, sequences: plan.sequences.toSpliced(at + 1, 0, sequence) };
}

/** How a job in which something goes wrong would be without its faults of order, or with what was left out of all jobs. */
export function otherwise(
  view: View,
  plan: Plan,
  of: Job | string,
  order: readonly RehearsalFinding[],
): readonly Otherwise[] {
  if (order.some((each) => isOfSequences(each, plan)))
    return [{ key: 'order', plan: { ...plan, sequences: inOrder(plan.sequences) }, because: undefined }];
  const [first] = plan.sequences;
  // A bare engine has nothing to take apart.
  if (typeof of !== 'string' && of.begins?.how === 'bare' && first?.phase === 'teardown')
    return [
      {
        key: 'whole',
        plan: { ...plan, begins: 'whole' },
        because: (message) =>
          told`${message} The job begins bare, and ${told.thing(first)} takes apart: see whether begins whole is meant.`,
      },
    ];
  if (typeof of === 'string') return [];
  return inNoJob(view, of.placed.file)
    .slice(0, MOST_TRIED)
    .map((sequence) => ({
      key: sequence,
      plan: withSequence(view, plan, sequence),
      because: (message) => told`${message} That is in ${told.thing(sequence)}, which no job has.`,
    }));
}

/** What is found in a job, without what is not found where it is carried out otherwise: of that the first is told, with what it comes of. */
export function withoutWhatFollows(
  found: readonly RehearsalFinding[],
  then: readonly RehearsalFinding[],
  because: Otherwise['because'],
): readonly RehearsalFinding[] {
  const keyOf = ({ code, span }: RehearsalFinding): string => `${code} ${span.start}`;
  const stays = new Set(then.map(keyOf));
  let first: RehearsalFinding | undefined;
  return found.flatMap((each) => {
    if (stays.has(keyOf(each)) && then.some((other) => other.placed === each.placed && keyOf(other) === keyOf(each)))
      return [each];
    if (because === undefined || first !== undefined) return [];
    first = each;
    return [{ ...each, message: because(each.message) }];
  });
}
