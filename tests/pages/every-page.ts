// All that is made of a spec to be looked at: sheets, the sheets of records, the bench page with each of its screens, pictures. Whoever asks names the
// language round it.
import { h, type VNode } from 'preact';
import { render } from 'preact-render-to-string';
import { IN_ENGLISH, type Rows } from '../../grammar/told.ts';
import type { BenchJob, BenchStep } from '../../server/bench/bench-job.ts';
import { noEntries, placesOf, stepsOf, tickKey, withDone, withStep, withTick } from '../../server/bench/entries.ts';
import { judge, specOf } from '../../server/bench/judge.ts';
import { benchJob } from '../../server/bench/make-job.ts';
import { benchPage } from '../../server/bench/page.tsx';
import { picturesAt } from '../../server/bench/step-pictures.tsx';
import type { Analysis } from '../../server/model/analysis.ts';
import type { BuiltView } from '../../server/model/build-view.ts';
import { namesFor, PICTURES, pictureOf } from '../../server/pictures/catalog.ts';
import { pictureFile } from '../../server/pictures/picture-file.tsx';
import { plansOf } from '../../server/rehearsal/plan.ts';
import { standsInPlan } from '../../server/rehearsal/stands.ts';
import { recordOf, sheetOf } from '../../server/workspace/sheet-of.ts';

export interface Page {
  readonly called: string;
  readonly html: string;
}

type Props = Readonly<Record<string, unknown>>;

/** A component of the page that runs in a browser, which the compiler knows with other types than the rest. */
export type Screen = (props: Props) => VNode;

async function screen(file: string, name: string): Promise<Screen> {
  const module = (await import(`../../server/bench-page/${file}.tsx`)) as Readonly<Record<string, Screen>>;
  const found = module[name];
  if (found === undefined) throw new Error(`no ${name} in ${file}`);
  return found;
}

/** What the screens share. */
async function shared(file: string): Promise<Screen> {
  const module = (await import(`../../server/bench-page/${file}.ts`)) as {
    readonly BenchContext: { readonly Provider: Screen };
  };
  return module.BenchContext.Provider;
}

/** Every screen of the bench page, and what stands round it. */
export interface Screens {
  readonly StartView: Screen;
  readonly StepView: Screen;
  readonly Overview: Screen;
  readonly RecordView: Screen;
  readonly App: Screen;
  readonly Bench: Screen;
}

export async function readScreens(): Promise<Screens> {
  return {
    StartView: await screen('start-view', 'StartView'),
    StepView: await screen('step-view', 'StepView'),
    Overview: await screen('overview', 'Overview'),
    RecordView: await screen('record-view', 'RecordView'),
    App: await screen('app', 'App'),
    Bench: await shared('context'),
  };
}

const PROGRAM = { first: '', rest: '' };

/** Values of all kinds: inside, outside, a slip of the pen, no number. */
function measuredOf(job: BenchJob): ReadonlyMap<string, ReadonlyMap<string, object>> {
  const text = (limit: BenchJob['limits'][number], i: number): string => {
    const first = /[\d.]+/.exec(limit.within)?.[0] ?? '1';
    const number = [first, '99', first.includes('.') ? first.replace('.', '') : `${first}0`][i % 3] ?? first;
    return `${number} ${limit.units[0] ?? ''}`.trim();
  };
  return new Map(
    job.limits.map((limit, at) => [
      limit.name,
      new Map(
        (limit.places.length === 0 ? [''] : limit.places).map((place, i) => [
          place,
          { text: text(limit, at + i), on: '2026-01-02', by: 'P. B.', with: undefined },
        ]),
      ),
    ]),
  );
}

/** The screens of a job as they are drawn: with nothing entered, and with all of it. */
function screensOf(job: BenchJob, screens: Screens): readonly Page[] {
  const view = specOf(job);
  const reader = { picturesAt, judge };
  const empty = noEntries(job);
  let full: ReturnType<typeof noEntries> = {
    ...empty,
    measured: measuredOf(job) as typeof empty.measured,
    clocks: new Map(stepsOf(job).flatMap((step) => step.lines.map((line) => [`${step.name} ${line.key}`, Date.now()]))),
    signed: { by: 'P. B.', on: '2026-01-02' },
  };
  for (const [i, step] of stepsOf(job).entries()) {
    const [place = ''] = placesOf(step);
    if (i % 4 === 1) full = withStep(full, step.name, { deviation: '§' });
    for (const line of step.lines.slice(0, 1)) full = withTick(full, step, line, place, tickKey(place, line.key), true);
    const looked = step.lines.flatMap((line) =>
      line.kind === 'hold' ? [[tickKey(place, line.key), { by: '§', at: { day: '§', time: '1:00' } }] as const] : [],
    );
    full = withStep(full, step.name, { looked: new Map(looked) });
    if (i % 3 === 0) full = withDone(full, step, place, { day: '§', time: '§' });
  }
  const at = { text: '§', open: () => 0, rename: () => 0, another: () => 0, print: () => 0, go: () => 0 };
  const none = () => undefined;
  const kept = [{ engine: '', entries: full, at: 0, step: 0, place: '' }];
  const pages: Page[] = [
    { called: 'start', html: render(h(screens.StartView, { job, kept, begin: none, goOn: none, open: none })) },
    {
      called: 'app',
      html: render(
        h(screens.App, {
          job,
          shelf: { get: none, put: () => true, remove: none, keys: () => [] },
          panel: { say: none, listen: none },
          paper: undefined,
          read: () => new Promise(none),
        }),
      ),
    },
  ];
  for (const [called, entries] of [
    ['empty', empty],
    ['full', full],
  ] as const) {
    const bench = { job, entries, spec: { reader, view }, judgement: judge(entries, job, view), enter: none };
    const drawn = (of: Screen, props: Props): string =>
      render(h(screens.Bench, { value: bench }, h(of, props) as VNode));
    const stepOf = (step: BenchStep, i: number): Page => {
      const chapter = job.chapters.find((each) => each.steps.includes(step));
      const [place = ''] = placesOf(step);
      const props = { chapter, step, at: i, of: stepsOf(job).length, place, toPlace: none };
      return { called: `${called} ${step.name}`, html: drawn(screens.StepView, props) };
    };
    pages.push(
      { called: `${called} overview`, html: drawn(screens.Overview, { ...at, at: 0 }) },
      { called: `${called} record`, html: drawn(screens.RecordView, { ...at, isInPanel: false }) },
      { called: `${called} record in panel`, html: drawn(screens.RecordView, { ...at, isInPanel: true }) },
      ...stepsOf(job).map(stepOf),
    );
  }
  return pages;
}

function picturesOf(analysis: Analysis, view: BuiltView): readonly Page[] {
  const { views } = analysis;
  const drawn = PICTURES.flatMap((what) => {
    const names = namesFor(what, view);
    return (names.length === 0 ? [undefined] : names).flatMap((of) => {
      const made = pictureOf(what, { view, views, ...(of === undefined ? {} : { of }) });
      return made === undefined ? [] : [{ called: `${what} ${of ?? ''}`, html: pictureFile(made) }];
    });
  });
  const standing = plansOf(view, analysis.file.file).flatMap((plan) =>
    [...standsInPlan(view, analysis.file.file, plan)].flatMap(([step, stands]) =>
      (['timing-face', 'what-is-on'] as const).flatMap((what) => {
        const made = pictureOf(what, { view, stands });
        return made === undefined ? [] : [{ called: `${what} at ${step.name}`, html: pictureFile(made) }];
      }),
    ),
  );
  return [...drawn, ...standing];
}

/** All that is made of a spec in each of its variants. */
export function pagesOf(analysis: Analysis, screens: Screens, rows: Rows = IN_ENGLISH): readonly Page[] {
  const { file } = analysis.file;
  const texts = [analysis.file, ...analysis.used].map((each) => ({ file: each.file, text: each.text }));
  if (recordOf(analysis) !== undefined)
    return analysis.views.flatMap((view) =>
      [false, true].map((isForCustomer) => ({
        called: `record ${isForCustomer}`,
        html: sheetOf(analysis, view, { isForCustomer, rows }).html,
      })),
    );
  return analysis.views.flatMap((view) => [
    ...plansOf(view, file).flatMap((plan): readonly Page[] => {
      const job = plan.job?.name;
      const made = benchJob(view, { file, use: file, errors: 2, texts, ...(job === undefined ? {} : { job }) });
      const called = `${view.variant ?? ''} ${job ?? ''}`;
      return [
        { called: `${called} sheet`, html: sheetOf(analysis, view, { job, rows }).html },
        ...(made === undefined
          ? []
          : [
              { called: `${called} bench page`, html: benchPage(made, PROGRAM) },
              ...screensOf(made, screens).map((each) => ({ ...each, called: `${called} ${each.called}` })),
            ]),
      ];
    }),
    ...picturesOf(analysis, view).map((each) => ({ ...each, called: `${view.variant ?? ''} ${each.called}` })),
  ]);
}
