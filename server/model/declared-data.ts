// What a declaration says, as data, for one variant. Gathered once for each text and cached; parts and fasteners have files of their own.

import type { Parsed } from '../../grammar/parse.ts';
import type { Declaration, Statement } from '../../grammar/tree.ts';
import { fastenerOf } from './fastener-data.ts';
import type { Common, Gathered, Without } from './gathered.ts';
import { MOST_CYLINDERS } from './most.ts';
import { partOf } from './part-data.ts';
import { type Placed, statementsFor } from './placed.ts';
import { choiceIn, flagIn, namesIn, valueIn } from './statements.ts';
import type { Drive, Engine, Grades, Job, Limit, Sequence, Step, Supply, ValveTiming } from './view.ts';

const cache = new WeakMap<Parsed, Map<string, Gathered | undefined>>();

/** Whether a declaration itself says something else from variant to variant. */
export function saysByVariant({ declaration }: Placed): boolean {
  return declaration.body?.statements.some((each) => each.kind === 'when') === true;
}

/** What a declaration says for a variant; undefined for one that declares no thing. */
export function gathered(placed: Placed, variant: string | undefined): Gathered | undefined {
  let byVariant = cache.get(placed.parsed);
  if (byVariant === undefined) {
    byVariant = new Map();
    cache.set(placed.parsed, byVariant);
  }
  // What says the same for every variant is gathered once.
  const differs = saysByVariant(placed);
  const key = differs ? (variant ?? '') : '';
  if (!byVariant.has(key)) byVariant.set(key, gather(placed, differs ? variant : undefined));
  return byVariant.get(key);
}

function isBroken(placed: Placed, statements: readonly Statement[]): boolean {
  return (
    placed.declaration.broken ||
    statements.some((statement) => statement.kind === 'broken') ||
    placed.section.unclosedBraces.length > 0
  );
}

function gather(placed: Placed, variant: string | undefined): Gathered | undefined {
  const { declaration } = placed;
  if (declaration.name === undefined) return undefined;
  const statements = statementsFor(declaration.body?.statements, variant);
  const common = {
    name: declaration.name.text,
    title: declaration.title?.value,
    declaration,
    statements,
    broken: isBroken(placed, statements),
  };
  switch (declaration.word) {
    case 'part':
      return partOf(common, statements);
    case 'fastener':
      return fastenerOf(common, statements);
    case 'supply':
      return supplyOf(common, statements);
    case 'grades':
      return gradesOf(common, declaration, statements);
    case 'drive':
      return driveOf(common, statements);
    case 'valve-timing':
      return valveTimingOf(common, declaration, statements);
    case 'limit':
      return limitOf(common, declaration);
    case 'sequence':
      return sequenceOf(common, statements);
    case 'step':
      return stepOf(common, declaration, statements);
    case 'job':
      return jobOf(common, statements);
    default:
      return undefined;
  }
}

function gradesOf(common: Common, { by }: Declaration, statements: readonly Statement[]): Without<Grades> {
  const rows = statements.flatMap((each) =>
    each.kind === 'grade' ? [{ name: each.name, value: each.value, brings: each.brings ?? [] }] : [],
  );
  return { kind: 'grades', ...common, by, rows };
}

function valveTimingOf(common: Common, { on }: Declaration, statements: readonly Statement[]): Without<ValveTiming> {
  const phaser = statements.find((each) => each.kind === 'phaser');
  return { kind: 'valve-timing', ...common, shaft: on?.text, phaser };
}

function limitOf(common: Common, { limit, each, of }: Declaration): Without<Limit> {
  return {
    kind: 'limit',
    ...common,
    sort: limit?.kind?.word,
    each,
    of,
    expression: limit?.expression,
    measured: limit?.measured !== undefined,
    within: limit?.within,
    wearLimit: limit?.wearLimit,
    readings: Math.max(1, limit?.readings?.value ?? 1),
    over: limit?.over,
    at: limit?.at,
    forEach: limit?.forEach,
    otherwise: limit?.otherwise ?? [],
  };
}

function sequenceOf(common: Common, statements: readonly Statement[]): Without<Sequence> {
  return {
    kind: 'sequence',
    ...common,
    phase: choiceIn(statements, 'phase'),
    startsWith: namesIn(statements, 'starts-with'),
    after: namesIn(statements, 'after'),
  };
}

function stepOf(common: Common, { each }: Declaration, statements: readonly Statement[]): Without<Step> {
  const [trial, after] = [flagIn(statements, 'trial'), namesIn(statements, 'after')];
  return { kind: 'step', ...common, each, trial, after };
}

function supplyOf(common: Common, statements: readonly Statement[]): Without<Supply> {
  return { kind: 'supply', ...common, sort: choiceIn(statements, 'kind'), cure: valueIn(statements, 'cure') };
}

function driveOf(common: Common, statements: readonly Statement[]): Without<Drive> {
  const wraps: Drive['wraps'][number][] = [];
  const meshes: Drive['meshes'][number][] = [];
  const ratios: Drive['ratios'][number][] = [];
  const markedLinks: Drive['markedLinks'][number][] = [];
  let marksAgree: Drive['marksAgree'];
  for (const each of statements) {
    if (each.kind === 'wrap')
      wraps.push({
        sort: each.word === 'belt' ? 'belt' : 'chain',
        part: each.part.text,
        wheels: each.wheels.map((wheel) => ({ part: wheel.name.text, onBack: wheel.onBack, span: wheel })),
        statement: each,
      });
    if (each.kind === 'mesh') meshes.push({ first: each.first.text, second: each.second.text, statement: each });
    if (each.kind === 'ratio-of')
      ratios.push({
        first: each.first.text,
        second: each.second.text,
        over: [each.ratio.first.text, each.ratio.second.text],
        statement: each,
      });
    if (each.kind === 'marks-agree') marksAgree = { cylinder: each.tdc.cylinder.value, stroke: each.tdc.stroke?.word };
    if (each.kind === 'marked-link')
      markedLinks.push({
        links: each.links.map((link) => link.value),
        part: each.mark.owner.text,
        mark: each.mark.feature?.text,
        eitherSide: each.eitherSide,
        statement: each,
      });
  }
  return {
    kind: 'drive',
    ...common,
    wraps,
    meshes,
    ratios,
    marksAgree,
    markedLinks,
    tensioners: namesIn(statements, 'tensioner').map((name) => name.text),
  };
}

function jobOf(common: Common, statements: readonly Statement[]): Without<Job> {
  const begins = statements.find((each) => each.kind === 'begins');
  return {
    kind: 'job',
    ...common,
    begins: begins?.kind === 'begins' ? { how: begins.how, sequence: begins.sequence?.text } : undefined,
    sequences: namesIn(statements, 'sequences'),
    variants: namesIn(statements, 'variant').map((name) => name.text),
    conditions: statements.flatMap((each) => (each.kind === 'text' && each.word === 'condition' ? [each.text] : [])),
    followOn: statements.filter((each) => each.kind === 'follow-on'),
  };
}

/** What the engine declaration says for a variant. */
export function engineOf(placed: Placed, variant: string | undefined): Engine {
  const statements = statementsFor(placed.declaration.body?.statements, variant);
  const cylinders = statements.find((each) => each.kind === 'cylinders');
  const cycle = choiceIn(statements, 'cycle');
  const rotation = choiceIn(statements, 'rotation');
  const front = choiceIn(statements, 'front');
  return {
    placed,
    declaration: placed.declaration,
    statements,
    broken: isBroken(placed, statements),
    cylinders:
      cylinders?.kind === 'cylinders' && cylinders.count.value <= MOST_CYLINDERS ? cylinders.count.value : undefined,
    layout: cylinders?.kind === 'cylinders' && cylinders.layout?.known === true ? cylinders.layout.word : undefined,
    cycle: cycle === 'two-stroke' || cycle === 'four-stroke' ? cycle : undefined,
    rotation: rotation === 'clockwise' || rotation === 'anticlockwise' ? rotation : undefined,
    front: front === 'free-end' || front === 'flywheel-end' ? front : undefined,
    interference: flagIn(statements, 'interference'),
  };
}
