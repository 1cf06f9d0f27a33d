// Changes of how a spec is written that leave what it says: a run of actions becomes a step, a step a sequence of its own, every figure is
// restated in the other unit, and bolts of one kind are like one of them.
import { type Told, told } from '../../grammar/told.ts';
import type { Statement } from '../../grammar/tree.ts';
import type { Analysis } from '../model/analysis.ts';
import type { FixEdit } from '../model/finding.ts';
import { type Placed, placeOf } from '../model/placed.ts';
import { blockOf } from '../model/statements.ts';
import { textOf } from '../model/text-of.ts';
import { placedAt, toOwn } from './place-in-tree.ts';
import { otherUnitText, quantitiesIn } from './quantities.ts';
import { wholeLines } from './way-pieces.ts';

/** A change that is offered where nothing is wrong. */
export interface Rework {
  readonly told: Told;
  readonly kind: 'extract' | 'rewrite';
  readonly edits: readonly FixEdit[];
}

function isTaken(analysis: Analysis, name: string): boolean {
  return analysis.views.some((view) => view.things.has(name));
}

function freeName(analysis: Analysis, name: string): string {
  let free = name;
  for (let more = 2; isTaken(analysis, free); more += 1) free = `${name}-${more}`;
  return free;
}

/** The statements of a step that a stretch touches, and those before and behind them. */
function cut(
  step: Placed,
  start: number,
  end: number,
): readonly [before: Statement[], marked: Statement[], behind: Statement[]] {
  const [from, to] = [toOwn(step.section, start), toOwn(step.section, end)];
  const all = step.declaration.body?.statements.filter((each) => each.kind !== 'hole') ?? [];
  return [
    all.filter((each) => each.end <= from),
    all.filter((each) => each.end > from && each.start < to),
    all.filter((each) => each.start >= to),
  ];
}

/** The marked lines at the beginning or the end of a step become a step of their own, before or behind it. */
function intoStep(analysis: Analysis, start: number, end: number): readonly Rework[] {
  const placed = placedAt(analysis, start);
  const name = placed?.declaration.name?.text;
  if (placed === undefined || name === undefined || start === end || blockOf(placed.declaration) !== 'step') return [];
  if (placed.declaration.changed !== undefined) return [];
  const [before, marked, behind] = cut(placed, start, end);
  const [first, last] = [marked[0], marked[marked.length - 1]];
  const isAction = (each: Statement): boolean => ACTIONS.has(each.kind);
  if (first === undefined || last === undefined || !marked.some(isAction)) return [];
  // Cut out of the middle, what follows would be done before it.
  const isHead = !before.some(isAction) && behind.some(isAction);
  const isTail = before.some(isAction) && !behind.some(isAction);
  if (!isHead && !isTail) return [];
  const { file } = analysis.file;
  const whole = placeOf(placed, placed.declaration);
  const stretch = { start: placeOf(placed, first).start, end: placeOf(placed, last).end };
  const own = freeName(analysis, isHead ? `before-${name}` : `after-${name}`);
  const text = textOf(analysis.file, stretch.start, stretch.end);
  const step = `step ${own} {\n    ${text}\n  }`;
  const at = isHead ? whole.start : whole.end;
  return [
    {
      told: isHead
        ? told`Put the marked lines into a step of their own, before ${name}`
        : told`Put the marked lines into a step of their own, behind ${name}`,
      kind: 'extract',
      edits: [
        { file, ...wholeLines(analysis, stretch.start, stretch.end), text: '' },
        { file, start: at, end: at, text: isHead ? `${step}\n\n  ` : `\n\n  ${step}` },
      ],
    },
  ];
}

const ACTIONS: ReadonlySet<string> = new Set(['action', 'rotate', 'set', 'confirm', 'run', 'crank', 'wait']);

/** The first or last step of a sequence becomes a sequence of its own, which every job that does the old one does too. */
function intoSequence(analysis: Analysis, offset: number): readonly Rework[] {
  const step = placedAt(analysis, offset);
  const name = step?.declaration.name;
  if (step === undefined || name === undefined || step.declaration.word !== 'step') return [];
  const at = placeOf(step, name);
  if (offset < at.start || offset > at.end) return [];
  const sequence = analysis.file.declarations.find((each) => each.steps.includes(step));
  const [steps, old] = [sequence?.steps.filter((each) => each !== undefined) ?? [], sequence?.declaration.name?.text];
  if (sequence === undefined || old === undefined || steps.length < 2) return [];
  const isLast = steps[steps.length - 1] === step;
  if (!isLast) return [];
  const { file } = analysis.file;
  const own = freeName(analysis, `${name.text}-work`);
  const phase = sequence.declaration.body?.statements.find((each) => each.word === 'phase');
  const said = phase === undefined ? '' : `  ${sequence.section.text.slice(phase.start, phase.end)}\n\n`;
  const [whole, end] = [placeOf(step, step.declaration), placeOf(sequence, sequence.declaration).end];
  const text = textOf(analysis.file, whole.start, whole.end);
  const jobs = analysis.file.declarations.flatMap((job): FixEdit[] =>
    (job.declaration.body?.statements ?? []).flatMap((each) =>
      each.kind === 'names' && each.word === 'sequences'
        ? each.names.filter((one) => one.text === old).map((one) => ({ ...placeOf(job, one), text: `${old}, ${own}` }))
        : [],
    ),
  );
  return [
    {
      told: told`Put step ${name.text} into a sequence of its own, for other jobs to do too`,
      kind: 'extract',
      edits: [
        { file, ...wholeLines(analysis, whole.start, whole.end), text: '' },
        { file, start: end, end, text: `\n\nsequence ${own} {\n${said}  ${text}\n}` },
        ...jobs,
      ],
    },
  ];
}

/** Every figure with the other unit behind it, or changed to it. */
function restated(analysis: Analysis, offset: number): readonly Rework[] {
  const spec = placedAt(analysis, offset);
  if (spec?.declaration.word !== 'spec') return [];
  const { file } = analysis.file;
  const others = quantitiesIn(analysis, 0, Number.MAX_SAFE_INTEGER).flatMap(({ value, start, end }) => {
    const isRestated = 'restated' in value && value.restated !== undefined;
    const other = isRestated ? undefined : otherUnitText(value);
    return other === undefined ? [] : [{ start, end, other }];
  });
  if (others.length === 0) return [];
  return [
    {
      told: told`Write every figure in both units: ${others.length} of them`,
      kind: 'rewrite',
      edits: others.map(({ end, other }) => ({ file, start: end, end, text: ` (${other})` })),
    },
    {
      told: told`Change every figure to the other unit: ${others.length} of them`,
      kind: 'rewrite',
      edits: others.map(({ start, end, other }) => ({ file, start, end, text: other })),
    },
  ];
}

/** What one bolt takes from another that it is like. */
const OF_KIND = ['thread', 'class', 'tensile', 'surface', 'into'];

/** The bolt whose name is at an offset, with what makes its kind, and the others that agree in all of it. */
export interface OfAKind {
  readonly here: Placed;
  readonly name: string;
  readonly alike: readonly Placed[];
}

/** What a bolt says of its kind. */
export function kindLines(placed: Placed): readonly Statement[] {
  return placed.declaration.body?.statements.filter((each) => OF_KIND.includes(each.word)) ?? [];
}

/** Undefined where it does not say thread and class. */
export function boltsOfAKind(analysis: Analysis, offset: number): OfAKind | undefined {
  const here = placedAt(analysis, offset);
  const name = here?.declaration.name;
  if (here === undefined || name === undefined || here.declaration.word !== 'fastener') return undefined;
  const at = placeOf(here, name);
  if (offset < at.start || offset > at.end) return undefined;
  const keyOf = (placed: Placed): string =>
    kindLines(placed)
      .map((each) => placed.section.text.slice(each.start, each.end))
      .sort()
      .join('\n');
  const key = keyOf(here);
  if (!/^class /m.test(key) || !/^thread /m.test(key)) return undefined;
  const alike = analysis.file.declarations.filter(
    (each) =>
      each !== here &&
      each.declaration.word === 'fastener' &&
      each.declaration.body?.statements.every((one) => one.word !== 'like') === true &&
      keyOf(each) === key,
  );
  return { here, name: name.text, alike };
}

/** More names than fit into the title of an offer. */
const MOST_NAMES = 3;

/** The names of bolts, or the first of them and how many more there are. */
export function namesOf(bolts: readonly Placed[]): string {
  const names = bolts.slice(0, MOST_NAMES).map((each) => each.declaration.name?.text ?? '');
  const more = bolts.length - names.length;
  return `${names.join(', ')}${more > 0 ? ` and ${more} more` : ''}`;
}

/** The edits that have a bolt say `like` instead of its kind. */
export function saysLike(analysis: Analysis, bolt: Placed, name: string): readonly FixEdit[] {
  return kindLines(bolt).map((line, i): FixEdit => {
    const place = placeOf(bolt, line);
    return i === 0
      ? { ...place, text: `like ${name}` }
      : { file: analysis.file.file, ...wholeLines(analysis, place.start, place.end), text: '' };
  });
}

/** Bolts that agree in thread, class and finish become like the one in hand, which goes on saying it. */
function likeOne(analysis: Analysis, offset: number): readonly Rework[] {
  const found = boltsOfAKind(analysis, offset);
  if (found === undefined || found.alike.length === 0) return [];
  const { name, alike } = found;
  return [
    {
      told: told`Let ${namesOf(alike)} be like ${name}: thread and class are the same`,
      kind: 'extract',
      edits: alike.flatMap((each) => saysLike(analysis, each, name)),
    },
  ];
}

/** What may be written otherwise at a stretch of the file. */
export function reworks(analysis: Analysis, start: number, end: number): readonly Rework[] {
  return [
    ...intoStep(analysis, start, end),
    ...intoSequence(analysis, start),
    ...restated(analysis, start),
    ...likeOne(analysis, start),
  ];
}
