// Whether the job still rehearses after something moved: each move is put back in turn, and what the rehearsal then no longer finds
// comes from it. Nothing of the specs themselves is changed.
import { told } from '../../grammar/told.ts';
import type { Statement } from '../../grammar/tree.ts';
import type { BuiltView } from '../model/build-view.ts';
import type { Sequence, Step, Thing, View } from '../model/view.ts';
import type { RehearsalFinding } from '../rehearsal/rehearsal-finding.ts';
import { rehearse } from '../rehearsal/rehearse.ts';
import { type Change, sayingToo } from './change.ts';
import type { Fact } from './facts.ts';
import type { Item } from './items.ts';
import type { Move } from './moves.ts';
import { type Renames, renamedText } from './names.ts';

/** What the moves of a spec are judged by. */
export interface Bench {
  readonly old: BuiltView;
  readonly now: BuiltView;
  readonly oldFile: string;
  readonly file: string;
  readonly renames: Renames;
  /** Which old step, and which old statement, is which new one. */
  readonly stepNow: ReadonlyMap<string, string>;
  readonly factNow: ReadonlyMap<Fact, Fact>;
  readonly oldItems: readonly Item[];
}

const keyOf = (finding: RehearsalFinding): string => `${finding.code} ${finding.message}`;

/** More moves than this are not put back one by one. */
const MOST = 50;

/** A view with other sequences. */
function withSequences(view: BuiltView, change: (sequence: Sequence) => Sequence): View {
  const sequences = view.sequences.map(change);
  const things = new Map<string, Thing>(view.things);
  for (const sequence of sequences)
    if (things.get(sequence.name)?.kind === 'sequence') things.set(sequence.name, sequence);
  return { ...view, sequences, things };
}

/** Puts something in after the nearest of those that came before it and are still there; else first. */
function putAfter<item>(list: readonly item[], it: item, earlier: readonly item[]): readonly item[] {
  const after = earlier.findLast((each) => list.includes(each));
  const at = after === undefined ? 0 : list.indexOf(after) + 1;
  return [...list.slice(0, at), it, ...list.slice(at)];
}

function stepBack(move: Move, bench: Bench): View | undefined {
  const moved = bench.now.steps.find((step) => step.placed === move.step.placed);
  const target = bench.renames.things.get(move.oldStep.sequence ?? '') ?? move.oldStep.sequence;
  if (moved === undefined || !bench.now.sequences.some((sequence) => sequence.name === target)) return undefined;
  const inOld = bench.oldItems.find((item) => item.word === 'sequence' && item.name === move.oldStep.sequence);
  const names = inOld?.steps ?? [];
  const earlier = names.slice(0, Math.max(0, names.indexOf(move.oldStep.name))).map((name) => bench.stepNow.get(name));
  return withSequences(bench.now, (sequence) => {
    const steps = sequence.steps.filter((step) => step !== moved);
    if (sequence.name !== target) return steps.length === sequence.steps.length ? sequence : { ...sequence, steps };
    const before = earlier.flatMap((name) => steps.find((step) => step.name === name) ?? []);
    return { ...sequence, steps: putAfter<Step>(steps, moved, before) };
  });
}

function statementsBefore(move: Move, bench: Bench): readonly Statement[] {
  const { old, oldStep } = move;
  const facts = oldStep.facts.filter((fact) => fact.ordered);
  const at = old === undefined ? -1 : facts.indexOf(old);
  return facts.slice(0, Math.max(0, at)).flatMap((fact) => bench.factNow.get(fact)?.statement ?? []);
}

function actionBack(move: Move, bench: Bench): View | undefined {
  const statement = move.fact?.statement;
  const stood = bench.stepNow.get(move.oldStep.name);
  if (statement === undefined || stood === undefined) return undefined;
  const earlier = statementsBefore(move, bench);
  return withSequences(bench.now, (sequence) => ({
    ...sequence,
    steps: sequence.steps.map((step) => {
      if (step.name !== stood && step.name !== move.step.name) return step;
      const rest = step.statements.filter((each) => each !== statement);
      return { ...step, statements: step.name === stood ? putAfter(rest, statement, earlier) : rest };
    }),
  }));
}

function judged(move: Move, cause: readonly RehearsalFinding[], passes: boolean): Change {
  const { change } = move;
  if (move.from !== undefined && move.fact === undefined) return change;
  const first = cause[0];
  if (first !== undefined)
    return { ...change, weight: 'critical', ...sayingToo(change, told`The rehearsal now finds: ${first.message}`) };
  if (change.weight === 'wording') return change;
  const said = passes
    ? told`The job still rehearses as before.`
    : told`What the rehearsal finds otherwise does not come from this alone.`;
  return { ...change, ...sayingToo(change, said) };
}

/** The moves with what the rehearsal says of each: critical where it finds something that it does not find with it put back. */
export function judgeMoves(moves: readonly Move[], bench: Bench): readonly Change[] {
  if (moves.length === 0) return [];
  const before = new Set(
    rehearse(bench.old, bench.oldFile).map(
      (each) => `${each.code} ${renamedText(String(each.message), bench.renames)}`,
    ),
  );
  const fresh = rehearse(bench.now, bench.file).filter((each) => !before.has(keyOf(each)));
  return moves.map((move, i) => {
    if (fresh.length === 0) return judged(move, [], true);
    const back = i >= MOST ? undefined : move.from === undefined ? stepBack(move, bench) : actionBack(move, bench);
    const left = back === undefined ? undefined : new Set(rehearse(back, bench.file).map(keyOf));
    const cause = fresh.filter((each) => (left === undefined ? speaksOf(each, move) : !left.has(keyOf(each))));
    // Of two moves that only together do harm, putting back one may not help: then the place decides.
    return judged(move, cause.length > 0 ? cause : fresh.filter((each) => speaksOf(each, move)), false);
  });
}

/** Whether a finding stands in, or points at, what moved. */
function speaksOf(finding: RehearsalFinding, move: Move): boolean {
  const statement = move.fact?.statement;
  return [finding, ...finding.related].some(
    (each) =>
      each.placed === move.step.placed &&
      (statement === undefined || (each.span.start >= statement.start && each.span.end <= statement.end)),
  );
}
