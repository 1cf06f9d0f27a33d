// What is said of the words and figures in a statement that are no names of things: choices, places, sizes, threads, classes, counts.
import { lookUp } from '../../grammar/look-up.ts';
import type { Statement, Text } from '../../grammar/tree.ts';
import { UNITS } from '../../grammar/vocabulary/units.ts';
import { CLAUSES, isStageWord, STAGES, statementRow, usualForm } from '../../grammar/vocabulary.ts';
import { strengthOf } from '../mechanics/strength.ts';
import { coarsePitch, parseThread } from '../mechanics/threads.ts';
import type { Analysis } from '../model/analysis.ts';
import { type Placed, placeOf } from '../model/placed.ts';
import { usesOf } from '../model/references.ts';
import { textOf } from '../model/text-of.ts';
import type { Fastener, Thing } from '../model/view.ts';
import { blockAt, everyPlaced, type NameAt, placedAt, statementBefore, thingOf, toOwn } from './place-in-tree.ts';

/** Plain words, not Markdown, about a stretch of the file. */
export interface Told {
  readonly name: string;
  readonly kind: string;
  readonly lines: readonly string[];
  readonly start: number;
  readonly end: number;
}

function round(number: number, places: number): string {
  return String(Number(number.toFixed(places)));
}

function threadLines(designation: string): readonly string[] {
  const thread = parseThread(designation);
  if (thread === undefined) return ['no thread that Fettle knows'];
  const perInch = thread.threadsPerInch === undefined ? '' : `, ${thread.threadsPerInch} threads to the inch`;
  const coarse =
    thread.family === 'metric' && coarsePitch(thread.diameter) === thread.pitch ? ', the coarse pitch' : '';
  return [
    `diameter ${round(thread.diameter, 3)} mm, pitch ${round(thread.pitch, 3)} mm${perInch}${coarse}`,
    ...(thread.tapered ? ['tapered: it seals by its thread'] : [`stress area ${round(thread.stressArea, 1)} mm²`]),
    ...(thread.leftHand ? ['left-hand: it is undone clockwise'] : []),
    ...(thread.listed ? [] : ['not a listed pair of diameter and pitch']),
  ];
}

function classLines(fastener: Fastener | undefined, name: string): readonly string[] {
  const thread = fastener?.thread === undefined ? undefined : parseThread(fastener.thread);
  const strength = strengthOf(name, thread?.diameter ?? 10);
  if (strength === undefined) return ['no class that Fettle knows for this size'];
  const load =
    thread === undefined || thread.stressArea <= 0
      ? ''
      : `; on ${thread.designation} that is ${round((strength.proof * thread.stressArea) / 1000, 1)} kN`;
  return [
    `proof ${round(strength.proof, 0)} MPa, yield ${round(strength.yield, 0)} MPa, tensile ${round(strength.tensile, 0)} MPa${load}`,
    ...(strength.assumed === undefined ? [] : [`taken for it: ${strength.assumed}`]),
  ];
}

function countOf(
  placed: Placed,
  own: number,
): { readonly start: number; readonly end: number; readonly of: string } | undefined {
  const { declaration } = placed;
  const holds = (span: { readonly start: number; readonly end: number } | undefined): boolean =>
    span !== undefined && span.start <= own && own <= span.end;
  if (declaration.count !== undefined && holds(declaration.count))
    return {
      ...declaration.count,
      of: `${declaration.count.value} of ${declaration.name?.text ?? 'it'} on the engine`,
    };
  const each = statementBefore(declaration.body?.statements ?? [], own);
  if (each?.kind !== 'dimension' || each.count === undefined || !holds(each.count)) return undefined;
  const on = declaration.count?.value ?? 1;
  const all = on === 1 ? '' : `, ${each.count.value * on} on the engine`;
  return {
    ...each.count,
    of: `${each.name.text} is there ${each.count.value} times on one ${declaration.name?.text ?? 'part'}${all}`,
  };
}

/** A count, a thread or a class under the cursor. */
export function figureTold(analysis: Analysis, offset: number): Told | undefined {
  const placed = placedAt(analysis, offset);
  if (placed === undefined) return undefined;
  const own = toOwn(placed.section, offset);
  const count = countOf(placed, own);
  if (count !== undefined) return { name: `${count.of}`, kind: 'count', lines: [], ...placeOf(placed, count) };
  const statement = statementBefore(placed.declaration.body?.statements ?? [], own);
  if (statement?.kind === 'thread' && statement.designationSpan.start <= own && own <= statement.designationSpan.end)
    return {
      name: statement.designation,
      kind: 'thread',
      lines: threadLines(statement.designation),
      ...placeOf(placed, statement.designationSpan),
    };
  if (statement?.kind === 'class' && statement.class.start <= own && own <= statement.class.end) {
    const thing = thingOf(analysis, placed.declaration.name?.text ?? '');
    return {
      name: statement.class.text,
      kind: 'strength class',
      lines: classLines(thing?.kind === 'fastener' ? thing : undefined, statement.class.text),
      ...placeOf(placed, statement.class),
    };
  }
  return undefined;
}

/** A fixed choice under the cursor, by the statement or the clause that it stands in. */
export function choiceTold(analysis: Analysis, offset: number, word: string): Omit<Told, 'start' | 'end'> | undefined {
  const block = blockAt(analysis, offset);
  const placed = placedAt(analysis, offset);
  const own = placed === undefined ? 0 : toOwn(placed.section, offset);
  const statement = statementBefore(placed?.declaration.body?.statements ?? [], own);
  const onWord = statement !== undefined && statement.wordSpan.start <= own && own <= statement.wordSpan.end;
  if (onWord && block !== undefined) return undefined;
  const row = block === undefined || statement === undefined ? undefined : statementRow(block, statement.word);
  const help = lookUp(row?.choices ?? {}, word);
  if (row !== undefined && help !== undefined) return { name: word, kind: row.word, lines: [help] };
  if (row?.shape === 'torque' && isStageWord(word))
    return { name: word, kind: 'stage', lines: STAGES.filter((each) => each.word === word).map((each) => each.help) };
  const clauses = CLAUSES.filter(
    (each) => 'choices' in each && each.choices !== undefined && Object.hasOwn(each.choices, word),
  );
  const fits =
    block === undefined ? clauses.find((each) => each.word === 'kind') : clauses.find((each) => each.word !== 'kind');
  const said = lookUp(fits?.choices ?? {}, word);
  return fits === undefined || said === undefined
    ? undefined
    : { name: word, kind: fits.word === 'kind' ? 'kind of limit' : 'position of the crankshaft', lines: [said] };
}

function titleOf(title: Text | undefined): readonly string[] {
  return title === undefined ? [] : [title.value];
}

function sourceLines(analysis: Analysis, name: string): readonly string[] {
  const declared = (analysis.views[0]?.specs ?? []).flatMap((spec) =>
    (spec.declaration.body?.statements ?? []).filter((each) => each.kind === 'source' && each.name.text === name),
  );
  const times = everyPlaced(analysis).reduce(
    (sum, placed) => sum + usesOf(placed).sources.filter((each) => each.text === name).length,
    0,
  );
  return [
    ...declared.flatMap((each) => (each.kind === 'source' ? titleOf(each.title) : [])),
    `${times === 1 ? 'one statement of this file rests' : `${times} statements of this file rest`} on it`,
  ];
}

function variantLines(analysis: Analysis, name: string): readonly string[] {
  const own = analysis.views.find((view) => view.variant === name);
  const others = analysis.views.filter((view) => view !== own);
  if (own === undefined) return [];
  const only = [...own.things.values()].filter((thing) => others.every((view) => !view.things.has(thing.name)));
  const shown = only.slice(0, 12).map((thing) => `${thing.kind} ${thing.name}`);
  if (only.length === 0) return ['every declaration of it is in others too; statements in a `when` may differ'];
  return [`in it alone: ${shown.join(', ')}${only.length > 12 ? ` and ${only.length - 12} more` : ''}`];
}

function placeLines(part: Thing | undefined, name: string): readonly string[] {
  if (part?.kind !== 'part') return [];
  return part.places
    .filter((group) => group.name === name)
    .map(
      ({ count, into }) =>
        `${count === 1 ? 'one place' : `${count} places`}${into === undefined ? '' : `, into ${into}`}`,
    );
}

/** What is said of a name that is no thing. */
export function nameTold(analysis: Analysis, name: NameAt): Told | undefined {
  const at = { start: name.place.start, end: name.place.end };
  switch (name.set) {
    case 'source':
      return { name: name.text, kind: 'source', lines: sourceLines(analysis, name.text), ...at };
    case 'variant':
      return { name: name.text, kind: 'variant', lines: variantLines(analysis, name.text), ...at };
    case 'place': {
      const lines = placeLines(thingOf(analysis, name.thing), name.text);
      return lines.length === 0 ? undefined : { name: name.text, kind: `place of ${name.thing}`, lines, ...at };
    }
    default:
      return undefined;
  }
}

/** The statements of a part that say something of one of its features: its size, and how it is turned. */
export function statementsOfFeature(thing: Thing, feature: string): readonly Statement[] {
  return thing.statements.filter((each) => {
    switch (each.kind) {
      case 'dimension':
      case 'figure':
      case 'mark':
      case 'size':
        return each.name.text === feature;
      case 'names':
        return each.word === 'feature' && each.names.some((name) => name.text === feature);
      case 'orient':
        return each.rules.some((rule) => rule.feature.text === feature);
      default:
        return each.word === feature;
    }
  });
}

/** A unit that is written in signs: per cent, degrees. */
export function unitAt(analysis: Analysis, offset: number): Told | undefined {
  const from = Math.max(0, offset - 12);
  const around = textOf(analysis.file, from, offset + 12);
  for (const match of around.matchAll(/[^\s\d(),;{}"]+/g)) {
    const start = from + match.index;
    const end = start + match[0].length;
    if (offset < start || offset > end) continue;
    const unit = UNITS.find((each) => each.unit === match[0] || each.unit === usualForm(match[0]));
    if (unit !== undefined) return { name: unit.unit, kind: unit.kind, lines: [unit.help], start, end };
  }
  return undefined;
}
