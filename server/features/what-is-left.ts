// What is done after the building steps have put all back: what they leave open, and the engine run, looked at for leaks and tightened
// again, with the statements that the spec has for it.
import { type Argument, told } from '../../grammar/told.ts';
import type { Statement } from '../../grammar/tree.ts';
import type { Fastener, Sequence, Step, View } from '../model/view.ts';
import {
  type BackStep,
  type Concern,
  concernedLines,
  concernOf,
  type Done,
  type PutBack,
  textOf,
  wordsFor,
} from './put-back.ts';
import { type Reached, wholeBuild } from './reach.ts';

/** Parts that no step fits, fasteners that none tightens, drives that none proves, tensioners that none lets go. */
export function whatIsLeft(reached: Reached, view: View, { done, pins }: PutBack): readonly BackStep[] {
  const about = concernOf(reached, view);
  const fits = [...about.off].filter((name) => !done.fitted.has(name)).reverse();
  const bolts = [...about.undone.keys()].filter((name) => !done.tightened.has(name));
  const drives = [...about.drives].filter((name) => !done.proved.has(name));
  const turns = view.engine?.cycle === 'two-stroke' ? '1 turn' : '2 turns';
  const single = [...fits, ...bolts].filter((name) => {
    const thing = view.things.get(name);
    return (thing?.kind === 'part' || thing?.kind === 'fastener') && thing.singleUse && !done.renewed.has(name);
  });
  const held = reached.holdBack.map(({ name }) => name).filter((name) => !done.released.has(name));
  const pinned = pins.flatMap(({ names }) => names).filter((name) => !done.unpinned.has(name));
  const secured = [...fits, ...bolts].filter((name) => {
    const thing = view.things.get(name);
    return (thing?.kind === 'part' || thing?.kind === 'fastener') && thing.securedBy !== undefined;
  });
  const lines = [
    ...(single.length === 0 ? [] : [`renew ${single.map((name) => wordsFor(name, about)).join(', ')}`]),
    ...fits.map((name) => `fit ${wordsFor(name, about)}`),
    ...bolts.map((name) => `tighten ${wordsFor(name, about)}`),
    ...secured.map((name) => `secure ${wordsFor(name, about)}`),
    ...held.map((name) => `release ${name}`),
    ...pinned.map((name) => `unpin ${name}`),
    ...(about.crankshaft === undefined
      ? []
      : drives.flatMap((name) => [`rotate ${about.crankshaft} ${turns}`, `confirm ${name} by marks`])),
  ];
  const connected = reached.disconnect.map(({ name }) => `connect ${name}`);
  return [
    ...(lines.length === 0 ? [] : [{ name: 'the-rest', head: '', lines }]),
    ...(connected.length === 0 ? [] : [{ name: 'connect-up', head: '', lines: connected }]),
  ];
}

const REMARKS = ['tool', 'caution', 'note', 'hold-point'];

function runInSteps(view: View, file: string): readonly Step[] {
  const own = wholeBuild(view, file).filter(({ phase }) => phase === 'run-in');
  const all: readonly Sequence[] = own.length > 0 ? own : view.sequences.filter(({ phase }) => phase === 'run-in');
  return all.flatMap(({ steps }) => steps);
}

function isAction(statement: Statement, ...words: readonly string[]): boolean {
  return statement.kind === 'action' && words.includes(statement.word);
}

/** Whether a step tightens one of these again. */
function tightensAgain(step: Step, fasteners: readonly Fastener[]): boolean {
  return step.statements.some(
    (each) =>
      each.kind === 'action' &&
      each.word === 'tighten' &&
      each.targets.some(({ owner }) => fasteners.some(({ name }) => name === owner.text)),
  );
}

function remarksOf(step: Step): readonly string[] {
  return step.statements
    .filter((each) => REMARKS.includes(each.word))
    .map((each) => textOf(step, each.start, each.end));
}

/** The first run of the engine, as the spec has it, with what it fills in for it. */
function runStep(steps: readonly Step[], done: Done, about: Concern): readonly BackStep[] {
  const step = steps.find((each) => each.statements.some(({ kind }) => kind === 'run'));
  const run = step?.statements.find(({ kind }) => kind === 'run');
  if (step === undefined || run === undefined) return [];
  const isFilled = [...about.drained].every((name) => done.filled.has(name));
  const filling = isFilled
    ? []
    : steps
        .slice(0, steps.indexOf(step) + 1)
        .flatMap((each) => concernedLines(each, ['fill', 'bleed', 'prime'], about, (name) => done.filled.has(name)));
  const lines = [
    ...done.waits.map((time) => `wait ${time}`),
    ...filling,
    textOf(step, run.start, run.end),
    ...remarksOf(step),
  ];
  return [{ name: step.name, head: '', lines }];
}

/** What is looked at for leaks, of what has been off. */
function leakLines(steps: readonly Step[], about: Concern): readonly string[] {
  return steps.flatMap((step) =>
    step.statements.flatMap((statement) => {
      if (statement.kind !== 'action' || statement.word !== 'inspect') return [];
      const targets = statement.targets.filter(
        ({ owner }) => about.off.has(owner.text) || about.drained.has(owner.text),
      );
      if (targets.length === 0) return [];
      const last = Math.max(...statement.targets.map(({ end }) => end));
      return [`inspect ${targets.map(({ owner }) => owner.text).join(', ')}${textOf(step, last, statement.end)}`];
    }),
  );
}

/** The waits between the last run and a step, where it has none of its own. */
function coolingBefore(steps: readonly Step[], step: Step): readonly string[] {
  const waits: string[] = [];
  for (const each of steps.slice(0, steps.indexOf(step)))
    for (const statement of each.statements) {
      if (statement.kind === 'run') waits.length = 0;
      if (statement.kind === 'wait') waits.push(textOf(each, statement.start, statement.end));
    }
  return step.statements.some(({ kind }) => kind === 'wait') ? [] : waits;
}

/** The step that tightens again, without the oil change that may stand in it; what it takes off to get there goes back in it. */
function retorqueSteps(steps: readonly Step[], about: Concern): readonly BackStep[] {
  const { retorque } = about.reached;
  return steps
    .filter((step) => tightensAgain(step, retorque))
    .map((step) => ({
      name: step.name,
      head: '',
      lines: [
        ...coolingBefore(steps, step),
        ...step.statements.flatMap((each) => {
          if (isAction(each, 'drain', 'fill', 'prime')) return [];
          if (each.kind === 'action' && each.word === 'tighten') {
            const isOther = each.targets.every(({ owner }) => {
              const thing = about.view.things.get(owner.text);
              return (
                thing?.kind === 'fastener' &&
                thing.statements.some(({ kind }) => kind === 'retorque') &&
                !retorque.includes(thing)
              );
            });
            if (isOther) return [];
            const targets = each.targets.filter(({ owner }) => {
              const thing = about.view.things.get(owner.text);
              return (
                thing?.kind !== 'fastener' ||
                !thing.statements.some(({ kind }) => kind === 'retorque') ||
                retorque.includes(thing)
              );
            });
            const last = Math.max(...each.targets.map(({ end }) => end));
            return [
              `tighten ${targets.map(({ start, end }) => textOf(step, start, end)).join(', ')}${textOf(step, last, each.end)}`,
            ];
          }
          return ['action', 'wait', 'run', 'set', 'rotate', 'confirm'].includes(each.kind) ||
            REMARKS.includes(each.word)
            ? [textOf(step, each.start, each.end)]
            : [];
        }),
      ],
    }));
}

/** After which run a fastener is tightened again. */
export function againAfter(fastener: Fastener): Argument {
  const again = fastener.statements.find((each) => each.kind === 'retorque');
  return again?.kind === 'retorque' ? (again.after?.value ?? told`the first run`) : told`the first run`;
}

/** The run, the look for leaks and the tightening again; nothing where none of it is called for or the spec never runs the engine. */
export function afterIt(reached: Reached, view: View, file: string, { done }: PutBack): readonly BackStep[] {
  const { drives, drain, mayLeak, retorque } = reached;
  if (drives.length + drain.length + mayLeak.length + retorque.length === 0) return [];
  const about = concernOf(reached, view);
  const steps = runInSteps(view, file);
  const run = runStep(steps, done, about);
  if (run.length === 0) return [];
  const leaks = leakLines(steps, about);
  return [
    ...run,
    ...(leaks.length === 0 ? [] : [{ name: 'leak-check', head: '', lines: leaks }]),
    ...retorqueSteps(steps, about),
  ];
}
