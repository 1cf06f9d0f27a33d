// One job of the bench sheet: what to lay out, its steps, its own tables, where it is signed.

import { spoken } from '../../grammar/spoken.ts';
import type { BuiltView } from '../model/build-view.ts';
import { listsOf } from '../model/job-lists.ts';
import { statementsFor } from '../model/placed.ts';
import type { Job, Sequence, Step, View } from '../model/view.ts';
import { drivesOfStep, pictureOf } from '../pictures/catalog.ts';
import type { Picture } from '../pictures/drawing.tsx';
import { ringGaps } from '../pictures/ring-gaps.tsx';
import type { StepStands } from '../rehearsal/stands.ts';
import { type JobScope, jobScope } from './clearances.ts';
import { LayOut } from './lay-out.tsx';
import { Blank, Boxes, spaced } from './pieces.tsx';
import { beginsText, followOnOf, named, phaseBeside } from './plain-words.ts';
import { pageName } from './printed-margins.ts';
import { StepBlock } from './step.tsx';
import { GradeTables, OtherLimits, PartTable } from './tables.tsx';
import { tightenedBefore } from './tightened-before.ts';

export interface Chapter {
  readonly job: Job | undefined;
  readonly sequences: readonly Sequence[];
}

/** The pictures that help at a step: the timing face where a drive goes together or is proved, the gaps where rings go on. */
function picturesOf(step: Step, view: View, stands: StepStands | undefined): readonly Picture[] {
  const said = step.statements;
  const drives = drivesOfStep(step, view).filter((name) =>
    said.some(
      (each) =>
        (each.kind === 'confirm' && each.target.owner.text === name) ||
        (each.kind === 'action' && each.word === 'align' && each.targets.some((target) => target.owner.text === name)),
    ),
  );
  const gaps = new Set(ringGaps(view).map((gap) => gap.part));
  const hasRings = said.some(
    (each) =>
      each.kind === 'action' && each.word === 'fit' && each.targets.some((target) => gaps.has(target.owner.text)),
  );
  const at = stands === undefined ? {} : { stands };
  return [
    ...drives.map((of) => pictureOf('timing-face', { view, of, ...at })),
    ...(hasRings ? [pictureOf('ring-gaps', { view, of: '1' })] : []),
  ].filter((picture) => picture !== undefined);
}

export interface ChapterProps {
  readonly chapter: Chapter;
  readonly view: BuiltView;
  readonly number: number;
  /** How the engine stands at each step; empty where nobody has gone through the work. */
  readonly stands: ReadonlyMap<Step, StepStands>;
}

function SequenceTitle({ sequence }: { sequence: Sequence }) {
  const title = sequence.title ?? spaced(sequence.name);
  const phase = phaseBeside(sequence.phase, title);
  return (
    <>
      {title}
      {phase === undefined ? null : <span class="label"> {phase}</span>}
    </>
  );
}

export function ChapterPart({ chapter, view, number, stands }: ChapterProps) {
  const { job, sequences } = chapter;
  const tight = tightenedBefore(sequences, view);
  const scope = jobScope(sequences, view, job === undefined || job.begins?.how === 'bare');
  const numbered = new Set(
    listsOf(sequences, view).buy.flatMap((item) => (item.number === undefined ? [] : [item.name])),
  );
  const numbers = new Map(
    sequences.flatMap((sequence, i) => sequence.steps.map((step, j) => [step, `${i + 1}.${j + 1}`] as const)),
  );
  return (
    <div class={`chapter ${pageName(number)}${number === 0 ? '' : ' next'}`}>
      {job === undefined ? null : (
        <>
          <h2>{spoken`Job: ${job.title ?? spaced(job.name)}`}</h2>
          <p class="label">{beginsText(job, view)}</p>
          {job.conditions.map((text) => (
            <p class="mind" key={text.start}>
              <Boxes /> {spoken`Before the job: ${text.value}`}
            </p>
          ))}
        </>
      )}
      <LayOut sequences={sequences} view={view} />
      {sequences.map((sequence, i) => (
        <section key={sequence.name}>
          <h3>
            {i + 1}. <SequenceTitle sequence={sequence} />
          </h3>
          {sequence.startsWith.length === 0 ? null : (
            <p class="label">
              {spoken`On the stand before the first step: ${sequence.startsWith.map((name) => named(name.text, view)).join(', ')}`}
            </p>
          )}
          {sequence.steps.map((step) => (
            <StepBlock
              step={step}
              number={numbers.get(step) ?? ''}
              view={view}
              tight={tight}
              scope={scope}
              pictures={picturesOf(step, view, stands.get(step))}
              key={step.name}
            />
          ))}
        </section>
      ))}
      {followOnOf(job, view).map((text) => (
        <p class="mind" key={text}>
          <Boxes /> {spoken`After the job: ${text}`}
        </p>
      ))}
      <OtherLimits view={view} scope={scope} numbers={numbers} />
      <GradeTables view={view} scope={scope} />
      <PartTable view={view} scope={scope} said={numbered} />
      <Sources view={view} scope={scope} />
      <p class="sign">
        <Blank label={spoken`finished by`} wide />
        <Blank label={spoken`signature`} wide />
        <Blank label={spoken`date`} />
      </p>
    </div>
  );
}

/** The sources that the job cites, and all that the spec lists; one that no list names is said so. */
function Sources({ view, scope }: { view: BuiltView; scope: JobScope }) {
  const listed = new Map<string, string>();
  for (const spec of view.specs)
    for (const each of statementsFor(spec.declaration.body?.statements, view.variant))
      if (each.kind === 'source' && !listed.has(each.name.text)) listed.set(each.name.text, each.title?.value ?? '');
  const cited = [...view.things.values()]
    .filter((thing) => scope.names.has(thing.name) || (thing.kind === 'limit' && scope.limits.includes(thing)))
    .flatMap((thing) => [thing.placed.declaration.per, ...thing.statements.map((each) => each.per)])
    .flatMap((per) => (per === undefined ? [] : [per.source.text]));
  const names = [...new Set([...listed.keys(), ...cited])];
  if (names.length === 0) return null;
  return (
    <section>
      <h3>{spoken`Sources`}</h3>
      <dl>
        {names.map((name) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{listed.get(name) ?? spoken`cited, but listed nowhere in this spec`}</dd>
          </div>
        ))}
      </dl>
    </section>
  );
}
