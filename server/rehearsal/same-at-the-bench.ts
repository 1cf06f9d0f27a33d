// Whether an edit can change what goes wrong in the job: a size, a torque or a bound can't, since the rehearsal asks what is where
// and how far it is tightened, not by how much. What is not surely the same counts as changed.
import type { Span, Statement, Value } from '../../grammar/tree.ts';
import type { Placed } from '../model/placed.ts';
import type { Part, Thing } from '../model/view.ts';

/** Statements whose figures and texts the rehearsal never looks at. One that comes to matter goes out of this list. */
const FIGURES: ReadonlySet<string> = new Set([
  ...['dimension', 'figure', 'wall', 'mass', 'note', 'caution', 'tool', 'number', 'per'],
  ...['torque', 'length', 'hole-depth', 'class', 'tensile', 'surface', 'nut-factor', 'friction', 'stretch'],
]);

function written(placed: Placed, span: Span | undefined): string {
  return span === undefined ? '' : placed.section.text.slice(span.start, span.end);
}

/** What of a statement matters: all of it as written, or only its form. */
function told(placed: Placed, statement: Statement): string {
  if (!FIGURES.has(statement.word)) return written(placed, statement);
  if (statement.kind === 'torque')
    return statement.stages.map((stage) => `${stage.kind} ${formOf(stage.value)}`).join();
  if (statement.kind === 'dimension' || statement.kind === 'figure')
    return `${statement.word} ${statement.name.text} ${statement.kind === 'dimension' ? (statement.count?.value ?? 1) : ''}`;
  return `${statement.word} ${statement.kind}`;
}

/** The form and the unit of a value: an angle stage stays one. */
function formOf(value: Value | undefined): string {
  if (value === undefined) return '';
  return `${value.kind} ${'unit' in value ? (value.unit?.text ?? '') : ''}`;
}

/** Whether the rehearsal can't tell two readings of one thing apart. */
export function sameAtTheBench(old: Thing, now: Thing): boolean {
  if (old.kind !== now.kind || old.broken || now.broken) return false;
  if (!['fastener', 'part', 'limit', 'step'].includes(old.kind)) return false;
  if (old.title !== now.title || old.statements.length !== now.statements.length) return false;
  const [then, there] = [old.placed, now.placed];
  const head = (thing: Thing): string => {
    const { count, each, of, limit } = thing.declaration;
    const { placed } = thing;
    return [
      count?.value,
      written(placed, each),
      written(placed, of),
      limit?.kind?.word,
      limit?.measured === undefined,
      limit?.expression === undefined,
    ].join('|');
  };
  return (
    head(old) === head(now) &&
    old.statements.every((statement, i) => {
      const other = now.statements[i];
      return other !== undefined && other.word === statement.word && told(then, statement) === told(there, other);
    })
  );
}

/** What of a part others go by: how often it is there, what it turns with and what it covers. */
function frameOfPart(part: Part): string {
  const counts = [...part.dimensions.values(), ...part.figures.values()].map(({ name, count }) => [name, count]);
  const covers = part.covers.map(({ part: under, mark }) => [under, mark]);
  const { count, places, fixedTo, teeth, links } = part;
  return JSON.stringify([count, places, fixedTo, teeth, links, counts, covers]);
}

/**
 * Whether two readings of a part or a fastener are the same to all who do not look at the thing itself in the course of the work: then
 * only what looks at it can come out otherwise.
 */
export function sameInItsPlace(old: Thing, now: Thing): boolean {
  if (old.kind === 'part' && now.kind === 'part') return frameOfPart(old) === frameOfPart(now);
  if (old.kind !== 'fastener' || now.kind !== 'fastener' || old.each !== now.each) return false;
  return old.clamps.length === now.clamps.length && old.clamps.every(({ part }, i) => part === now.clamps[i]?.part);
}
