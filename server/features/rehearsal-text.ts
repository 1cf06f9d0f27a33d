// The rehearsal of a job as plain data: each step, what its actions change, and what is found there. How it is shown is decided by
// whoever asks; places are offsets.
import { lookUp } from '../../grammar/look-up.ts';
import { type Argument, type Told, told } from '../../grammar/told.ts';
import type { Statement } from '../../grammar/tree.ts';
import type { ActionWord } from '../../grammar/vocabulary.ts';
import type { Finding } from '../model/finding.ts';
import { type Placed, placeOf } from '../model/placed.ts';
import type { View } from '../model/view.ts';
import type { StandsNow } from '../rehearsal/standing.ts';
import { type Trace, type TracedStep, traces } from '../rehearsal/trace.ts';

export interface ToldAction {
  /** As it is written in the spec, on one line. */
  readonly text: string;
  readonly file: string;
  readonly start: number;
  readonly end: number;
  readonly changes: readonly Told[];
  /** Those of them that say more than the action itself does. */
  readonly more: readonly Told[];
  readonly findings: readonly Finding[];
}

export interface ToldStep {
  readonly sequence: string;
  readonly step: string;
  readonly title: string | undefined;
  readonly times: number;
  /** What is to be laid out, what can hurt, what is to be noted, where work stops until someone has looked. */
  readonly tools: readonly string[];
  readonly cautions: readonly string[];
  readonly notes: readonly string[];
  readonly holdPoints: readonly string[];
  readonly actions: readonly ToldAction[];
  /** How the engine stands when it is done. */
  readonly stands: StandsNow;
}

export interface ToldJob {
  /** Undefined for the sequences of a file without a job. */
  readonly job: string | undefined;
  readonly title: string | undefined;
  readonly begins: 'whole' | 'bare' | 'unknown';
  readonly steps: readonly ToldStep[];
}

function written(placed: Placed, start: number, end: number): string {
  return placed.section.text.slice(start, end).replace(/\s+/g, ' ').trim();
}

/** What is so once an action is done, as its own word says already. */
const SAYS_ITSELF: Readonly<Record<ActionWord, readonly string[]>> = {
  fit: ['on'],
  remove: ['off'],
  tighten: ['tight'],
  snug: ['snug'],
  loosen: ['loose'],
  secure: ['secured'],
  'hold-back': ['held back'],
  release: ['let go'],
  pin: ['pinned'],
  plug: ['plugged'],
  unplug: ['open again'],
  mask: ['masked'],
  unmask: ['bare again'],
  drain: ['drained'],
  fill: ['filled', 'in'],
  prime: ['primed'],
  connect: ['connected'],
  disconnect: ['disconnected'],
  'push-home': [],
  'line-up': [],
  renew: [],
  lubricate: [],
  seal: [],
  clean: [],
  inspect: [],
  measure: [],
  adjust: [],
  machine: [],
  unpin: [],
  align: [],
  bleed: [],
  support: [],
  lift: [],
};

/** Whether a change is what the action says, of what it names: `sump: on` after `fit sump onto block`. */
function saysItself(statement: Statement, change: string): boolean {
  const said = lookUp(SAYS_ITSELF, statement.word) ?? [];
  const [thing = '', state = ''] = change.split(/: (?=[^:]*$)/);
  // Where the crankshaft stands, and what is to be proved, is told once, when the step is done.
  if (statement.kind === 'set' || state === 'to be proved') return true;
  if (!said.includes(state)) return false;
  if (statement.kind !== 'action') return false;
  // Oil is in once it is filled in, the oil system primed once its pump is.
  if (thing === 'oil' || thing === 'the oil system') return true;
  return statement.targets.some(
    ({ owner }) =>
      thing === owner.text || (/^[ .]/.test(thing.slice(owner.text.length)) && thing.startsWith(owner.text)),
  );
}

const textsOf = (statements: readonly Statement[], word: string): readonly string[] =>
  statements.flatMap((each) => (each.kind === 'text' && each.word === word ? [each.text.value] : []));

/** The cautions of a step: its own, and those of the parts and bolts that it works on. */
function cautionsOf(view: View, { step, sequence }: TracedStep): readonly string[] {
  const worked = step.statements.flatMap((each) =>
    each.kind === 'action' ? each.targets.flatMap(({ owner }) => view.things.get(owner.text) ?? []) : [],
  );
  const first = sequence.steps[0] === step ? textsOf(sequence.statements, 'caution') : [];
  const all = [...first, ...textsOf(step.statements, 'caution')];
  for (const thing of worked) if ('statements' in thing) all.push(...textsOf(thing.statements, 'caution'));
  return [...new Set(all)];
}

function toldStep(view: View, traced: TracedStep, findings: readonly Finding[]): ToldStep {
  const { sequence, step, times, actions, stands } = traced;
  return {
    sequence: sequence.name,
    step: step.name,
    title: step.title,
    times,
    tools: textsOf(step.statements, 'tool'),
    cautions: cautionsOf(view, traced),
    notes: textsOf(step.statements, 'note'),
    holdPoints: textsOf(step.statements, 'hold-point'),
    stands,
    actions: actions.map(({ statement, changes }) => {
      const at = placeOf(step.placed, statement);
      const here = findings.filter(
        (finding) => finding.file === at.file && finding.start >= at.start && finding.start < at.end,
      );
      return {
        text: written(step.placed, statement.start, statement.end),
        ...at,
        changes,
        more: changes.filter((change) => !saysItself(statement, change.text)),
        findings: here,
      };
    }),
  };
}

function toldJob(view: View, { plan, steps }: Trace, findings: readonly Finding[]): ToldJob {
  return {
    job: plan.job?.name,
    title: plan.job?.title,
    begins: plan.begins,
    steps: steps.map((step) => toldStep(view, step, findings)),
  };
}

/** The jobs of a file told step by step, with the findings that stand at each action; one job alone where it is asked for. */
export function tellRehearsal(
  view: View,
  file: string,
  findings: readonly Finding[],
  job?: string,
): readonly ToldJob[] {
  return traces(view, file)
    .filter(({ plan }) => job === undefined || plan.job?.name === job)
    .map((trace) => toldJob(view, trace, findings));
}

const BEGINS = {
  whole: told`a whole engine`,
  bare: told`a bare engine`,
  unknown: told`an engine that other sequences have begun`,
};

const INDENT = '     ';

/** What a list has that another lacks: what is new after a step. */
const newIn = (now: readonly Told[], before: readonly Told[]): readonly Told[] =>
  now.filter((each) => !before.some((other) => other.text === each.text));

/** What stands otherwise after a step than before it: shafts and marks, what is covered now, what is to be proved. */
function standsText(now: StandsNow, before: StandsNow | undefined): readonly Told[] {
  const turning = newIn(now.turning, before?.turning ?? []);
  const covered = newIn(now.covered, before?.covered ?? []);
  const toProve = now.toProve.filter((each) => before?.toProve.includes(each) !== true);
  const all = told.row(turning.flatMap((each, i) => (i === 0 ? [each] : ['; ', each])));
  return [
    ...(turning.length === 0 ? [] : [told`stands: ${all}`]),
    ...covered.map((each) => told`covered: ${each}`),
    ...(toProve.length === 0 ? [] : [told`to be proved: ${toProve.join(', ')}`]),
  ];
}

function stepText(step: ToldStep, number: number, before: StandsNow | undefined): Told {
  const labelled = (label: Told, texts: readonly string[]): readonly Argument[] =>
    texts.flatMap((each) => [INDENT, label, `: ${each.replace(/\s+/g, ' ')}\n`]);
  const actions = step.actions.flatMap(({ text, more, findings }): readonly Argument[] => [
    `${INDENT}${text}\n`,
    ...more.flatMap((change) => ['       -> ', change, '\n']),
    ...findings.flatMap((each) => [`       ${each.severity}: `, each.told, ` [${each.code}]\n`]),
  ]);
  const called = `${step.sequence}: ${step.title ?? step.step}`;
  return told.row([
    `\n${String(number).padStart(3)}. `,
    step.times > 1 ? told`${called}, ${step.times} times` : called,
    '\n',
    ...labelled(told`Caution`, step.cautions),
    ...labelled(told`Tool`, step.tools),
    ...actions,
    ...labelled(told`Note`, step.notes),
    ...labelled(told`Stop until someone has looked`, step.holdPoints),
    ...standsText(step.stands, before).flatMap((each) => [`${INDENT}[`, each, ']\n']),
  ]);
}

/** A job as text: an action a line, what more it changes behind an arrow, what is found there under it, and how the engine stands then. */
export function rehearsalText({ job, title, steps, begins }: ToldJob): Told {
  const called = job === undefined ? told`All sequences` : told`Job ${job}`;
  const last = steps.at(-1)?.stands.toProve ?? [];
  return told.row([
    told`${title === undefined ? called : told`${called}, ${title}`}, on ${BEGINS[begins]}`,
    '\n',
    ...steps.map((step, i) => stepText(step, i + 1, steps[i - 1]?.stands)),
    ...(last.length === 0 ? [] : ['\n', told`At the end still to be proved: ${last.join(', ')}`, '\n']),
  ]);
}
