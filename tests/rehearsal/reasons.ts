// Why a fault that is put into a spec does no harm that the spec could tell: rules over the two actions, and what comes after them in the
// job. A silent mutation without a reason is one that a rebuilder might call wrong.
import type { Statement } from '../../grammar/tree.ts';
import { placeOf } from '../../server/model/placed.ts';
import type { Step, View } from '../../server/model/view.ts';
import { plansOf } from '../../server/rehearsal/plan.ts';
import type { Lines, Mutation } from './faults.ts';

interface Work {
  readonly step: Step;
  readonly statement: Statement;
  readonly line: number;
}

/** The statements of each job, in the order of work, with the line that each stands in. */
export interface Jobs {
  readonly view: View;
  readonly file: string;
  readonly jobs: readonly (readonly Work[])[];
}

export function jobsOf(view: View, file: string, text: string): Jobs {
  const starts = [0];
  for (let i = 0; i < text.length; i += 1) if (text[i] === '\n') starts.push(i + 1);
  const lineAt = (offset: number): number => {
    let [low, high] = [0, starts.length];
    while (low + 1 < high) {
      const middle = (low + high) >> 1;
      if ((starts[middle] ?? 0) <= offset) low = middle;
      else high = middle;
    }
    return low;
  };
  const works = plansOf(view, file).map((plan) =>
    plan.sequences.flatMap((sequence) =>
      sequence.steps.flatMap((step) =>
        step.statements.map((statement) => ({ step, statement, line: lineAt(placeOf(step.placed, statement).start) })),
      ),
    ),
  );
  return { view, file, jobs: works };
}

function targetsOf(statement: Statement): readonly string[] {
  switch (statement.kind) {
    case 'action':
      return statement.targets.map(({ owner }) => owner.text);
    case 'set':
    case 'rotate':
      return [statement.shaft.text];
    case 'confirm':
      return [statement.target.owner.text];
    default:
      return [];
  }
}

const mateOf = (statement: Statement): string | undefined =>
  statement.kind === 'action' ? statement.mate?.reference.owner.text : undefined;

/** What a thing bears on beside itself: what a fastener clamps, a limit is of, a drive is made of, a part covers or turns with. */
function bearsOn(name: string, view: View, turning = true): readonly string[] {
  const thing = view.things.get(name);
  switch (thing?.kind) {
    case 'part':
      return [
        name,
        ...thing.covers.map((cover) => cover.part),
        ...(thing.fixedTo === undefined || !turning ? [] : [thing.fixedTo]),
      ];
    case 'fastener':
      return [name, ...thing.clamps.map((clamp) => clamp.part)];
    case 'limit':
      return [name, ...[thing.of, thing.each].flatMap((each) => (each === undefined ? [] : [each.owner.text]))];
    case 'drive':
      return [
        name,
        ...thing.tensioners,
        ...thing.wraps.flatMap((wrap) => [wrap.part, ...wrap.wheels.map((wheel) => wheel.part)]),
        ...thing.meshes.flatMap((mesh) => [mesh.first, mesh.second]),
      ].flatMap((each) => {
        const part = view.things.get(each);
        return part?.kind === 'part' && part.fixedTo !== undefined ? [each, part.fixedTo] : [each];
      });
    default:
      return [name];
  }
}

function touched(statement: Statement, view: View, turning = true): ReadonlySet<string> {
  return new Set(targetsOf(statement).flatMap((name) => bearsOn(name, view, turning)));
}

function meet(one: Iterable<string>, other: ReadonlySet<string>): boolean {
  for (const each of one) if (other.has(each)) return true;
  return false;
}

const isWord = (statement: Statement, ...words: readonly string[]): boolean => words.includes(statement.word);

/** Work that the rehearsal takes note of only where something covers the part. */
const BESIDE = ['lubricate', 'clean', 'inspect', 'seal', 'lift', 'support', 'bleed', 'wait', 'machine', 'renew'];
const REMARKS = ['tool', 'caution', 'note', 'hold-point', 'after', 'trial', 'allow', 'per'];

/** The shafts, wheels, tensioners and bolts of wheels of a drive. */
function isOfDrive(statement: Statement, drive: ReadonlySet<string>, view: View): boolean {
  return targetsOf(statement).some((name) => drive.has(name) || bearsOn(name, view).some((each) => drive.has(each)));
}

/** A drive that all of some actions belong to is turned and confirmed by its marks later in the job. */
function isProvedLater(works: readonly Work[], later: readonly Work[], view: View): boolean {
  return view.drives.some((drive) => {
    const own = new Set(bearsOn(drive.name, view));
    if (!works.every((work) => isOfDrive(work.statement, own, view))) return false;
    const turn = later.findIndex(({ statement }) => statement.kind === 'rotate');
    return (
      turn >= 0 &&
      later
        .slice(turn)
        .some(({ statement }) => statement.kind === 'confirm' && targetsOf(statement).includes(drive.name))
    );
  });
}

const TIMING = ['set', 'confirm', 'align', 'pin', 'unpin', 'hold-back', 'release', 'snug', 'tighten', 'rotate'];

function sameTarget(one: Statement, other: Statement): boolean {
  return meet(targetsOf(one), new Set(targetsOf(other)));
}

/** What undoes an action: both in a step that is left out as a whole leave nothing undone. */
const UNDO: Readonly<Record<string, string>> = {
  loosen: 'tighten',
  tighten: 'loosen',
  remove: 'fit',
  fit: 'remove',
  drain: 'fill',
  fill: 'drain',
};

/** Shims and the like, told by a table: a table may as well be only read, and a second one may go on. */
const GRADED = 'a graded thing: the spec does not say how many go on';

/** Why an action may be left out, alone or with the whole of its step. */
function reasonLeftOut(work: Work, job: readonly Work[], { view, file }: Jobs, of: Mutation['of']): string | undefined {
  const { statement, step } = work;
  const at = job.indexOf(work);
  const later = job.slice(at + 1);
  const inStep = job.filter((each) => each.step === step && each !== work);
  if (isWord(statement, ...REMARKS)) return 'a remark';
  if (isWord(statement, ...BESIDE)) return 'lubricating, cleaning and looking are not rehearsed';
  if (isWord(statement, 'run')) return 'nothing waits for the run';
  const names = targetsOf(statement);
  if (of === 'step' && names.length > 0) {
    const undo = UNDO[statement.word];
    if (
      undo !== undefined &&
      inStep.some((each) => isWord(each.statement, undo) && sameTarget(each.statement, statement))
    )
      return 'undone and done again in one step';
    if (names.every((name) => isOfOtherFile(name, view, file)))
      return 'a thing of another file, which need not all be used';
  }
  if (isWord(statement, 'drain')) return 'a whole engine may be drained elsewhere than it is filled';
  if (names.some((name) => view.things.get(name)?.kind === 'grades')) return GRADED;
  if (
    isWord(statement, 'prime') &&
    !job.some((each) => isWord(each.statement, 'fit') && sameTarget(each.statement, statement))
  )
    return 'the oil pump stays on, and full';
  if (
    isWord(statement, 'snug', 'tighten') &&
    later.some((each) => isWord(each.statement, 'tighten') && sameTarget(each.statement, statement))
  )
    return 'tightened again later';
  if (
    of === 'step' &&
    isWord(statement, 'tighten') &&
    job.slice(0, at).some((each) => isWord(each.statement, 'tighten') && sameTarget(each.statement, statement))
  )
    return 'tightened before; the run after which it is done again is left out too';
  if (
    isWord(statement, 'adjust', 'measure') &&
    job.some(
      (each) => each !== work && isWord(each.statement, 'adjust', 'measure') && sameTarget(each.statement, statement),
    )
  )
    return inStep.some((each) => isWord(each.statement, 'adjust', 'measure') && sameTarget(each.statement, statement))
      ? 'adjusted and measured in one step'
      : 'measured elsewhere in the job';
  if (isWord(statement, ...TIMING) && isProvedLater([work], later, view)) return 'the marks prove it later';
  if (isWord(statement, 'rotate') && !inStep.some((each) => isWord(each.statement, 'confirm')))
    return 'turned only to get at the next';
  if (isWord(statement, 'set') && statement.kind === 'set' && statement.mark === undefined)
    return 'no line says where the crankshaft stands for what follows';
  return undefined;
}

function isOfOtherFile(name: string, view: View, file: string): boolean {
  const thing = view.things.get(name);
  return thing !== undefined && thing.placed.file !== file;
}

/** Things that one covers, or the same bolts clamp: which of them is first matters, and the rehearsal has to say so. */
function areBound(one: Statement, other: Statement, view: View): boolean {
  // What only turns with a shaft goes on before the shaft as well as after it.
  const turning = !(isWord(one, 'fit') && isWord(other, 'fit'));
  return meet(touched(one, view, turning), touched(other, view, turning));
}

/** The crankshaft brought to a place, and not to the marks of a drive. */
const isCrankSet = (statement: Statement): boolean => statement.kind === 'set' && statement.mark === undefined;

/** One part twice, each time other places of it. */
function arePlaces(one: Statement, other: Statement): boolean {
  if (one.kind !== 'action' || other.kind !== 'action' || one.word !== other.word) return false;
  const [first, second] = [one.targets[0], other.targets[0]];
  if (one.targets.length !== 1 || other.targets.length !== 1 || first?.owner.text !== second?.owner.text) return false;
  const names = [first, second].map((each) => each?.places.map((place) => place.name?.text ?? '').join() ?? '');
  return names[0] !== '' && names[1] !== '' && names[0] !== names[1];
}

function isBench(one: Statement, other: Statement): boolean {
  return isWord(one, 'fit', 'remove') && isWord(other, 'fit', 'remove');
}

/** Whether one goes onto what the other is about, or both go onto one part. */
function sitsOn(one: Statement, other: Statement, view: View): boolean {
  const [first, second] = [mateOf(one), mateOf(other)];
  return (
    (first !== undefined && (first === second || touched(other, view).has(first))) ||
    (second !== undefined && touched(one, view).has(second))
  );
}

/** Why two actions may be done in either order. */
function reasonSwapped(one: Work, other: Work, later: readonly Work[], view: View): string | undefined {
  const [first, second] = [one.statement, other.statement];
  if (isWord(first, ...REMARKS) || isWord(second, ...REMARKS)) return 'a remark';
  if (isWord(first, ...BESIDE) || isWord(second, ...BESIDE))
    return 'lubricating, cleaning and looking are not rehearsed';
  if ([first, second].some((each) => isWord(each, 'measure')) && [first, second].some((each) => isWord(each, 'fit')))
    if (sitsOn(first, second, view) && !meet(targetsOf(first), new Set(targetsOf(second))))
      return 'no line says what is off when it is measured';
  if (arePlaces(first, second)) return 'two places of one part';
  const bound = areBound(first, second, view);
  if (!bound && !sitsOn(first, second, view)) return 'the two touch nothing in common';
  if (!bound && isBench(first, second)) return 'no line says which of the two lies over the other';
  if (!bound) return 'goes onto what is fastened, before or after it is';
  if (isWord(first, 'adjust', 'measure') && isWord(second, 'adjust', 'measure'))
    return 'adjusted and measured in one step';
  if (
    isWord(first, 'snug', 'tighten') &&
    later.some((each) => isWord(each.statement, 'tighten') && sameTarget(each.statement, first))
  )
    return 'tightened again later';
  if (isWord(first, 'fit', ...TIMING) && isWord(second, 'fit', ...TIMING) && isProvedLater([one, other], later, view))
    return 'the marks prove it later';
  if (isCrankSet(first) || isCrankSet(second)) return 'no line says where the crankshaft stands for what follows';
  if (
    [first, second].some((each) => isWord(each, 'measure')) &&
    [first, second].some((each) => isWord(each, 'set', 'rotate'))
  )
    return 'measured wherever the shaft stands';
  if (isWord(first, 'hold-back') && isWord(second, 'tighten', 'snug')) return 'held back, whether it is bolted or not';
  if (isWord(first, 'fit') && isWord(second, 'hold-back')) return 'held back on the bench as well as on the engine';
  return undefined;
}

const within = (work: Work, lines: Lines): boolean => work.line >= lines.from && work.line < lines.to;

/** Of several reasons the one that says most; undefined where one of the actions has none. */
function ofAll(reasons: readonly (string | undefined)[]): string | undefined {
  const told = reasons.filter((each) => each !== 'a remark' && !each?.startsWith('lubricating'));
  if (told.includes(undefined)) return undefined;
  const counts = new Map<string, number>();
  for (const each of told) if (each !== undefined) counts.set(each, (counts.get(each) ?? 0) + 1);
  const [most] = [...counts].sort(([, one], [, other]) => one - other);
  return most?.[0] ?? 'lubricating, cleaning and looking are not rehearsed';
}

/** Whether all that is fitted has come off in the same lines before. */
function takesOffWhatItFits(works: readonly Work[]): boolean {
  const off = new Set<string>();
  let fits = 0;
  return (
    works.every(({ statement }) => {
      if (isWord(statement, 'remove')) for (const name of targetsOf(statement)) off.add(name);
      if (!isWord(statement, 'fit')) return true;
      fits += 1;
      return targetsOf(statement).every((name) => off.has(name));
    }) && fits > 0
  );
}

/** Why a mutation that gives no finding may give none; undefined where no rule says so in every job that it is in. */
export function reasonFor(mutation: Mutation, all: Jobs): string | undefined {
  const { at, next, change, of } = mutation;
  const { view, jobs } = all;
  const inJobs = jobs.filter((job) => job.some((work) => within(work, at)));
  if (inJobs.length === 0) return 'in no job of the file';
  const reasons = inJobs.flatMap((job) => {
    const own = job.filter((work) => within(work, at));
    if (change === 'left out') return own.map((work) => reasonLeftOut(work, job, all, of));
    if (next === undefined && takesOffWhatItFits(own)) return ['taken off and put back, which may be done again'];
    if (next === undefined)
      return own.map(({ statement }) =>
        targetsOf(statement).every((name) => view.things.get(name)?.kind === 'grades') ? GRADED : undefined,
      );
    const others = job.filter((work) => within(work, next));
    const last = others[others.length - 1] ?? own[own.length - 1];
    const later = last === undefined ? [] : job.slice(job.indexOf(last) + 1);
    return own.flatMap((one) => others.map((other) => reasonSwapped(one, other, later, view)));
  });
  return ofAll(reasons);
}
