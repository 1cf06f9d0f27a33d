// Every name that a declaration refers to, with the kinds of thing it may be. Gathered once for each text and cached.
import type { Parsed } from '../../grammar/parse.ts';
import type { Action, Orient, Reference, Span, Stage, Statement } from '../../grammar/tree.ts';
import { type Block, type NameKind, statementRow } from '../../grammar/vocabulary.ts';
import type { Placed } from './placed.ts';
import { blockOf } from './statements.ts';
import { type Around, Gatherer, type OfKind, type Uses } from './uses.ts';

type Names<kind extends Statement['kind']> = (statement: OfKind<kind>, gatherer: Gatherer, around: Around) => void;

/** Statements of this kind name nothing and hold no value. */
const nothing = (): void => {};

const supplied: ReadonlySet<string> = new Set(['lubricate', 'seal', 'fill']);

/** What each kind of statement names. */
const NAMED: { readonly [kind in Statement['kind']]: Names<kind> } = {
  broken: nothing,
  hole: nothing,
  flag: nothing,
  choice: nothing,
  number: nothing,
  text: nothing,
  source: nothing,
  cylinders: (each, at) => at.plainValue(each.angle),
  bank: nothing,
  'firing-order': nothing,
  thread: nothing,
  class: nothing,
  agreed: nothing,
  signed: nothing,
  drop: nothing,
  'marks-agree': nothing,
  per: nothing,
  see: (each, at) => at.sources.push(each.source),
  allow: (each, at, { covers }) => at.allows.push({ code: each.code, covers, span: each }),
  when: (each, at, { block }) => at.within(each.variants, () => gatherAll(each.body.statements, at, block, each.body)),
  names: (each, at, { kinds }) => {
    if (each.word === 'variant') at.variants.push(...each.names.map((name) => ({ name })));
    else if (kinds.length > 0) at.names(each.names, kinds);
  },
  value: (each, at) => {
    at.value(each.value);
    at.value(each.wearLimit);
  },
  crankpin: (each, at) => at.plainValue(each.angle),
  phaser: (each, at) => at.value(each.range),
  events: (each, at) => {
    at.plainValue(each.opens?.angle);
    at.plainValue(each.closes?.angle);
  },
  stated: (each, at) => at.value(each.value),
  dimension: (each, at) => {
    at.value(each.value);
    at.value(each.wearLimit);
  },
  figure: (each, at) => {
    at.value(each.value);
    at.value(each.wearLimit);
  },
  size: (each, at) => {
    at.value(each.step);
    if (each.body !== undefined) gatherAll(each.body.statements, at, 'size', each.body);
  },
  mark: (each, at) => {
    at.plainValue(each.at);
    at.reference(each.against, ['part']);
  },
  orient: (each, at) => {
    for (const rule of each.rules) namesOfRule(rule, at);
  },
  covers: (each, at, { kinds }) => {
    for (const reference of each.covered) at.reference(reference, reference.feature === undefined ? kinds : ['part']);
  },
  places: (each, at, { kinds }) => {
    for (const place of each.places) at.name(place.into, kinds);
  },
  reference: (each, at, { kinds }) => at.reference(each.reference, kinds),
  timed: (each, at) => at.plainValue(each.angle),
  into: (each, at, { kinds }) => at.reference(each.part, kinds),
  clamps: (each, at) => {
    at.references(each.clamped, ['part', 'grades']);
    at.reference(each.to, ['part', 'grades']);
  },
  each: (each, at) => {
    at.reference(each.of, ['part']);
    at.references(each.others ?? [], ['part']);
  },
  reuse: (each, at) => at.value(each.length),
  torque: (each, at) => {
    for (const stage of each.stages) valueOfStage(stage, at);
  },
  retorque: (each, at) => valueOfStage(each.stage, at),
  'draw-up': (each, at) => at.value(each.value),
  'tightening-order': (each, at) => {
    at.reference(each.each, ['part']);
    at.reference(each.over, ['part']);
    for (const { fastener } of each.with ?? []) at.name(fastener, ['fastener']);
  },
  grade: (each, at) => {
    at.value(each.value);
    for (const brought of each.brings ?? []) at.value(brought.value);
  },
  wrap: (each, at) => {
    at.name(each.part, ['part']);
    for (const wheel of each.wheels) at.name(wheel.name, ['part']);
  },
  mesh: (each, at) => at.names([each.first, each.second], ['part']),
  'ratio-of': (each, at) => at.names([each.first, each.second], ['part']),
  'centre-distance': (each, at) => {
    at.names([each.from, each.to], ['part']);
    at.value(each.value);
    at.plainValue(each.at);
  },
  'marked-link': (each, at) => at.reference(each.mark, ['part'], 'mark'),
  action: namesOfAction,
  set: (each, at) => {
    at.name(each.shaft, ['part'], each.mark === undefined ? {} : { feature: each.mark, wants: 'mark' });
    at.plainValue(each.at);
    at.plainValue(each.angle);
  },
  rotate: (each, at) => {
    at.name(each.shaft, ['part']);
    at.plainValue(each.amount);
  },
  confirm: (each, at) => {
    const isDrive = each.target.feature === undefined && each.at === undefined;
    at.reference(each.target, isDrive ? ['drive', 'part'] : ['part'], 'mark');
    at.plainValue(each.at);
  },
  run: (each, at) => {
    for (const value of [each.at, each.for, each.until]) at.value(value);
  },
  crank: (each, at) => {
    for (const value of [each.for, each.until]) at.value(value);
  },
  wait: (each, at) => at.value(each.time),
  'follow-on': (each, at, { kinds }) => at.names(each.names, kinds),
  begins: (each, at) => at.name(each.sequence, ['sequence']),
  'record-fitted': (each, at, { kinds }) => {
    at.reference(each.part, kinds);
    if (each.size !== undefined) at.name(each.part.owner, kinds, { feature: each.size, wants: 'size' });
  },
  found: (each, at, { kinds }) => at.reference(each.part, kinds),
  measured: (each, at) => {
    at.reference(each.limit, ['limit']);
    at.value(each.value);
  },
  done: (each, at) => at.reference(each.step, ['step']),
  witnessed: (each, at) => at.reference(each.step, ['step']),
  photo: (each, at) => at.reference(each.of, ['part']),
  log: (each, at) => {
    at.value(each.at);
    for (const reading of each.readings) {
      at.name(reading.name, ['limit'], { isFree: true });
      at.value(reading.value);
    }
  },
};

function valueOfStage(stage: Stage, at: Gatherer): void {
  at.value(stage.value);
}

function namesOfRule({ target, from, at: angle }: Orient['rules'][number], at: Gatherer): void {
  at.reference(target, ['part']);
  at.plainValue(angle);
  if (from?.feature !== undefined) at.reference(from, ['part']);
  else if (from !== undefined) at.ownFeature(from.owner);
}

function namesOfAction(action: Action, at: Gatherer, { kinds }: Around): void {
  let before: Reference | undefined;
  for (const target of action.targets) {
    at.reference(target, kinds, 'any', before?.owner);
    if (target.places.length > 0) before = target;
  }
  at.reference(action.mate?.reference, ['part', 'grades']);
  at.reference(action.with, supplied.has(action.word) ? ['supply'] : ['supply', 'part']);
  const only = action.targets[0];
  if (action.to !== undefined && only !== undefined)
    at.name(only.owner, ['part'], { feature: action.to, wants: 'size' });
  for (const value of [action.amount, action.at, action.partWay?.short]) at.value(value);
}

function gatherAll(statements: readonly Statement[], gatherer: Gatherer, block: Block, covers: Span): void {
  for (const each of statements) {
    gatherer.word = each.word;
    gatherer.source(each.per);
    const kinds = statementRow(block, each.word)?.refers ?? [];
    (NAMED[each.kind] as Names<typeof each.kind>)(each as never, gatherer, { block, covers, kinds });
  }
}

/** What the words before the braces name. */
function gatherHead(gatherer: Gatherer, isLimit: boolean): void {
  const { declaration } = gatherer;
  const { limit } = declaration;
  gatherer.source(declaration.per);
  gatherer.name(declaration.extends, ['spec']);
  // What a change names is the base's; an inserted step has a name of its own.
  if (declaration.changed !== undefined && declaration.word !== 'insert')
    gatherer.name(declaration.name, [declaration.changed.word as NameKind]);
  gatherer.name(declaration.beside?.step, ['step']);
  gatherer.reference(declaration.of, isLimit ? ['part'] : ['spec']);
  gatherer.name(declaration.on, ['part']);
  gatherer.reference(declaration.by, ['limit', 'part'], 'value');
  gatherer.reference(declaration.each, isLimit ? ['part', 'fastener'] : ['part']);
  gatherer.expression(limit?.expression);
  for (const value of [limit?.within, limit?.wearLimit, limit?.over, limit?.at]) gatherer.value(value);
  gatherer.reference(limit?.forEach?.of, ['part', 'limit'], 'value');
}

const cache = new WeakMap<Parsed, Uses>();

/** What a declaration refers to. Steps of a sequence refer for themselves. */
export function usesOf(placed: Placed): Uses {
  const known = cache.get(placed.parsed);
  if (known !== undefined) return known;
  const { declaration, section } = placed;
  const block = blockOf(declaration);
  const gatherer = new Gatherer(declaration);
  gatherHead(gatherer, block === 'limit');
  if (declaration.body !== undefined)
    gatherAll(declaration.body.statements, gatherer, block, { start: 0, end: section.text.length });
  cache.set(placed.parsed, gatherer);
  return gatherer;
}
