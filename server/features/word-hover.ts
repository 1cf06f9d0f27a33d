// What is said of the words and figures in a statement that are no names of things: choices, places, sizes, threads, classes, counts.
import { lookUp } from '../../grammar/look-up.ts';
import { type Argument, type Told, told } from '../../grammar/told.ts';
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
import { pathBetween } from './moved-files.ts';
import { blockAt, everyPlaced, type NameAt, placedAt, statementBefore, thingOf, toOwn } from './place-in-tree.ts';

/** Plain words, not Markdown, about a stretch of the file. */
export interface Said {
  readonly name: Argument;
  /** Undefined for a count, which says itself what it counts. */
  readonly kind: Argument | undefined;
  readonly lines: readonly Argument[];
  readonly start: number;
  readonly end: number;
}

function round(number: number, places: number): string {
  return String(Number(number.toFixed(places)));
}

function threadLines(designation: string): readonly Told[] {
  const thread = parseThread(designation);
  if (thread === undefined) return [told`no thread that Fettle knows`];
  const coarse = thread.family === 'metric' && coarsePitch(thread.diameter) === thread.pitch;
  const sizes = [
    told`diameter ${round(thread.diameter, 3)} mm, pitch ${round(thread.pitch, 3)} mm`,
    ...(thread.threadsPerInch === undefined ? [] : [told`${thread.threadsPerInch} threads to the inch`]),
    ...(coarse ? [told`the coarse pitch`] : []),
  ];
  return [
    told`${told.list(sizes, ',')}`,
    thread.tapered ? told`tapered: it seals by its thread` : told`stress area ${round(thread.stressArea, 1)} mm²`,
    ...(thread.leftHand ? [told`left-hand: it is undone clockwise`] : []),
    ...(thread.listed ? [] : [told`not a listed pair of diameter and pitch`]),
  ];
}

function classLines(fastener: Fastener | undefined, name: string): readonly Told[] {
  const thread = fastener?.thread === undefined ? undefined : parseThread(fastener.thread);
  const strength = strengthOf(name, thread?.diameter ?? 10);
  if (strength === undefined) return [told`no class that Fettle knows for this size`];
  const stresses = told`proof ${round(strength.proof, 0)} MPa, yield ${round(strength.yield, 0)} MPa, tensile ${round(strength.tensile, 0)} MPa`;
  return [
    thread === undefined || thread.stressArea <= 0
      ? stresses
      : told`${stresses}; on ${thread.designation} that is ${round((strength.proof * thread.stressArea) / 1000, 1)} kN`,
    ...(strength.assumed === undefined ? [] : [told`taken for it: ${told.term(strength.assumed)}`]),
  ];
}

/** A count, which is for each of a part where the fastener says so. */
function countTold(analysis: Analysis, { declaration }: Placed, count: number): Told {
  const name = told.named(declaration.name?.text ?? '');
  const thing = thingOf(analysis, declaration.name?.text ?? '');
  const part =
    thing?.kind === 'fastener' && thing.eachOf.length === 1 ? thingOf(analysis, thing.each ?? '') : undefined;
  const on = part?.kind === 'part' ? Math.max(1, part.count) : undefined;
  if (part === undefined || on === undefined) return told`${count} of ${name} on the engine`;
  return told`${count} of ${name} for each ${told.thing(part)}, ${count * on} on the engine`;
}

function countOf(
  analysis: Analysis,
  placed: Placed,
  own: number,
): { readonly start: number; readonly end: number; readonly of: Told } | undefined {
  const { declaration } = placed;
  const holds = (span: { readonly start: number; readonly end: number } | undefined): boolean =>
    span !== undefined && span.start <= own && own <= span.end;
  if (declaration.count !== undefined && holds(declaration.count))
    return {
      ...declaration.count,
      of: countTold(analysis, placed, declaration.count.value),
    };
  const each = statementBefore(declaration.body?.statements ?? [], own);
  if (each?.kind !== 'dimension' || each.count === undefined || !holds(each.count)) return undefined;
  const on = declaration.count?.value ?? 1;
  const times = told`${told.named(each.name.text)} is there ${each.count.value} times on one ${told.named(declaration.name?.text ?? '')}`;
  return { ...each.count, of: on === 1 ? times : told`${times}, ${each.count.value * on} on the engine` };
}

/** A row of a table of grades, by its name: what it is, and when it is chosen. */
function gradeTold(
  analysis: Analysis,
  placed: Placed,
  statement: Statement | undefined,
  own: number,
): Said | undefined {
  const owner = placed.declaration.word === 'grades' ? placed.declaration.name : undefined;
  const grade = statement?.kind === 'record-fitted' ? statement.grade : undefined;
  const table = thingOf(
    analysis,
    owner?.text ?? (statement?.kind === 'record-fitted' ? statement.part.owner.text : ''),
  );
  if (table?.kind !== 'grades') return undefined;
  const row = table.rows.find(({ name }) =>
    owner === undefined ? grade !== undefined && name.text === grade.text : name.start <= own && own <= name.end,
  );
  const span = owner === undefined ? grade : row?.name;
  if (row === undefined || span === undefined || own < span.start || own > span.end) return undefined;
  const written = table.placed.section.text.slice(row.name.start, row.value.end).replace(/\s+/g, ' ');
  return {
    name: row.name.text,
    kind: told`grade of ${told.thing(table)}`,
    lines: [written],
    ...placeOf(placed, span),
  };
}

/** A count, a grade, a thread or a class under the cursor. */
export function figureTold(analysis: Analysis, offset: number): Said | undefined {
  const placed = placedAt(analysis, offset);
  if (placed === undefined) return undefined;
  const own = toOwn(placed.section, offset);
  const count = countOf(analysis, placed, own);
  if (count !== undefined) return { name: count.of, kind: undefined, lines: [], ...placeOf(placed, count) };
  const statement = statementBefore(placed.declaration.body?.statements ?? [], own);
  const grade = gradeTold(analysis, placed, statement, own);
  if (grade !== undefined) return grade;
  if (statement?.kind === 'thread' && statement.designationSpan.start <= own && own <= statement.designationSpan.end)
    return {
      name: statement.designation,
      kind: told`thread`,
      lines: threadLines(statement.designation),
      ...placeOf(placed, statement.designationSpan),
    };
  if (statement?.kind === 'class' && statement.class.start <= own && own <= statement.class.end) {
    const thing = thingOf(analysis, placed.declaration.name?.text ?? '');
    return {
      name: statement.class.text,
      kind: told`strength class`,
      lines: classLines(thing?.kind === 'fastener' ? thing : undefined, statement.class.text),
      ...placeOf(placed, statement.class),
    };
  }
  return undefined;
}

/** A fixed choice under the cursor, by the statement or the clause that it stands in. */
export function choiceTold(analysis: Analysis, offset: number, word: string): Omit<Said, 'start' | 'end'> | undefined {
  const block = blockAt(analysis, offset);
  const placed = placedAt(analysis, offset);
  const own = placed === undefined ? 0 : toOwn(placed.section, offset);
  const statement = statementBefore(placed?.declaration.body?.statements ?? [], own);
  const onWord = statement !== undefined && statement.wordSpan.start <= own && own <= statement.wordSpan.end;
  if (onWord && block !== undefined) return undefined;
  const row = block === undefined || statement === undefined ? undefined : statementRow(block, statement.word);
  const help = lookUp(row?.choices ?? {}, word);
  if (row !== undefined && help !== undefined) return { name: word, kind: row.word, lines: [told.term(help)] };
  if (row?.shape === 'torque' && isStageWord(word))
    return {
      name: word,
      kind: told`stage`,
      lines: STAGES.filter((each) => each.word === word).map((each) => told.term(each.help)),
    };
  const clauses = CLAUSES.filter(
    (each) => 'choices' in each && each.choices !== undefined && Object.hasOwn(each.choices, word),
  );
  const fits =
    block === undefined ? clauses.find((each) => each.word === 'kind') : clauses.find((each) => each.word !== 'kind');
  const said = lookUp(fits?.choices ?? {}, word);
  return fits === undefined || said === undefined
    ? undefined
    : {
        name: word,
        kind: fits.word === 'kind' ? told`kind of limit` : told`position of the crankshaft`,
        lines: [told.term(said)],
      };
}

function titleOf(title: Text | undefined): readonly string[] {
  return title === undefined ? [] : [title.value];
}

function sourceLines(analysis: Analysis, name: string): readonly Argument[] {
  const declared = (analysis.views[0]?.specs ?? []).flatMap((spec) =>
    (spec.declaration.body?.statements ?? []).filter((each) => each.kind === 'source' && each.name.text === name),
  );
  const times = everyPlaced(analysis).reduce(
    (sum, placed) => sum + usesOf(placed).sources.filter((each) => each.text === name).length,
    0,
  );
  return [
    ...declared.flatMap((each) => (each.kind === 'source' ? titleOf(each.title) : [])),
    times === 1 ? told`one statement of this file rests on it` : told`${times} statements of this file rest on it`,
  ];
}

function variantLines(analysis: Analysis, name: string): readonly Told[] {
  const own = analysis.views.find((view) => view.variant === name);
  const others = analysis.views.filter((view) => view !== own);
  if (own === undefined) return [];
  const only = [...own.things.values()].filter((thing) => others.every((view) => !view.things.has(thing.name)));
  if (only.length === 0) return [told`every declaration of it is in others too; statements in a when may differ`];
  const names = only.map((thing) => told`${thing.kind} ${told.thing(thing)}`);
  return [told`in it alone: ${told.list(names, ',', 12)}`];
}

function placeLines(part: Thing | undefined, name: string): readonly Told[] {
  if (part?.kind !== 'part') return [];
  return part.places.filter((group) => group.name === name).map(({ count, into }) => placesTold(count, into));
}

/** How many places a group of them is, and what they are in. */
export function placesTold(count: number, into: string | undefined): Told {
  const places = count === 1 ? told`one place` : told`${count} places`;
  return into === undefined ? places : told`${places}, into ${told.named(into)}`;
}

/** What is said of a name that is no thing. */
export function nameTold(analysis: Analysis, name: NameAt): Said | undefined {
  const at = { start: name.place.start, end: name.place.end };
  switch (name.set) {
    case 'source':
      return { name: name.text, kind: told`source`, lines: sourceLines(analysis, name.text), ...at };
    case 'variant':
      return { name: name.text, kind: told`variant`, lines: variantLines(analysis, name.text), ...at };
    case 'place': {
      const lines = placeLines(thingOf(analysis, name.thing), name.text);
      return lines.length === 0
        ? undefined
        : { name: name.text, kind: told`place of ${told.named(name.thing)}`, lines, ...at };
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

/** Whether a text in quotes stands in a piece of the tree round an offset of its section. */
function hasTextAt(piece: unknown, text: string, own: number): boolean {
  if (typeof piece !== 'object' || piece === null) return false;
  if (Array.isArray(piece)) return piece.some((each) => hasTextAt(each, text, own));
  const { start, end, value } = piece as { readonly start?: unknown; readonly end?: unknown; readonly value?: unknown };
  if (typeof start === 'number' && typeof end === 'number') {
    if (own < start || own > end) return false;
    if (typeof value === 'string' && /["\u201c-\u201f\u00ab]/.test(text[start] ?? '')) return own > start;
  }
  return Object.values(piece).some((each) => hasTextAt(each, text, own));
}

/** Whether an offset is in a text in quotes or in a remark: what the writer says there is no word of the language. */
export function isWritersOwn(analysis: Analysis, offset: number): boolean {
  const line = textOf(analysis.file, Math.max(0, offset - 400), offset).split(/[\r\n]/);
  if (/#/.test((line[line.length - 1] ?? '').replace(/"[^"]*"/g, ''))) return true;
  const placed = placedAt(analysis, offset);
  if (placed === undefined) return false;
  const { declaration, section } = placed;
  const own = toOwn(section, offset);
  const statement = statementBefore(declaration.body?.statements ?? [], own);
  return hasTextAt([declaration.title, ...Object.values(statement ?? {})], section.text, own);
}

/** A direction that is told by the clock. */
export function clockAt(analysis: Analysis, offset: number): Said | undefined {
  const from = Math.max(0, offset - 16);
  for (const match of textOf(analysis.file, from, offset + 16).matchAll(
    /(?<![\d:.])(\d{1,2})(?::(\d\d))?\s*o'clock/gi,
  )) {
    const start = from + match.index;
    const end = start + match[0].length;
    if (offset < start || offset > end) continue;
    const degrees = (Number(match[1]) % 12) * 30 + Number(match[2] ?? 0) / 2;
    const way =
      degrees === 0
        ? told`straight up, seen from the front, sump down`
        : degrees === 180
          ? told`straight down, seen from the front, sump down`
          : told`${degrees} degrees clockwise from the top, seen from the front, sump down`;
    return { name: match[0], kind: told`direction`, lines: [way], start, end };
  }
  return undefined;
}

/** What a file that is used declares, by kind. */
export function useTold(analysis: Analysis, offset: number): Said | undefined {
  const placed = placedAt(analysis, offset);
  const path = placed?.declaration.path;
  if (placed === undefined || path === undefined) return undefined;
  const place = placeOf(placed, path);
  if (offset < place.start || offset > place.end) return undefined;
  const file = analysis.used.find(
    (each) =>
      pathBetween(analysis.file.file, each.file) === path.value ||
      (path.value.startsWith('fettle:') && each.file.endsWith(`/${path.value.slice('fettle:'.length)}.fettle`)),
  );
  if (file === undefined) return undefined;
  const kinds = new Map<string, string[]>();
  for (const { declaration } of file.sections.flatMap((section) => section.every))
    if (declaration.name !== undefined && declaration.word !== 'step')
      kinds.set(declaration.word, [...(kinds.get(declaration.word) ?? []), declaration.name.text]);
  const lines = [...kinds].map(
    ([kind, names]) =>
      told`${kind}: ${told.list(
        names.map((each) => told.named(each)),
        ',',
        12,
      )}`,
  );
  return { name: path.value, kind: told`what it declares`, lines, start: place.start, end: place.end };
}

/** A unit that is written in signs: per cent, degrees. */
export function unitAt(analysis: Analysis, offset: number): Said | undefined {
  const from = Math.max(0, offset - 12);
  const around = textOf(analysis.file, from, offset + 12);
  for (const match of around.matchAll(/[^\s\d(),;{}"]+/g)) {
    const start = from + match.index;
    const end = start + match[0].length;
    if (offset < start || offset > end) continue;
    const unit = UNITS.find((each) => each.unit === match[0] || each.unit === usualForm(match[0]));
    if (unit !== undefined)
      return { name: unit.unit, kind: told.term(unit.kind), lines: [told.term(unit.help)], start, end };
  }
  return undefined;
}
