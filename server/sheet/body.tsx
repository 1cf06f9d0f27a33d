// The bench sheet of one variant as elements: its head and its jobs. The file round it is made in page.tsx, and by the bench page.

import { spoken } from '../../grammar/spoken.ts';
import { told } from '../../grammar/told.ts';
import type { Statement } from '../../grammar/tree.ts';
import type { BuiltView } from '../model/build-view.ts';
import type { Tell } from '../model/derived-origin.ts';
import { statementsFor } from '../model/placed.ts';
import type { Engine, Step, View } from '../model/view.ts';
import { layoutWords } from '../pictures/words.ts';
import { type Plan, plansOf } from '../rehearsal/plan.ts';
import type { StepStands } from '../rehearsal/stands.ts';
import { type Chapter, ChapterPart } from './chapter.tsx';
import { Blank, spaced, Telling } from './pieces.tsx';
import { pageName, printedMargins } from './printed-margins.ts';

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

/** Gives how the engine stands at each step of a plan. */
export type StandsOf = (plan: Plan) => ReadonlyMap<Step, StepStands>;

/** The jobs of the file, each with its sequences in the order of the work; without a job, all sequences. */
function chaptersOf(view: View, { file, job }: SheetOptions): readonly Chapter[] {
  const plans = plansOf(view, file).filter((plan) => job === undefined || plan.job?.name === job);
  if (plans.length > 0) return plans;
  return view.sequences.length === 0 ? [] : [{ job: undefined, sequences: view.sequences }];
}

function standsAt(chapter: Chapter, view: View, file: string, standsOf: StandsOf): ReadonlyMap<Step, StepStands> {
  const plan = plansOf(view, file).find((each) => each.job === chapter.job);
  return plan === undefined ? new Map() : standsOf(plan);
}

/** `4 cylinders, inline; firing order 1-3-4-2; turns clockwise, seen from the front`. */
export function engineFacts(engine: Engine | undefined): string {
  if (engine === undefined) return '';
  const order = engine.statements.find((each) => each.kind === 'firing-order');
  const layout = engine.layout === undefined ? '' : `, ${layoutWords(engine.layout)}`;
  const facts = [
    engine.cylinders === undefined ? undefined : spoken`${engine.cylinders} cylinders${layout}`,
    order?.kind === 'firing-order'
      ? spoken`firing order ${order.order.map((each) => each.value).join('-')}`
      : undefined,
    engine.rotation === undefined ? undefined : spoken`turns ${told.term(engine.rotation)}, seen from the front`,
  ];
  return facts.filter((each) => each !== undefined).join('; ');
}

function engineText(engine: Engine | undefined): string {
  const facts = engineFacts(engine);
  return facts === '' ? '' : `${facts}.`;
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
    revision?.kind === 'number' ? spoken`revision ${revision.number.text}` : undefined,
    view.variant === undefined ? undefined : spoken`variant ${view.variant}`,
    spec?.extends === undefined ? undefined : spoken`built on ${spec.extends.text}`,
  ].filter((each) => each !== undefined);
  return (
    <header>
      <p class="kind">{spoken`Bench sheet`}</p>
      <h1>{title}</h1>
      {facts.length === 0 ? null : <p>{facts.join(' · ')}</p>}
      {view.draft ? <p class="draft">{spoken`DRAFT: not finished, not to build from`}</p> : null}
      <p class="engine">{engineText(view.engine)}</p>
      <p class="sign">
        {engineNumber === '' ? (
          <Blank label={spoken`engine number`} wide />
        ) : (
          <strong class="number-of">{spoken`engine number ${engineNumber}`}</strong>
        )}
        <Blank label={spoken`job number`} wide />
        <Blank label={spoken`begun on`} />
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
            {errors === 1
              ? spoken`This spec has ${errors} contradiction.`
              : spoken`This spec has ${errors} contradictions.`}
          </strong>{' '}
          {spoken`Have it checked and put right before work begins.`}
        </p>
      )}
      <div class="first">
        <p>
          <strong>{spoken`The maker's manual, local rules and licensed practice come first.`}</strong>{' '}
          {spoken`A figure that was worked out here is a check, not an instruction. Wear eye protection; support what is heavy; never run an engine indoors unless the exhaust is led outside.`}
        </p>
        <p class="label">
          {spoken`Left, right, clockwise and clock positions are as seen from the front of the engine, sump down, whatever way up it hangs. Ring gaps are seen from above, 0 toward the front, clockwise.`}
        </p>
      </div>
    </>
  );
}

/** What stands at the head of each printed page of a chapter. */
function headText(view: BuiltView, chapter: Chapter): string {
  const said = statementsFor(view.specs[0]?.declaration.body?.statements, view.variant);
  const revision = said.find((each) => each.word === 'revision');
  return [
    titleOf(view),
    revision?.kind === 'number' ? spoken`revision ${revision.number.text}` : '',
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
export function titleOf(view: BuiltView): string {
  const spec = view.specs[0]?.declaration;
  return spec?.title?.value ?? (spec?.name === undefined ? spoken`Engine build` : spaced(spec.name.text));
}

/** All of the sheet of one variant, as elements. */
export function SheetBody({
  view,
  options,
  standsOf,
  engineNumber,
}: {
  view: BuiltView;
  options: SheetOptions;
  standsOf: StandsOf;
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
            <ChapterPart
              chapter={chapter}
              view={view}
              number={i}
              stands={standsAt(chapter, view, options.file, standsOf)}
              key={chapter.job?.name ?? ''}
            />
          ))}
        </Telling.Provider>
      </main>
    </>
  );
}
