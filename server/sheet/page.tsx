// The bench sheet: one page that holds everything, to print and to write on. Built from elements, so that no text of a spec can
// be anything but text; there is no script on it. Its pieces are in the files beside this one.
import { render } from 'preact-render-to-string';
import type { Statement } from '../../grammar/tree.ts';
import type { BuiltView } from '../model/build-view.ts';
import type { Tell } from '../model/derived-origin.ts';
import { statementsFor } from '../model/placed.ts';
import type { Engine, Job, Sequence, Step, View } from '../model/view.ts';
import { drivesOfStep, pictureOf } from '../pictures/catalog.ts';
import type { Picture } from '../pictures/drawing.tsx';
import { ringGaps } from '../pictures/ring-gaps.tsx';
import { plansOf } from '../rehearsal/plan.ts';
import { type StepStands, standsInPlan } from '../rehearsal/stands.ts';
import { type JobScope, jobScope } from './clearances.ts';
import { LayOut } from './lay-out.tsx';
import { Blank, Boxes, spaced, Telling } from './pieces.tsx';
import { named } from './plain-words.ts';
import { pageName, printedMargins } from './printed-margins.ts';
import { StepBlock } from './step.tsx';
import { STYLE } from './style.ts';
import { FastenerTable, GradeTables, LimitTable, PartTable } from './tables.tsx';
import { tightenedBefore } from './tightened-before.ts';

export interface SheetOptions {
  /** The address of the file that the sheet is made from: its jobs are shown, or its sequences. */
  readonly file: string;
  /** How many contradictions the checker still finds. */
  readonly errors: number;
  /** One job alone. */
  readonly job?: string;
  /** Tells where a value comes from, where the spec is built on another. */
  readonly tell?: Tell;
}

interface Chapter {
  readonly job: Job | undefined;
  readonly sequences: readonly Sequence[];
}

/** The jobs of the file, each with its sequences in the order of the work; without a job, all sequences. */
function chaptersOf(view: View, { file, job }: SheetOptions): readonly Chapter[] {
  const plans = plansOf(view, file).filter((plan) => job === undefined || plan.job?.name === job);
  if (plans.length > 0) return plans;
  return view.sequences.length === 0 ? [] : [{ job: undefined, sequences: view.sequences }];
}

function engineText(engine: Engine | undefined): string {
  if (engine === undefined) return '';
  const order = engine.statements.find((each) => each.kind === 'firing-order');
  const facts = [
    engine.cylinders === undefined
      ? undefined
      : `${engine.cylinders} cylinders${engine.layout === undefined ? '' : `, ${engine.layout}`}`,
    order?.kind === 'firing-order' ? `firing order ${order.order.map((each) => each.value).join('-')}` : undefined,
    engine.rotation === undefined ? undefined : `turns ${engine.rotation}, seen from the front`,
  ];
  const said = facts.filter((each) => each !== undefined).join('; ');
  return said === '' ? '' : `${said}.`;
}

function Heading({
  view,
  said,
  title,
  engineNumber,
}: {
  view: BuiltView;
  said: readonly Statement[];
  title: string;
  engineNumber: string;
}) {
  const revision = said.find((each) => each.word === 'revision');
  const spec = view.specs[0]?.declaration;
  const name = spec?.name?.text;
  const facts = [
    name === undefined ? undefined : name,
    revision?.kind === 'number' ? `revision ${revision.number.text}` : undefined,
    view.variant === undefined ? undefined : `variant ${view.variant}`,
    spec?.extends === undefined ? undefined : `built on ${spec.extends.text}`,
  ].filter((each) => each !== undefined);
  return (
    <header>
      <p class="kind">Bench sheet</p>
      <h1>{title}</h1>
      {facts.length === 0 ? null : <p>{facts.join(' · ')}</p>}
      {view.draft ? <p class="draft">DRAFT: not finished, not to build from</p> : null}
      <p class="engine">{engineText(view.engine)}</p>
      <p class="sign">
        {engineNumber === '' ? (
          <Blank label="engine number" wide />
        ) : (
          <strong class="number-of">engine number {engineNumber}</strong>
        )}
        <Blank label="job" wide />
        <Blank label="begun on" />
      </p>
    </header>
  );
}

function Cautions({ errors }: { errors: number }) {
  return (
    <>
      {errors === 0 ? null : (
        <p class="caution">
          <strong>
            This spec has {errors} {errors === 1 ? 'contradiction' : 'contradictions'}.
          </strong>{' '}
          Have it checked and put right before work begins.
        </p>
      )}
      <div class="first">
        <p>
          <strong>The maker's manual, local rules and licensed practice come first.</strong> A figure that was worked
          out here is a check, not an instruction. Wear eye protection; support what is heavy; never run an engine
          indoors unless the exhaust is led outside.
        </p>
        <p class="label">
          Left, right, clockwise and clock positions are as seen from the front of the engine, sump down, whatever way
          up it hangs. Ring gaps are seen from above, 0 toward the front, clockwise.
        </p>
      </div>
    </>
  );
}

function begins(job: Job): string {
  const how = job.begins?.how;
  if (how === 'after') return job.begins?.sequence === undefined ? '' : `Begins after ${job.begins.sequence}.`;
  return how === undefined ? '' : `Begins on a ${how === 'whole' ? 'whole engine' : 'bare engine'}.`;
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

/** How the engine stands at each step; nothing where there is no plan to follow. */
function standsOf(chapter: Chapter, view: View, file: string): ReadonlyMap<Step, StepStands> {
  const plan = plansOf(view, file).find((each) => each.job === chapter.job);
  return plan === undefined ? new Map() : standsInPlan(view, file, plan);
}

interface ChapterProps {
  readonly chapter: Chapter;
  readonly view: BuiltView;
  readonly number: number;
  readonly file: string;
}

function ChapterPart({ chapter, view, number, file }: ChapterProps) {
  const { job, sequences } = chapter;
  const tight = tightenedBefore(sequences, view);
  const scope = jobScope(sequences, view, job === undefined || job.begins?.how === 'bare');
  const stands = standsOf(chapter, view, file);
  const numbers = new Map(
    sequences.flatMap((sequence, i) => sequence.steps.map((step, j) => [step, `${i + 1}.${j + 1}`] as const)),
  );
  return (
    <div class={`chapter ${pageName(number)}${number === 0 ? '' : ' next'}`}>
      {job === undefined ? null : (
        <>
          <h2>Job: {job.title ?? spaced(job.name)}</h2>
          <p class="label">{begins(job)}</p>
          {job.conditions.map((text) => (
            <p class="mind" key={text.start}>
              <Boxes /> Before the job: {text.value}
            </p>
          ))}
        </>
      )}
      <LayOut sequences={sequences} view={view} />
      {sequences.map((sequence, i) => (
        <section key={sequence.name}>
          <h3>
            {i + 1}. {sequence.title ?? spaced(sequence.name)}
            {sequence.phase === undefined ? null : <span class="label"> {sequence.phase}</span>}
          </h3>
          {sequence.startsWith.length === 0 ? null : (
            <p class="label">
              On the stand before the first step: {sequence.startsWith.map((name) => named(name.text, view)).join(', ')}
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
      {followOnOf(job).map((text) => (
        <p class="mind" key={text}>
          <Boxes /> After the job: {text}
        </p>
      ))}
      <LimitTable view={view} scope={scope} numbers={numbers} />
      <GradeTables view={view} scope={scope} />
      <FastenerTable view={view} scope={scope} />
      <PartTable view={view} scope={scope} />
      <Sources view={view} scope={scope} />
      <p class="sign">
        <Blank label="finished by" wide />
        <Blank label="signature" wide />
        <Blank label="date" />
      </p>
    </div>
  );
}

/** What is to be done when the job is done. */
function followOnOf(job: Job | undefined): readonly string[] {
  return (job?.followOn ?? []).flatMap((each) => [
    ...each.names.map((name) => spaced(name.text)),
    ...(each.text === undefined ? [] : [each.text.value]),
  ]);
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
      <h3>Sources</h3>
      <dl>
        {names.map((name) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{listed.get(name) ?? 'cited, but listed nowhere in this spec'}</dd>
          </div>
        ))}
      </dl>
    </section>
  );
}

/** What stands at the head of each printed page of a chapter. */
function headText(view: BuiltView, chapter: Chapter): string {
  const said = statementsFor(view.specs[0]?.declaration.body?.statements, view.variant);
  const revision = said.find((each) => each.word === 'revision');
  return [
    titleOf(view),
    revision?.kind === 'number' ? `revision ${revision.number.text}` : '',
    view.variant ?? '',
    chapter.job === undefined ? '' : (chapter.job.title ?? spaced(chapter.job.name)),
  ]
    .filter((each) => each !== '')
    .join(', ');
}

/** The rules by which the pages of each job say what they belong to. */
export function pageRules(view: BuiltView, options: SheetOptions): string {
  const chapters = chaptersOf(view, options);
  const [first] = chapters;
  const rest = chapters.map(
    (chapter, i) =>
      `${printedMargins(headText(view, chapter), pageName(i))}.${pageName(i)} { page: ${pageName(i)}; }\n`,
  );
  return first === undefined
    ? printedMargins(titleOf(view))
    : `${printedMargins(headText(view, first))}body { page: ${pageName(0)}; }\n${rest.join('')}`;
}

/** The title of the spec of a view. */
function titleOf(view: BuiltView): string {
  const spec = view.specs[0]?.declaration;
  return spec?.title?.value ?? (spec?.name === undefined ? 'Engine build' : spaced(spec.name.text));
}

/** All of the sheet of one variant, as elements. */
export function SheetBody({
  view,
  options,
  engineNumber,
}: {
  view: BuiltView;
  options: SheetOptions;
  engineNumber?: string;
}) {
  const said = statementsFor(view.specs[0]?.declaration.body?.statements, view.variant);
  return (
    <>
      <Heading view={view} said={said} title={titleOf(view)} engineNumber={engineNumber ?? ''} />
      <main>
        <Cautions errors={options.errors} />
        <Telling.Provider value={options.tell}>
          {chaptersOf(view, options).map((chapter, i) => (
            <ChapterPart chapter={chapter} view={view} number={i} file={options.file} key={chapter.job?.name ?? ''} />
          ))}
        </Telling.Provider>
      </main>
    </>
  );
}

/** The page of one variant, as HTML that needs nothing else. */
export function sheetPage(view: BuiltView, options: SheetOptions): string {
  const page = (
    <html lang="en">
      <head>
        <meta charset="utf-8" />
        <meta
          http-equiv="Content-Security-Policy"
          content="default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'"
        />
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <title>{`Bench sheet: ${titleOf(view)}`}</title>
        <style dangerouslySetInnerHTML={{ __html: `${STYLE}${pageRules(view, options)}` }} />
      </head>
      <body>
        <SheetBody view={view} options={options} />
      </body>
    </html>
  );
  return `<!DOCTYPE html>\n${render(page)}\n`;
}
