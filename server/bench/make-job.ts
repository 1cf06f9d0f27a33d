// Makes the plain data of a job from a view of its spec: every step in plain words, what is ticked in it, measured and looked at.
import { leavesOf } from '../../grammar/terms.ts';
import type { Action, Statement } from '../../grammar/tree.ts';
import { otherSystem, unitText } from '../mechanics/units.ts';
import type { BuiltView } from '../model/build-view.ts';
import { placesOfLimit } from '../model/expression.ts';
import { allPlaces } from '../model/feature-places.ts';
import { boundsOf, placeText, workOutLimit } from '../model/limit-sums.ts';
import { takesIn } from '../model/measure.ts';
import { statementsFor } from '../model/placed.ts';
import type { Engine, Grades, Limit, Part, Sequence, Step, View } from '../model/view.ts';
import { drivesOfStep } from '../pictures/catalog.ts';
import { ringGaps } from '../pictures/ring-gaps.tsx';
import { boltLayout } from '../pictures/tightening-order.tsx';
import { waysRound } from '../pictures/way-round.tsx';
import { secondsOf } from '../rehearsal/curing.ts';
import { type Plan, plansOf } from '../rehearsal/plan.ts';
import { type Stands, standsInPlan } from '../rehearsal/stands.ts';
import { referenceText, valueText } from '../sheet/action-text.ts';
import { boundsByPlace, boundsSaid, limitText, NO_BOUNDS } from '../sheet/bounds.ts';
import { sourceText } from '../sheet/figures.ts';
import { ON_ORDER } from '../sheet/fitting-notes.tsx';
import { toLayOut } from '../sheet/lay-out.tsx';
import { degreedOf, partNotes } from '../sheet/part-notes.ts';
import { spaced } from '../sheet/pieces.tsx';
import { beginsText, followOnOf, named, phaseWords, plainAction, seeText } from '../sheet/plain-words.ts';
import { type TightenedBefore, tightenedBefore } from '../sheet/tightened-before.ts';
import { saidTightening } from '../sheet/tightening-said.ts';
import { stepCautions } from '../sheet/usual-cautions.ts';
import type {
  BenchChapter,
  BenchJob,
  BenchLimit,
  BenchLine,
  BenchPicture,
  BenchStep,
  DoLine,
  StandsChange,
} from './bench-job.ts';

/** More places than these are not ticked one by one. */
const MOST_PLACES = 24;

/** What the page is made from, besides the view. */
export interface JobQuestion {
  /** The address of the file whose job it is. */
  readonly file: string;
  readonly job?: string;
  /** How a record beside the spec names the file. */
  readonly use: string;
  readonly errors: number;
  /** The spec and what it uses, each as its file has it. */
  readonly texts: readonly { readonly file: string; readonly text: string }[];
}

/** The plan of a view that a page is for: the job that is named, else the first. */
function planFor(view: View, { file, job }: Pick<JobQuestion, 'file' | 'job'>): Plan | undefined {
  const plans = plansOf(view, file);
  return job === undefined ? plans[0] : plans.find((plan) => plan.job?.name === job);
}

function placesOfPart(
  part: Part,
  feature: string | undefined,
  only: readonly Parameters<typeof takesIn>[0][],
): readonly string[] {
  const all = allPlaces(part, feature);
  const own = only.length === 0 ? all : all.filter((place) => only.some((written) => takesIn(written, place)));
  if (own.length < 2 || own.length > MOST_PLACES) return [];
  return own.map(({ name, number }) => {
    const isAlone = name !== undefined && all.filter((other) => other.name === name).length === 1;
    return name === undefined ? String(number) : isAlone ? name : `${name} ${number}`;
  });
}

function placesOfStep(step: Step, view: View): readonly string[] {
  const part = step.each === undefined ? undefined : view.things.get(step.each.owner.text);
  return part?.kind !== 'part' ? [] : placesOfPart(part, step.each?.feature?.text, step.each?.places ?? []);
}

/** An action on one part with several places is ticked at each, unless its step is done place by place. */
function placesOfAction(action: Action, step: Step, view: View): readonly string[] {
  const [target] = action.targets;
  if (step.each !== undefined || target === undefined || action.targets.length > 1 || action.word === 'tighten')
    return [];
  const part = view.things.get(target.owner.text);
  return part?.kind !== 'part' ? [] : placesOfPart(part, target.feature?.text, target.places);
}

function mindsOf(statement: Statement, view: View): readonly string[] {
  if (statement.kind !== 'action') return [];
  const several = statement.targets.length > 1;
  return statement.targets.flatMap((target) => {
    const thing = view.things.get(target.owner.text);
    const said =
      thing?.kind !== 'part'
        ? []
        : partNotes(statement, thing, view).map((note) =>
            note === ON_ORDER ? `${note}: not here yet` : spacedFirst(note),
          );
    return several
      ? said.map((text) => `${spaced(named(target.owner.text, view))}: ${text.charAt(0).toLowerCase()}${text.slice(1)}`)
      : said;
  });
}

/** Tables of grades that something which is fitted is chosen from. */
function gradesOf(statement: Statement, view: View): readonly string[] {
  if (statement.kind !== 'action' || statement.word !== 'fit') return [];
  return gradesIn(new Set(statement.targets.map((target) => target.owner.text)), view).map((table) => table.name);
}

/** The tables that are among some names, themselves or by one of their rows. */
function gradesIn(names: ReadonlySet<string>, view: View): readonly Grades[] {
  return view.grades.filter((table) => names.has(table.name) || table.rows.some((row) => names.has(row.name.text)));
}

/** Whether a table goes by something that is measured among some names, or that comes out of it. */
function isChosenBy(table: Grades, names: ReadonlySet<string>, view: View): boolean {
  const by = table.by?.owner.text;
  const limit = view.limits.find((each) => each.name === by);
  return (
    (by !== undefined && names.has(by)) ||
    leavesOf(limit?.expression).some((leaf) => leaf.kind === 'reference' && names.has(leaf.reference.owner.text))
  );
}

/** What some steps put in or machine, what they measure, and the parts that it is measured at. */
function workedOn(steps: readonly Step[], view: View): ReadonlySet<string> {
  const names = new Set<string>();
  const hasSizes = (name: string): boolean => {
    const thing = view.things.get(name);
    return thing?.kind === 'part' && thing.sizes.size > 0;
  };
  for (const each of steps.flatMap((step) => step.statements)) {
    if (each.kind !== 'action' || !['fit', 'machine', 'measure'].includes(each.word)) continue;
    const targets = each.targets.map((target) => target.owner.text);
    for (const name of targets) names.add(name);
    // The block goes with its pistons: it was bored for them.
    if (each.word === 'fit' && each.mate !== undefined && targets.some(hasSizes))
      names.add(each.mate.reference.owner.text);
    for (const limit of each.word === 'measure' ? targets.flatMap((name) => limitNamed(name, view)) : []) {
      for (const of of [limit.each, limit.of]) if (of !== undefined) names.add(of.owner.text);
      for (const leaf of leavesOf(limit.expression))
        if (leaf.kind === 'reference') names.add(leaf.reference.owner.text);
    }
  }
  return names;
}

/** Where the marks of a drive stand when it is put together or proved. */
function driveMinds(statement: Statement, view: View): readonly string[] {
  const names =
    statement.kind === 'confirm'
      ? [statement.target.owner.text]
      : statement.kind === 'action' && statement.word === 'align'
        ? statement.targets.map((target) => target.owner.text)
        : [];
  return names.flatMap((name) => {
    const drive = view.things.get(name);
    if (drive?.kind !== 'drive') return [];
    const wheels = [
      ...new Set([
        ...drive.wraps.flatMap((wrap) => wrap.wheels.map((wheel) => wheel.part)),
        ...drive.meshes.flatMap((mesh) => [mesh.first, mesh.second]),
      ]),
    ];
    const marks = wheels.flatMap((wheel) => {
      const part = view.things.get(wheel);
      return part?.kind !== 'part'
        ? []
        : [...part.marks.values()].flatMap((mark) => {
            const where =
              mark.against !== undefined
                ? `against ${referenceText(mark.against)}`
                : mark.at === undefined
                  ? undefined
                  : `at ${valueText(mark.at)}`;
            return where === undefined ? [] : [`${mark.name} of the ${named(wheel, view)} ${where}`];
          });
    });
    const byLinks = statement.kind !== 'confirm' || statement.by?.word === 'links';
    const links = byLinks
      ? drive.markedLinks.map(
          (each) =>
            `link ${each.links.join(' and ')} ${each.eitherSide ? 'either side of' : 'at'} ${each.mark === undefined ? '' : `${each.mark} of `}the ${named(each.part, view)}`,
        )
      : [];
    const stroke = drive.marksAgree;
    const when =
      stroke === undefined
        ? []
        : [
            `Cylinder ${stroke.cylinder} at top dead centre${stroke.stroke === undefined ? '' : ` on ${stroke.stroke}`}`,
          ];
    return [
      ...when,
      ...degreedOf(statement, drive, view),
      ...[...marks, ...links].map(spaced),
      ...(byLinks || drive.markedLinks.length === 0
        ? []
        : ['The marked links have moved on: the marks on the wheels count']),
    ];
  });
}

function clockOf(statement: Statement, view: View): DoLine['clock'] {
  if (statement.kind === 'wait') {
    const seconds = secondsOf(statement.time);
    return seconds === undefined ? undefined : { what: 'wait', seconds, of: '' };
  }
  if (statement.kind === 'run') {
    const seconds = secondsOf(statement.for);
    return seconds === undefined ? undefined : { what: 'run', seconds, of: '' };
  }
  if (statement.kind !== 'action' || statement.with === undefined) return undefined;
  const supply = view.things.get(statement.with.owner.text);
  if (supply?.kind !== 'supply') return undefined;
  const seconds = secondsOf(supply.cure);
  return seconds === undefined ? undefined : { what: 'cure', seconds, of: named(supply.name, view) };
}

function linesOf(step: Step, view: View, tight: TightenedBefore): readonly BenchLine[] {
  const lines: BenchLine[] = [];
  const one = step.each !== undefined;
  for (const statement of step.statements) {
    const key = String(lines.length + 1);
    if (statement.kind === 'text' && statement.word === 'note')
      lines.push({ kind: 'note', key, text: statement.text.value });
    else if (statement.kind === 'text' && statement.word === 'hold-point')
      lines.push({ kind: 'hold', key, text: statement.text.value });
    else if (statement.kind === 'see') lines.push({ kind: 'note', key, text: seeText(statement) });
    const text = plainAction(statement, view, one);
    if (text === undefined) continue;
    const limits =
      statement.kind === 'action' ? statement.targets.flatMap((target) => limitNamed(target.owner.text, view)) : [];
    if (statement.kind === 'action' && statement.word === 'measure' && limits.length > 0) {
      for (const limit of limits)
        lines.push({
          kind: 'measure',
          key: String(lines.length + 1),
          text: `Measure the ${named(limit.name, view)}`,
          limit: limit.name,
          tool: statement.withText?.value,
          otherwise: [...(statement.otherwise ?? limit.otherwise)].map((each) => each.value),
        });
      continue;
    }
    const fasteners =
      statement.kind === 'action' && statement.word === 'tighten'
        ? statement.targets.flatMap((target) => {
            const thing = view.things.get(target.owner.text);
            return thing?.kind === 'fastener' ? [thing] : [];
          })
        : [];
    if (statement.kind === 'action' && fasteners.length > 0) {
      for (const fastener of fasteners) {
        const said = saidTightening(
          fastener,
          statement.stage?.value,
          tight.get(statement)?.get(fastener.name) ?? { before: 0, isAgain: statement.again === true },
        );
        const bolts = said.isAgain || one ? undefined : boltLayout(fastener, view);
        const torque = fastener.statements.find((each) => each.kind === 'torque');
        const source = sourceText(torque?.per);
        const how = [
          fastener.thread,
          fastener.strengthClass === undefined ? undefined : `class ${fastener.strengthClass}`,
        ];
        lines.push({
          kind: 'do',
          key: String(lines.length + 1),
          text:
            fasteners.length === 1
              ? text
              : (plainAction(
                  { ...statement, targets: statement.targets.filter((each) => each.owner.text === fastener.name) },
                  view,
                  one,
                ) ?? text),
          minds: [
            ...said.remarks.map(spacedFirst),
            [...how.filter((each) => each !== undefined), ...(source === '' ? [] : [source])].join(', '),
          ].filter((each) => each !== ''),
          stages: said.stages,
          grades: [],
          places: [],
          bolts:
            bolts === undefined
              ? undefined
              : { sort: bolts.sort, width: bolts.width, height: bolts.height, places: bolts.places },
          clock: undefined,
        });
      }
      continue;
    }
    const bounds = limits.map((limit) => `${limit.title ?? spaced(limit.name)}: ${limitText(limit, view)}`);
    lines.push({
      kind: 'do',
      key: String(lines.length + 1),
      text,
      minds: [...mindsOf(statement, view), ...driveMinds(statement, view), ...bounds],
      stages: [],
      grades: gradesOf(statement, view),
      places: statement.kind === 'action' ? placesOfAction(statement, step, view) : [],
      bolts: undefined,
      clock: clockOf(statement, view),
    });
  }
  return lines;
}

/** The first letter large; the rest as it is. */
function spacedFirst(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

function limitNamed(name: string, view: View): readonly Limit[] {
  const thing = view.things.get(name);
  return thing?.kind === 'limit' ? [thing] : [];
}

function picturesOf(step: Step, view: View): readonly BenchPicture[] {
  const found: BenchPicture[] = [];
  const fitted = step.statements.flatMap((each) =>
    each.kind === 'action' && each.word === 'fit' ? each.targets.map((target) => target.owner.text) : [],
  );
  for (const name of drivesOfStep(step, view)) found.push({ what: 'timing-face', of: name });
  const gaps = new Set(ringGaps(view).map((gap) => gap.part));
  if (fitted.some((name) => gaps.has(name))) found.push({ what: 'ring-gaps', of: '1' });
  for (const name of new Set(fitted)) {
    const part = view.things.get(name);
    // What points to another part's feature is said in words.
    const isDrawn =
      part?.kind === 'part' &&
      waysRound(part).some((way) => way.arrow !== undefined || ['up', 'down'].includes(way.toward));
    if (isDrawn) found.push({ what: 'way-round', of: name });
  }
  if (step.statements.some((each) => each.kind === 'set' || each.kind === 'rotate') && found.length === 0)
    found.push({ what: 'engine-map' });
  found.push({ what: 'what-is-on' });
  return found;
}

function stepOf(step: Step, number: string, view: View, tight: TightenedBefore): BenchStep {
  const lines = linesOf(step, view, tight);
  return {
    name: step.name,
    number,
    title: step.title ?? spaced(step.name),
    places: placesOfStep(step, view),
    each:
      step.each === undefined
        ? undefined
        : `${named(step.each.owner.text, view)}${step.each.feature === undefined ? '' : ` ${step.each.feature.text.replace(/[-_]/g, ' ')}`}`,
    isTrial: step.trial,
    cautions: stepCautions(step, view),
    tools: step.statements.flatMap((each) => (each.kind === 'text' && each.word === 'tool' ? [each.text.value] : [])),
    lines,
    pictures: picturesOf(step, view),
  };
}

function chapterOf(sequence: Sequence, at: number, view: View, tight: TightenedBefore): BenchChapter {
  return {
    name: sequence.name,
    title: sequence.title ?? spaced(sequence.name),
    phase: sequence.phase === undefined ? undefined : phaseWords(sequence.phase),
    startsWith: sequence.startsWith.map((name) => named(name.text, view)),
    steps: sequence.steps.map((step, i) => stepOf(step, `${at + 1}.${i + 1}`, view, tight)),
  };
}

/** Units that a value may be entered in: that of the limit, and its like in the other system. */
function unitsOf(limit: Limit, view: View): readonly string[] {
  const value = limit.within ?? limit.wearLimit;
  const asked = placesOfLimit(limit, view)[0] ?? { index: 1, of: 1 };
  const bounds = value === undefined ? undefined : boundsOf(value, asked, view);
  const unit = bounds?.unit ?? workOutLimit(limit, view)[0]?.worked.unit ?? [];
  if (unit.length === 0) return [];
  const own = unitText(unit);
  const other = otherSystem(unit);
  const more = own === 'mm' ? ['um'] : own === 'in' ? ['thou'] : [];
  return [...new Set([own, ...more, ...(other === undefined ? [] : [unitText(other)])])];
}

function limitOf(limit: Limit, view: View): BenchLimit {
  const places = placesOfLimit(limit, view);
  const shown = places.length > 1 && places.length <= 64 ? places.map(placeText) : [];
  const { figure, rule } = boundsSaid(limit, view);
  const byPlace = boundsByPlace(limit, view);
  return {
    name: limit.name,
    title: limit.title ?? spaced(limit.name),
    within: figure === NO_BOUNDS ? '' : figure,
    rule,
    byPlace:
      shown.length > 0 && new Set(byPlace.map((each) => each.text)).size > 1
        ? byPlace.map((each) => each.text ?? '')
        : [],
    wear: limit.wearLimit === undefined ? '' : valueText(limit.wearLimit),
    source: sourceText(limit.placed.declaration.per),
    places: shown,
    units: unitsOf(limit, view),
    readings: limit.readings,
    isMeasured: limit.measured,
    working:
      limit.expression === undefined
        ? undefined
        : limit.placed.section.text.slice(limit.expression.start, limit.expression.end).replace(/\s+/g, ' '),
  };
}

function engineText(engine: Engine | undefined): string {
  if (engine === undefined) return '';
  const order = engine.statements.find((each) => each.kind === 'firing-order');
  return [
    engine.cylinders === undefined
      ? ''
      : `${engine.cylinders} cylinders${engine.layout === undefined ? '' : `, ${engine.layout}`}`,
    order?.kind === 'firing-order' ? `firing order ${order.order.map((each) => each.value).join('-')}` : '',
    engine.rotation === undefined ? '' : `turns ${engine.rotation}, seen from the front`,
  ]
    .filter((each) => each !== '')
    .join('; ');
}

/** What is otherwise than at the step before. */
function standsChanges(all: readonly Stands[]): readonly StandsChange[] {
  let last: Stands | undefined;
  return all.map((stands) => {
    const before = last;
    last = stands;
    const gone = [...(before?.coveredBy.keys() ?? [])].filter((name) => !stands.coveredBy.has(name));
    return {
      crank: stands.crank,
      drives: [...stands.drives].map(([name, each]) => ({
        name,
        whole: each.whole,
        turned: [...each.turned],
        links: each.links,
      })),
      on: [...stands.on].filter(([name, on]) => before?.on.get(name) !== on),
      coveredBy: [
        ...[...stands.coveredBy].filter(([name, cover]) => before?.coveredBy.get(name) !== cover),
        ...gone.map((name) => [name, ''] as const),
      ],
      heldBack: [...stands.heldBack],
      pinned: [...stands.pinned],
    };
  });
}

/** The job as the page shows it; undefined where the view has none of that name. */
export function benchJob(view: BuiltView, question: JobQuestion): BenchJob | undefined {
  const plan = planFor(view, question);
  if (plan === undefined) return undefined;
  const spec = view.specs[0]?.declaration;
  const said = statementsFor(spec?.body?.statements, view.variant);
  const revision = said.find((each) => each.kind === 'number' && each.word === 'revision');
  const tight = tightenedBefore(plan.sequences, view);
  const steps = plan.sequences.flatMap((sequence) => sequence.steps);
  const stands = standsInPlan(view, question.file, plan);
  const first = steps[0] === undefined ? undefined : stands.get(steps[0])?.before;
  const following = steps.flatMap((step) => stands.get(step)?.after ?? []);
  const limits = view.limits.filter((limit) => view.things.get(limit.name) === limit);
  const touched = workedOn(steps, view);
  return {
    spec: spec?.name?.text ?? '',
    title: spec?.title?.value ?? (spec?.name === undefined ? 'Engine build' : spaced(spec.name.text)),
    revision: revision?.kind === 'number' ? Number(revision.number.text) : undefined,
    variant: view.variant,
    job: plan.job === undefined ? undefined : { name: plan.job.name, title: plan.job.title ?? spaced(plan.job.name) },
    begins: plan.job === undefined ? '' : beginsText(plan.job, view),
    conditions: (plan.job?.conditions ?? []).map((text) => text.value),
    followOn: followOnOf(plan.job, view),
    use: question.use,
    isDraft: view.draft,
    errors: question.errors,
    engine: engineText(view.engine),
    layOut: toLayOut(plan.sequences, view),
    chapters: plan.sequences.map((sequence, i) => chapterOf(sequence, i, view, tight)),
    limits: limits.map((limit) => limitOf(limit, view)),
    // Only of what goes in with this work: who changes a belt is not asked for the size of the crankshaft.
    sizes: view.parts.flatMap((part) =>
      part.sizes.size === 0 || !touched.has(part.name)
        ? []
        : [{ part: part.name, title: part.title ?? spaced(part.name), sizes: [...part.sizes.keys()] }],
    ),
    grades: view.grades
      .filter((table) => gradesIn(touched, view).includes(table) || isChosenBy(table, touched, view))
      .map((table) => ({
        name: table.name,
        title: table.title ?? spaced(table.name),
        by: table.by?.owner.text,
        rows: table.rows.map((row) => row.name.text),
      })),
    texts: question.texts,
    stands: standsChanges(first === undefined ? following : [first, ...following]),
  };
}
