// What to mind at a part when something is done to it, as the sheet and the bench page say it: when it goes on, is held back, secured, looked
// at. Words alone.

import { lookUp } from '../../grammar/look-up.ts';
import { spoken } from '../../grammar/spoken.ts';
import { told } from '../../grammar/told.ts';
import type { Action, Statement } from '../../grammar/tree.ts';
import type { ActionWord } from '../../grammar/vocabulary.ts';
import { heldBackWith } from '../model/job-lists.ts';
import type { Drive, Part, ValveTiming, View } from '../model/view.ts';
import { valueText } from './action-text.ts';
import { fittingNotes } from './fitting-notes.tsx';

/** Its sizes that have a wear limit, new and worn: what a used one is held against. */
function wearNotes(part: Part): readonly string[] {
  const note = (name: string, statement: Statement): readonly string[] => {
    const said =
      statement.kind === 'dimension' || statement.kind === 'figure' || statement.kind === 'value'
        ? statement
        : undefined;
    if (said?.wearLimit === undefined) return [];
    return [spoken`${name} ${valueText(said.value)}, wear limit ${valueText(said.wearLimit)}`];
  };
  const nameOf = (statement: Statement): string =>
    statement.kind === 'dimension' || statement.kind === 'figure'
      ? statement.name.text.replace(/[-_]/g, ' ')
      : statement.word;
  return part.statements.flatMap((each) =>
    each.kind === 'size'
      ? (each.body?.statements ?? []).flatMap((own) => note(`${each.name.text}: ${nameOf(own)}`, own))
      : note(nameOf(each), each),
  );
}

/** When the valves of a camshaft open and close, how far, and where its phaser is parked: what a degree wheel is held against. */
function eventNotes(shaft: string, view: View): readonly string[] {
  return view.valveTimings.filter((timing) => timing.shaft === shaft).flatMap(notesOfTiming);
}

function notesOfTiming(timing: ValveTiming): readonly string[] {
  const text = ({ start, end }: { readonly start: number; readonly end: number }): string =>
    timing.placed.section.text.slice(start, end).replace(/\s+/g, ' ');
  return timing.statements.flatMap((each): readonly string[] => {
    switch (each.kind) {
      case 'events':
      case 'phaser':
        return [text(each)];
      case 'value':
      case 'number':
        return ['lift', 'measured-at', 'rocker-ratio'].includes(each.word) ? [text(each).replace('-', ' ')] : [];
      default:
        return [];
    }
  });
}

/** The events that a drive is proved by, where it is proved with a degree wheel or a dial gauge. */
export function degreedOf(statement: Statement, drive: Drive, view: View): readonly string[] {
  if (statement.kind !== 'confirm' || !['degree-wheel', 'dial-gauge'].includes(statement.by?.word ?? '')) return [];
  const wheels = drive.wraps.flatMap((wrap) => wrap.wheels.map((wheel) => wheel.part));
  const all = [...wheels, ...drive.meshes.flatMap((mesh) => [mesh.first, mesh.second])];
  const shafts = new Set(
    all.flatMap((name) => {
      const part = view.things.get(name);
      return part?.kind === 'part' && part.fixedTo !== undefined ? [part.fixedTo] : [];
    }),
  );
  return [...shafts].flatMap((shaft) => eventNotes(shaft, view));
}

type Noted = (action: Action, part: Part, view: View) => readonly string[];

/** There is nothing of the part to mind then. */
const nothing: Noted = () => [];

const heldWith: Noted = (action, part, view) =>
  action.withText === undefined ? heldBackWith(view, part.name).map((text) => spoken`with ${text}`) : [];

const securedBy: Noted = (_action, part) =>
  part.securedBy === undefined ? [] : [spoken`by ${told.term(part.securedBy.replace('-', ' '))}`];

const fitted: Noted = (action, part, view) => [
  ...fittingNotes(
    part,
    view,
    action.targets.flatMap((target) => (target.owner.text === part.name ? target.places : [])),
  ),
  ...eventNotes(part.name, view),
];

const NOTED: Readonly<Record<ActionWord, Noted>> = {
  fit: fitted,
  inspect: (_action, part) => wearNotes(part),
  'hold-back': heldWith,
  secure: securedBy,
  'push-home': nothing,
  'line-up': nothing,
  remove: nothing,
  tighten: nothing,
  snug: nothing,
  loosen: nothing,
  renew: nothing,
  lubricate: nothing,
  seal: nothing,
  clean: nothing,
  measure: nothing,
  adjust: nothing,
  machine: nothing,
  release: nothing,
  pin: nothing,
  unpin: nothing,
  align: nothing,
  drain: nothing,
  fill: nothing,
  bleed: nothing,
  prime: nothing,
  connect: nothing,
  disconnect: nothing,
  plug: nothing,
  unplug: nothing,
  mask: nothing,
  unmask: nothing,
  support: nothing,
  lift: nothing,
};

/** What to mind at a part that an action names. */
export function partNotes(action: Action, part: Part, view: View): readonly string[] {
  return lookUp(NOTED, action.word)?.(action, part, view) ?? [];
}
