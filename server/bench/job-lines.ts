// The lines of a step: what is done, measured and minded, each statement in plain words.

import { isEnglish, speak, spoken } from '../../grammar/spoken.ts';
import { told } from '../../grammar/told.ts';
import type { Action, Statement } from '../../grammar/tree.ts';
import type { Drive, Fastener, Limit, Step, View } from '../model/view.ts';
import { boltLayout } from '../pictures/tightening-order.tsx';
import { isOf } from '../pictures/words.ts';
import { secondsOf } from '../rehearsal/curing.ts';
import { referenceText, valueText } from '../sheet/action-text.ts';
import { limitText } from '../sheet/bounds.ts';
import { sourceText } from '../sheet/figures.ts';
import { ON_ORDER } from '../sheet/fitting-notes.tsx';
import { degreedOf, partNotes } from '../sheet/part-notes.ts';
import { spaced } from '../sheet/pieces.tsx';
import { allOf, named, plainAction, seeText } from '../sheet/plain-words.ts';
import type { TightenedBefore } from '../sheet/tightened-before.ts';
import { saidTightening } from '../sheet/tightening-said.ts';
import type { BenchLine, DoLine } from './bench-job.ts';
import { placesOfAction } from './job-places.ts';
import { gradesIn, limitNamed } from './worked-on.ts';

/** Tables of grades that something which is fitted is chosen from. */
function gradesOf(statement: Statement, view: View): readonly string[] {
  if (statement.kind !== 'action' || statement.word !== 'fit') return [];
  return gradesIn(new Set(statement.targets.map((target) => target.owner.text)), view).map((table) => table.name);
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
            note === speak(ON_ORDER) ? spoken`${note}: not here yet` : spacedFirst(note),
          );
    return several
      ? said.map(
          (text) =>
            `${spaced(named(target.owner.text, view))}: ${isEnglish() ? text.charAt(0).toLowerCase() : text.charAt(0)}${text.slice(1)}`,
        )
      : said;
  });
}

/** Where the marks of a drive stand when it is put together or proved. */
function driveMinds(statement: Statement, view: View): readonly string[] {
  const names =
    statement.kind === 'confirm'
      ? [statement.target.owner.text]
      : statement.kind === 'action' && statement.word === 'align'
        ? targetsOf(statement)
        : [];
  return names.flatMap((name) => {
    const drive = view.things.get(name);
    if (drive?.kind !== 'drive') return [];
    const byLinks = statement.kind !== 'confirm' || statement.by?.word === 'links';
    return [
      ...strokeMinds(drive),
      ...degreedOf(statement, drive, view),
      ...wheelsOf(drive).flatMap((wheel) => markMinds(wheel, view)),
      ...(byLinks ? linkMinds(drive, view) : []),
      ...(byLinks || drive.markedLinks.length === 0
        ? []
        : [spoken`The marked links have moved on: the marks on the wheels count`]),
    ];
  });
}

function wheelsOf(drive: Drive): readonly string[] {
  return [
    ...new Set([
      ...drive.wraps.flatMap((wrap) => wrap.wheels.map((wheel) => wheel.part)),
      ...drive.meshes.flatMap((mesh) => [mesh.first, mesh.second]),
    ]),
  ];
}

function strokeMinds({ marksAgree }: Drive): readonly string[] {
  if (marksAgree === undefined) return [];
  const { cylinder, stroke } = marksAgree;
  return [
    stroke === undefined
      ? spoken`Cylinder ${cylinder} at top dead centre`
      : spoken`Cylinder ${cylinder} at top dead centre on ${told.term(stroke)}`,
  ];
}

function markMinds(wheel: string, view: View): readonly string[] {
  const part = view.things.get(wheel);
  if (part?.kind !== 'part') return [];
  return [...part.marks.values()].flatMap((mark) => {
    const where =
      mark.against !== undefined
        ? spoken`against ${referenceText(mark.against)}`
        : mark.at === undefined
          ? undefined
          : spoken`at ${valueText(mark.at)}`;
    return where === undefined ? [] : [spaced(`${spoken`${mark.name} of the ${named(wheel, view)}`} ${where}`)];
  });
}

function linkMinds(drive: Drive, view: View): readonly string[] {
  return drive.markedLinks.map((each) => {
    const part = spoken`the ${named(each.part, view)}`;
    const at = each.mark === undefined ? part : isOf(each.mark, part);
    const links = allOf(each.links);
    return spaced(each.eitherSide ? spoken`link ${links} either side of ${at}` : spoken`link ${links} at ${at}`);
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

/** A line before it has its number. */
type Line = BenchLine extends infer line ? (line extends BenchLine ? Omit<line, 'key'> : never) : never;

/** What a step is read as: its place by place, and how tight each bolt is by then. */
interface Reading {
  readonly step: Step;
  readonly view: View;
  readonly tight: TightenedBefore;
}

/** The lines of a step, numbered from 1. */
export function linesOf(step: Step, view: View, tight: TightenedBefore): readonly BenchLine[] {
  return step.statements
    .flatMap((statement) => linesOfStatement(statement, { step, view, tight }))
    .map((line, i) => ({ key: String(i + 1), ...line }));
}

function linesOfStatement(statement: Statement, reading: Reading): readonly Line[] {
  const { step, view } = reading;
  const words = wordsAlone(statement);
  const text = plainAction(statement, view, step.each !== undefined);
  if (text === undefined) return words;
  const limits = targetsOf(statement).flatMap((name) => limitNamed(name, view));
  if (statement.kind === 'action' && statement.word === 'measure' && limits.length > 0)
    return [...words, ...limits.map((limit) => measureLine(limit, statement, view))];
  const fasteners = targetsOf(statement).flatMap((name) => fastenerNamed(name, view));
  if (statement.kind === 'action' && statement.word === 'tighten' && fasteners.length > 0)
    return [...words, ...fasteners.map((fastener) => tightenLine(fastener, fasteners.length, statement, reading))];
  return [...words, doLine(statement, text, limits, reading)];
}

/** What is said and not done: a note, a hold point, where to look. */
function wordsAlone(statement: Statement): readonly Line[] {
  if (statement.kind === 'text' && statement.word === 'note') return [{ kind: 'note', text: statement.text.value }];
  if (statement.kind === 'text' && statement.word === 'hold-point')
    return [{ kind: 'hold', text: statement.text.value }];
  return statement.kind === 'see' ? [{ kind: 'note', text: seeText(statement) }] : [];
}

function targetsOf(statement: Statement): readonly string[] {
  return statement.kind === 'action' ? statement.targets.map((target) => target.owner.text) : [];
}

function fastenerNamed(name: string, view: View): readonly Fastener[] {
  const thing = view.things.get(name);
  return thing?.kind === 'fastener' ? [thing] : [];
}

function measureLine(limit: Limit, action: Action, view: View): Line {
  return {
    kind: 'measure',
    text: spacedFirst(spoken`Measure the ${named(limit.name, view)}`),
    limit: limit.name,
    tool: action.withText?.value,
    otherwise: [...(action.otherwise ?? limit.otherwise)].map((each) => each.value),
  };
}

/** The tightening of one fastener, which is one of `together` that the action names. */
function tightenLine(fastener: Fastener, together: number, action: Action, { step, view, tight }: Reading): Line {
  const isEach = step.each !== undefined;
  const said = saidTightening(
    fastener,
    action.stage?.value,
    tight.get(action)?.get(fastener.name) ?? { before: 0, isAgain: action.again === true },
  );
  const bolts = said.isAgain || isEach ? undefined : boltLayout(fastener, view);
  const own =
    together === 1
      ? action
      : { ...action, targets: action.targets.filter((target) => target.owner.text === fastener.name) };
  return {
    kind: 'do',
    text: plainAction(own, view, isEach) ?? plainAction(action, view, isEach) ?? '',
    minds: [...said.remarks.map(spacedFirst), whatItIs(fastener)].filter((each) => each !== ''),
    stages: said.stages,
    grades: [],
    places: [],
    bolts:
      bolts === undefined
        ? undefined
        : { sort: bolts.sort, width: bolts.width, height: bolts.height, places: bolts.places },
    clock: undefined,
  };
}

/** `M10x1.25, class 10.9, manual, page 12`: the thread, the class, and who says the torque. */
function whatItIs(fastener: Fastener): string {
  const torque = fastener.statements.find((each) => each.kind === 'torque');
  return [
    fastener.thread,
    fastener.strengthClass === undefined ? undefined : spoken`class ${fastener.strengthClass}`,
    sourceText(torque?.per),
  ]
    .filter((each) => each !== undefined && each !== '')
    .join(', ');
}

function doLine(statement: Statement, text: string, limits: readonly Limit[], { step, view }: Reading): Line {
  const bounds = limits.map((limit) => `${limit.title ?? spaced(limit.name)}: ${limitText(limit, view)}`);
  return {
    kind: 'do',
    text,
    minds: [...mindsOf(statement, view), ...driveMinds(statement, view), ...bounds],
    stages: [],
    grades: gradesOf(statement, view),
    places: statement.kind === 'action' ? placesOfAction(statement, step, view) : [],
    bolts: undefined,
    clock: clockOf(statement, view),
  };
}

/** The first letter large; the rest as it is. */
function spacedFirst(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
