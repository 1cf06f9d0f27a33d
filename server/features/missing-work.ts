// Ways out of what a rehearsal finds left undone: the action that lacks, put where the job can do it. A finding is made where it is
// seen, at the end of a job; where in the job the work belongs is worked out here, from the steps as they stand.
import { told } from '../../grammar/told.ts';
import type { Action } from '../../grammar/tree.ts';
import type { Analysis } from '../model/analysis.ts';
import { type Finding, type QuickFix, titled } from '../model/finding.ts';
import { placeOf } from '../model/placed.ts';
import type { Drive, Fastener, Part, Step, View } from '../model/view.ts';
import { turningParts } from './drive-parts.ts';
import {
  does,
  isAt,
  type Job,
  jobOf,
  lastOf,
  linesAfter,
  linesBefore,
  mateOf,
  targetsOf,
  type Work,
  workAt,
} from './job-works.ts';
import { nameAt } from './place-in-tree.ts';

function freeName(view: View, name: string): string {
  let free = name;
  for (let more = 2; view.things.has(free); more += 1) free = `${name}-${more}`;
  return free;
}

function stepAfter(job: Job, step: Step, name: string, lines: readonly string[]): QuickFix['edits'] {
  const { file, end } = placeOf(step.placed, step.declaration);
  const inside = lines.map((line) => `    ${line}\n`).join('');
  return [{ file, start: end, end, text: `\n  step ${freeName(job.view, name)} {\n${inside}  }` }];
}

/** Behind the last of some work: in its step, or in one of its own where that step ends with it. */
function afterOrOwnStep(job: Job, work: Work, name: string, lines: readonly string[]): QuickFix['edits'] {
  const rest = work.step.statements.slice(work.step.statements.indexOf(work.statement) + 1);
  return rest.some((each) => each.kind === 'action' || each.kind === 'confirm' || each.kind === 'rotate')
    ? linesAfter(job, work, lines)
    : stepAfter(job, work.step, name, lines);
}

function partOf(view: View, name: string): Part | undefined {
  const thing = view.things.get(name);
  return thing?.kind === 'part' ? thing : undefined;
}

function clampedBy(fastener: Fastener): readonly string[] {
  return [...fastener.clamps.map((clamp) => clamp.part), ...(fastener.to === undefined ? [] : [fastener.to.part])];
}

/** What a part goes onto: what its bolts hold it to, or what it turns with. */
function mateFor(view: View, part: Part): string | undefined {
  const bolts = view.fasteners.find((each) => each.clamps.some((clamp) => clamp.part === part.name));
  return bolts?.to?.part ?? part.fixedTo;
}

/** `fit PART`, before the first work that needs it there. */
function fitIt(job: Job, part: Part): readonly QuickFix[] {
  const { view } = job;
  const bolts = view.fasteners.filter((each) => clampedBy(each).includes(part.name)).map((each) => each.name);
  const covers = view.parts
    .filter((each) => each.covers.some((cover) => cover.part === part.name))
    .map((each) => each.name);
  const mate = mateFor(view, part);
  const line = mate === undefined ? `fit ${part.name}` : `fit ${part.name} onto ${mate}`;
  const own = view.fasteners.filter((each) => each.clamps.some((clamp) => clamp.part === part.name));
  const ownBolts = own.map((each) => each.name);
  // What is put into it may be on the bench, long before it goes on itself: its own bolts tell where that is.
  const needing =
    job.works.find((work) => does(work, ownBolts, 'tighten', 'snug')) ??
    job.works.find(
      (work) =>
        does(work, bolts, 'tighten', 'snug') ||
        does(work, covers, 'fit') ||
        mateOf(work) === part.name ||
        does(work, [part.name], 'confirm', 'measure', 'hold-back', 'release', 'pin'),
    );
  const end = lastOf(job, ({ sequence }) => sequence.phase === 'assemble');
  const out: QuickFix[] = [];
  if (needing !== undefined)
    out.push({ ...titled(told`Write ${line} in step ${needing.step.name}`), edits: linesBefore(needing, [line]) });
  else if (end !== undefined)
    out.push({
      ...titled(told`Add a step that fits ${part.name}, after ${end.step.name}`),
      edits: stepAfter(job, end.step, `fit-${part.name}`, [line]),
    });
  const there = startsWith(job, part);
  return there === undefined ? out : [...out, there];
}

/** The part is on the stand before the first step. */
function startsWith(job: Job, part: Part): QuickFix | undefined {
  const sequence = job.sequences[0];
  const body = sequence?.declaration.body;
  if (sequence === undefined || body === undefined) return undefined;
  const said = sequence.statements.find((each) => each.word === 'starts-with');
  const phase = sequence.statements.find((each) => each.word === 'phase');
  const own = said?.end ?? phase?.end ?? body.start + 1;
  const { file, start } = placeOf(sequence.placed, { start: own, end: own });
  const text = said === undefined ? `\n  starts-with ${part.name}` : `, ${part.name}`;
  return {
    ...titled(told`Say that ${sequence.name} starts with ${part.name}`),
    edits: [{ file, start, end: start, text }],
  };
}

/** `tighten FASTENER`, after the last of what it clamps has gone on, and before it comes off again or the engine is run. */
function tightenIt(job: Job, fastener: Fastener, finding: Finding): readonly QuickFix[] {
  const clamped = clampedBy(fastener);
  const goesOn = (work: Work): boolean =>
    does(work, clamped, 'fit') || does(work, [fastener.name], 'snug', 'loosen', 'seal', 'lubricate');
  const pointed = finding.related.flatMap((place) => job.works.find((work) => isAt(work, place)) ?? [])[0];
  const from = pointed === undefined ? -1 : job.works.indexOf(pointed);
  const end = job.works.findIndex(
    (work, i) =>
      from >= 0 &&
      i > from &&
      (work.statement.kind === 'run' || does(work, clamped, 'remove') || does(work, [fastener.name], 'loosen')),
  );
  // What clamps nothing that is told, a plug for instance, goes in at the end of the assembly.
  const last =
    clamped.length === 0
      ? lastOf(job, ({ sequence }) => sequence.phase === 'assemble')
      : job.works.slice(0, end < 0 ? undefined : end).findLast(goesOn);
  if (last === undefined) return [];
  const line = `tighten ${fastener.name}`;
  return [{ ...titled(told`Write ${line} in step ${last.step.name}`), edits: linesAfter(job, last, [line]) }];
}

function neverTightened(job: Job, fastener: Fastener | undefined, finding: Finding): readonly QuickFix[] {
  return fastener === undefined ? [] : tightenIt(job, fastener, finding);
}

/** The last work on a drive: its parts, what holds them, its tensioners, its marks. */
function lastOnDrive(job: Job, drive: Drive, withBolts: boolean): Work | undefined {
  const parts = [...turningParts(drive), ...drive.tensioners];
  const bolts = job.view.fasteners
    .filter((each) => withBolts && each.clamps.some((clamp) => parts.includes(clamp.part)))
    .map((each) => each.name);
  return lastOf(
    job,
    (work) =>
      does(work, parts, 'fit', 'release') ||
      does(work, [drive.name, ...parts], 'align') ||
      does(work, bolts, 'tighten', 'snug') ||
      (work.statement.kind === 'action' &&
        work.statement.word === 'unpin' &&
        parts.some((name) => partOf(job.view, name)?.fixedTo === targetsOf(work, 'unpin')[0])),
  );
}

/** The lines that prove the timing of a drive. */
function proofOf(job: Job, drive: Drive): readonly string[] {
  const turns = job.view.engine?.cycle === 'two-stroke' ? '1 turn' : '2 turns';
  return [`rotate crankshaft ${turns}`, `confirm ${drive.name} by marks`];
}

function proveIt(job: Job, drive: Drive): readonly QuickFix[] {
  const last = lastOnDrive(job, drive, true);
  if (last === undefined) return [];
  const lines = proofOf(job, drive);
  return [
    {
      ...titled(told`Prove the timing after step ${last.step.name}: ${told.list(lines, ',')}`),
      edits: afterOrOwnStep(job, last, `prove-${drive.name}`, lines),
    },
  ];
}

/** `release PART`, once what it tensions is on; or else where it was held back. */
function letGo(job: Job, name: string, held: 'hold-back' | 'pin'): readonly QuickFix[] {
  const { view } = job;
  const word = held === 'pin' ? 'unpin' : 'release';
  const drives = view.drives.filter((drive) =>
    held === 'pin'
      ? turningParts(drive).some((part) => part === name || partOf(view, part)?.fixedTo === name)
      : drive.tensioners.includes(name),
  );
  const candidates = drives.flatMap((drive) => lastOnDrive(job, drive, held === 'pin') ?? []);
  const start = lastOf(job, (work) => does(work, [name], held));
  const last = [...candidates, ...(start === undefined ? [] : [start])].reduce<Work | undefined>(
    (latest, work) => (latest === undefined || job.works.indexOf(work) > job.works.indexOf(latest) ? work : latest),
    undefined,
  );
  if (last === undefined) return [];
  const line = `${word} ${name}`;
  const alone = { ...titled(told`Write ${line} in step ${last.step.name}`), edits: linesAfter(job, last, [line]) };
  const unproved = drives.find((drive) => !job.works.some((work) => does(work, [drive.name], 'confirm')));
  if (unproved === undefined) return [alone];
  // Once it is let go of, the drive has still to be proved.
  const proof = proofOf(job, unproved);
  return [
    alone,
    {
      ...titled(told`Write ${line} in step ${last.step.name}, and prove the timing`),
      edits: afterOrOwnStep(job, last, `prove-${unproved.name}`, [line, ...proof]),
    },
  ];
}

/** A fastener of a file that this one uses is told of where what it clamps goes on: the only one there that is not tightened. */
function looseAt(job: Job, finding: Finding): Fastener | undefined {
  const here = workAt(job, finding);
  const parts = here === undefined ? [] : targetsOf(here, 'fit');
  const loose = job.view.fasteners.filter(
    (each) =>
      clampedBy(each).some((part) => parts.includes(part)) &&
      !job.works.some((work) => does(work, [each.name], 'tighten')),
  );
  return loose.length === 1 ? loose[0] : undefined;
}

/** A line straight behind the action that a finding stands at. */
function behindHere(job: Job, finding: Finding, line: (action: Action) => string): readonly QuickFix[] {
  const here = workAt(job, finding);
  if (here === undefined || here.statement.kind !== 'action') return [];
  const written = line(here.statement);
  return [{ ...titled(told`Write ${written} in step ${here.step.name}`), edits: linesAfter(job, here, [written]) }];
}

/** The ways out of a finding of work left undone; none for any other, or where nothing shows where it belongs. */
export function missingWork(analysis: Analysis, finding: Finding): readonly QuickFix[] {
  const area = finding.code.startsWith('sequence/');
  const job = area ? jobOf(analysis, finding) : undefined;
  if (job === undefined) return [];
  const name = nameAt(analysis, finding.start);
  const named = (action: Action): string =>
    action.targets.find((target) => name?.thing === target.owner.text)?.owner.text ??
    action.targets.map((target) => target.owner.text).join(', ');
  const thing = name === undefined ? undefined : job.view.things.get(name.thing);
  switch (finding.code) {
    case 'sequence/never-fitted':
      return thing?.kind === 'part' && name?.declares === true ? fitIt(job, thing) : [];
    case 'sequence/never-tightened':
      return neverTightened(job, thing?.kind === 'fastener' ? thing : looseAt(job, finding), finding);
    case 'sequence/timing-not-proved':
      return thing?.kind === 'drive' ? proveIt(job, thing) : [];
    case 'sequence/still-held-back':
      return name === undefined ? [] : letGo(job, name.thing, 'hold-back');
    case 'sequence/still-pinned':
      return name === undefined ? [] : letGo(job, name.thing, 'pin');
    case 'sequence/not-secured':
      return behindHere(job, finding, (action) => `secure ${named(action)}`);
    case 'sequence/stage-left':
      return behindHere(job, finding, (action) => `tighten ${named(action)}`);
    default:
      return [];
  }
}
