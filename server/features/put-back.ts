// The statements of a spec that put back what has come off: taken from its building steps, cut down to what is concerned.
import { lookUp } from '../../grammar/look-up.ts';
import type { Action, Reference, Statement } from '../../grammar/tree.ts';
import type { Fastener, Step, View } from '../model/view.ts';
import { partsAndShafts } from './drive-parts.ts';
import { buildingSequences, type Reached } from './reach.ts';

/** A step as text: the lines of its statements, and what stands between its name and its brace. */
export interface BackStep {
  readonly name: string;
  readonly head: string;
  readonly lines: readonly string[];
}

export interface PutBack {
  readonly steps: readonly BackStep[];
  /** Parts that go on, and so come off, in one action. */
  readonly together: readonly (readonly string[])[];
  /** Held-back parts that some step lets go again. */
  readonly released: ReadonlySet<string>;
  /** Shafts that stay on and are held by a pin while the drive is off. */
  readonly pinned: readonly string[];
}

export function stepText({ name, head, lines }: BackStep): string {
  return `step ${name}${head === '' ? '' : ` ${head}`} {\n${lines.map((line) => `${line}\n`).join('')}}\n`;
}

interface Concern {
  readonly off: ReadonlySet<string>;
  readonly undone: ReadonlyMap<string, Fastener>;
  readonly drives: ReadonlySet<string>;
  readonly turning: ReadonlySet<string>;
  readonly limits: ReadonlySet<string>;
  readonly drained: ReadonlySet<string>;
  readonly heldBack: ReadonlySet<string>;
}

function concernOf(reached: Reached, view: View): Concern {
  const named = (things: readonly { readonly name: string }[]): ReadonlySet<string> =>
    new Set(things.map((thing) => thing.name));
  return {
    off: named(reached.off.map((each) => each.part)),
    undone: new Map(reached.off.flatMap((each) => each.undo.map((fastener) => [fastener.name, fastener] as const))),
    drives: named(reached.drives),
    turning: partsAndShafts(reached.drives, view),
    limits: named(reached.limits),
    drained: named(reached.drain),
    heldBack: named(reached.holdBack),
  };
}

/** Words whose targets are kept one by one, by whether each of them is concerned. */
function isConcerned(word: string, name: string, about: Concern): boolean | undefined {
  switch (word) {
    case 'fit':
    case 'lift':
    case 'support':
    case 'pin':
      return about.off.has(name);
    case 'tighten':
    case 'snug':
      return about.undone.has(name);
    case 'secure':
    case 'lubricate':
    case 'seal':
    case 'clean':
      return about.off.has(name) || about.undone.has(name);
    case 'hold-back':
      return about.heldBack.has(name) && about.off.has(name);
    case 'release':
      return about.heldBack.has(name);
    case 'align':
      return about.drives.has(name);
    case 'unpin':
      return about.turning.has(name);
    case 'measure':
    case 'adjust':
      return about.limits.has(name);
    case 'fill':
      return about.drained.has(name);
    case 'prime':
      return about.off.has(name);
    default:
      return undefined;
  }
}

function textOf(step: Step, start: number, end: number): string {
  return step.placed.section.text.slice(start, end);
}

/** An action with some of its targets alone; the rest as it is written. */
function withTargets(step: Step, action: Action, targets: readonly Reference[]): string {
  if (targets.length === action.targets.length) return textOf(step, action.start, action.end);
  const last = Math.max(...action.targets.map((target) => target.end));
  const names = targets.map((target) => textOf(step, target.start, target.end)).join(', ');
  const together = targets.length === 1 && action.together;
  const rest = textOf(step, last, action.end);
  return `${action.word} ${names}${together ? rest.replace(/\btogether\b/, '') : rest}`;
}

interface Kept {
  readonly text: string;
  readonly action: Action | undefined;
  readonly targets: readonly string[];
  readonly isSet: boolean;
}

/** What of a statement is work that has to be done again; undefined for nothing of it. */
function keep(step: Step, statement: Statement, about: Concern, order: Order): Kept | undefined {
  const whole = {
    text: textOf(step, statement.start, statement.end),
    action: undefined,
    targets: [],
    isSet: statement.kind === 'set',
  };
  if (statement.kind === 'set') return about.turning.has(statement.shaft.text) ? whole : undefined;
  if (statement.kind === 'confirm') {
    const name = statement.target.owner.text;
    return about.drives.has(name) || (statement.at !== undefined && about.turning.has(name)) ? whole : undefined;
  }
  if (statement.kind === 'rotate') {
    const proves = step.statements.some((each) => each.kind === 'confirm' && about.drives.has(each.target.owner.text));
    return proves ? whole : undefined;
  }
  if (statement.kind !== 'action') return undefined;
  const targets = statement.targets.filter(
    (target) => isConcerned(statement.word, target.owner.text, about) === true && order.isLast(statement, target),
  );
  if (targets.length === 0) return undefined;
  return {
    text: withTargets(step, statement, targets),
    action: statement,
    targets: targets.map((target) => target.owner.text),
    isSet: false,
  };
}

interface Order {
  /** Whether nothing later in the build undoes what an action does to a target. */
  isLast(action: Action, target: Reference): boolean;
}

const UNDOES: Readonly<Record<string, string>> = { fit: 'remove', tighten: 'loosen', snug: 'loosen' };

/** Of what is put on or tightened more than once, only what comes after it last came off counts. */
function orderOf(steps: readonly Step[]): Order {
  const places = new Map<Action, number>();
  const undone = new Map<string, number>();
  for (const step of steps)
    for (const statement of step.statements)
      if (statement.kind === 'action') {
        places.set(statement, places.size);
        if (statement.word === 'remove' || statement.word === 'loosen')
          for (const target of statement.targets) undone.set(`${statement.word} ${target.owner.text}`, places.size - 1);
      }
  return {
    isLast(action, target) {
      const by = lookUp(UNDOES, action.word);
      const last = by === undefined ? undefined : undone.get(`${by} ${target.owner.text}`);
      return last === undefined || last < (places.get(action) ?? 0);
    },
  };
}

/** Single-use things that a step is the first to put back. */
function renewed(kept: readonly Kept[], view: View, done: Set<string>): readonly string[] {
  const names = kept.flatMap(({ action, targets }) =>
    action?.word === 'fit' || action?.word === 'tighten' ? targets : [],
  );
  const fresh = [...new Set(names)].filter((name) => {
    const thing = view.things.get(name);
    return (thing?.kind === 'part' || thing?.kind === 'fastener') && thing.singleUse && !done.has(name);
  });
  for (const name of fresh) done.add(name);
  return fresh.length === 0 ? [] : [`renew ${fresh.join(', ')}`];
}

/** How long the sealants of some seals cure, as it is written. */
function curing(kept: readonly Kept[], view: View): readonly string[] {
  return kept.flatMap(({ action }) => {
    const supply = action?.word === 'seal' ? view.things.get(action.with?.owner.text ?? '') : undefined;
    if (supply?.kind !== 'supply' || supply.cure === undefined) return [];
    return [supply.placed.section.text.slice(supply.cure.start, supply.cure.end)];
  });
}

const REMARKS = ['tool', 'caution', 'note', 'hold-point'];

function headOf(step: Step): string {
  const { title, each } = step.declaration;
  return [title, each]
    .map((span) => (span === undefined ? '' : textOf(step, span.start, span.end)))
    .map((text, i) => (text !== '' && i === 1 && !text.startsWith('each') ? `each ${text}` : text))
    .filter((text) => text !== '')
    .join(' ');
}

/** Everything that puts back what has come off, in the order in which the spec does it. */
export function putBack(reached: Reached, view: View, file: string): PutBack {
  const about = concernOf(reached, view);
  const building = buildingSequences(view, file)
    .flatMap((sequence) => sequence.steps)
    .filter((step) => !step.trial);
  const order = orderOf(building);
  const renewedBefore = new Set<string>();
  const waits: string[] = [];
  const done = { fitted: new Set<string>(), tightened: new Set<string>(), proved: new Set<string>() };
  const steps: BackStep[] = [];
  for (const step of building) {
    const kept = step.statements.flatMap((statement) => keep(step, statement, about, order) ?? []);
    if (kept.length === 0) continue;
    // A dead centre that is set for other work, after the drives are proved.
    if (kept.every(({ isSet }) => isSet) && done.proved.size >= about.drives.size) continue;
    waits.push(...curing(kept, view));
    const fills = kept.some(({ action }) => action?.word === 'fill');
    const remarks = step.statements.filter((each) => REMARKS.includes(each.word));
    steps.push({
      name: step.name,
      head: headOf(step),
      lines: [
        ...(fills ? waits.splice(0).map((time) => `wait ${time}`) : []),
        ...renewed(kept, view, renewedBefore),
        ...kept.map(({ text }) => text),
        ...remarks.map((each) => textOf(step, each.start, each.end)),
      ],
    });
    for (const { action, targets } of kept) {
      if (action?.word === 'fit') for (const name of targets) done.fitted.add(name);
      if (action?.word === 'tighten') for (const name of targets) done.tightened.add(name);
    }
    for (const each of step.statements)
      if (each.kind === 'confirm' && about.drives.has(each.target.owner.text)) done.proved.add(each.target.owner.text);
  }
  return {
    steps: [...steps, ...rest(about, done, view)],
    together: togetherOf(building, about),
    released: wordTargets(building, 'release'),
    pinned: [...wordTargets(building, 'pin')].filter((name) => about.turning.has(name) && !about.off.has(name)),
  };
}

/** What the building steps leave open: parts that stood there, fasteners that they do not tighten, drives that they do not prove. */
function rest(
  about: Concern,
  done: {
    readonly fitted: ReadonlySet<string>;
    readonly tightened: ReadonlySet<string>;
    readonly proved: ReadonlySet<string>;
  },
  view: View,
): readonly BackStep[] {
  const fits = [...about.off].filter((name) => !done.fitted.has(name)).reverse();
  const bolts = [...about.undone.keys()].filter((name) => !done.tightened.has(name));
  const drives = [...about.drives].filter((name) => !done.proved.has(name));
  const turns = view.engine?.cycle === 'two-stroke' ? '1 turn' : '2 turns';
  const single = [...fits, ...bolts].filter((name) => {
    const thing = view.things.get(name);
    return (thing?.kind === 'part' || thing?.kind === 'fastener') && thing.singleUse;
  });
  const lines = [
    ...(single.length === 0 ? [] : [`renew ${single.join(', ')}`]),
    ...fits.map((name) => `fit ${name}`),
    ...bolts.map((name) => `tighten ${name}`),
    ...drives.flatMap((name) => [`rotate crankshaft ${turns}`, `confirm ${name} by marks`]),
  ];
  return lines.length === 0 ? [] : [{ name: 'the-rest', head: '', lines }];
}

function actionsIn(steps: readonly Step[]): readonly Action[] {
  return steps.flatMap((step) => step.statements.flatMap((each) => (each.kind === 'action' ? [each] : [])));
}

function togetherOf(steps: readonly Step[], about: Concern): readonly (readonly string[])[] {
  return actionsIn(steps)
    .filter((action) => action.word === 'fit' && action.together)
    .map((action) => action.targets.map((target) => target.owner.text).filter((name) => about.off.has(name)))
    .filter((names) => names.length > 1);
}

function wordTargets(steps: readonly Step[], word: string): ReadonlySet<string> {
  return new Set(
    actionsIn(steps)
      .filter((action) => action.word === word)
      .flatMap((action) => action.targets.map((target) => target.owner.text)),
  );
}
