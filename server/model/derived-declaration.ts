// What a change makes of one declaration of a base: a text put together out of both, read as any other, so that everything that looks
// at declarations looks at this one too. Which declarations are changed is decided in derived.ts.
import type { Declaration, Drop, Span, Statement } from '../../grammar/tree.ts';
import { mergeStatements } from './derived-statements.ts';
import { assemble, copyOf, type TextWriter, textWriter } from './derived-text.ts';
import { type Piece, type Placed, statementsFor } from './placed.ts';
import { blockOf } from './statements.ts';

/** Into which file a base is taken, and what it is called. */
export interface Into {
  readonly file: string;
  /** The name of the base's spec. */
  readonly spec: string;
}

const whole = (placed: Placed): Span => ({ start: 0, end: placed.section.text.length });

/** A declaration of a base as it is, in the file of the spec that is built on it. */
export function taken(placed: Placed, { file, spec }: Into, when: Placed['when'] = placed.when): Placed {
  return {
    file,
    section: placed.section,
    parsed: copyOf(placed.parsed, file),
    declaration: placed.declaration,
    when,
    steps: placed.steps.length === 0 ? placed.steps : placed.steps.map((step) => taken(step, { file, spec })),
    origin: { spec, changes: [], pieces: [{ ...whole(placed), placed, at: 0 }] },
  };
}

/** The statements of a body; what is in a `when` counts where it holds for the variant. */
function statementsIn(placed: Placed, variant: string | undefined): readonly Statement[] {
  return statementsFor(placed.declaration.body?.statements, variant);
}

function hasWhen(placed: Placed): boolean {
  return (placed.declaration.body?.statements ?? []).some(
    (each) => each.kind === 'when' && each.body.statements.some((inner) => inner.kind !== 'hole'),
  );
}

/** Whether what a change makes of a declaration may differ from variant to variant. */
export function differsByVariant(base: Placed, change: Placed): boolean {
  if (blockOf(change.declaration) === 'step' || change.declaration.body === undefined) return false;
  return hasWhen(base) || hasWhen(change);
}

function brokenIn(placed: Placed): boolean {
  return placed.declaration.broken || placed.section.unclosedBraces.length > 0;
}

/** From the first of some to the last. */
function wholeOf(spans: readonly Span[]): Span | undefined {
  const [first, last] = [spans[0], spans[spans.length - 1]];
  return first === undefined || last === undefined ? undefined : { start: first.start, end: last.end };
}

/** The bounds of a limit with the length and the size that they are for. */
function boundsSpan(limit: Declaration['limit']): Span | undefined {
  return limit?.within === undefined
    ? undefined
    : wholeOf([
        limit.within,
        ...(limit.over === undefined ? [] : [limit.over]),
        ...(limit.at === undefined ? [] : [limit.at]),
        ...(limit.forEach === undefined ? [] : [limit.forEach]),
      ]);
}

/** The parts of a head behind the title and the count, with the word that each begins with. */
function clausesOf({ each, of, on, by, per, limit }: Declaration): ReadonlyMap<string, Span> {
  const all: readonly (readonly [string, Span | undefined])[] = [
    ['each', each],
    ['of', of],
    ['by', by],
    ['on', on],
    ['kind', limit?.kind],
    ['=', limit?.expression],
    ['measured', limit?.measured],
    ['within', boundsSpan(limit)],
    ['wear-limit', limit?.wearLimit],
    ['otherwise', wholeOf(limit?.otherwise ?? [])],
    ['per', per],
  ];
  return new Map(all.flatMap(([word, span]) => (span === undefined ? [] : [[word, span] as const])));
}

/** Clauses whose stretch has their word in it. */
const WITH_WORD = new Set(['measured', 'per']);
const IN_HEAD = new Set(['each', 'of', 'by', 'on']);

function writeHead(written: TextWriter, base: Placed, change: Placed | undefined, drops: readonly Drop[]): void {
  const { declaration } = base;
  const other = change?.declaration;
  const word = blockOf(declaration);
  written.glue(word);
  /** The change's own, or else the base's. */
  const put = (lead: string, own: Span | undefined, of: Span | undefined): void => {
    if (own !== undefined && change !== undefined) {
      written.glue(lead);
      written.take(change, own, of === undefined ? [] : [{ placed: base, span: of }]);
    } else if (of !== undefined) {
      written.glue(lead);
      written.take(base, of);
    }
  };
  put(' ', undefined, declaration.name);
  put(' ', other?.title, declaration.title);
  put(' ', other?.count, declaration.count);
  const [before, after] = [clausesOf(declaration), other === undefined ? new Map<string, Span>() : clausesOf(other)];
  const dropped = new Set(drops.map((drop) => drop.what.word));
  for (const clause of new Set([...before.keys(), ...after.keys()])) {
    if (dropped.has(clause)) continue;
    const lead = `${IN_HEAD.has(clause) ? ' ' : '\n  '}${WITH_WORD.has(clause) ? '' : `${clause} `}`;
    put(lead, after.get(clause), before.get(clause));
  }
}

/** The word of a statement of which only some members are left, and those. */
function writeLeft(written: TextWriter, base: Placed, statement: Statement, left: readonly Span[]): void {
  written.take(base, statement.wordSpan);
  for (const [i, span] of left.entries()) {
    written.glue(i === 0 ? ' ' : ', ');
    written.take(base, span);
  }
  if (statement.per === undefined) return;
  written.glue(' ');
  written.take(base, statement.per);
}

/** Puts the step of a hole where it belongs, with what goes before and after it. */
type PutSteps = (hole: number, written: TextWriter) => void;

/** A statement of the base; a `when` round steps has its steps in it. */
function writeStatement(written: TextWriter, base: Placed, statement: Statement, putSteps: PutSteps): void {
  if (statement.kind === 'hole') {
    putSteps(statement.hole, written);
    return;
  }
  written.glue('\n  ');
  if (statement.kind !== 'when' || !statement.body.statements.some((each) => each.kind === 'hole')) {
    written.take(base, statement);
    return;
  }
  written.take(base, { start: statement.start, end: statement.body.start + 1 });
  for (const inner of statement.body.statements) writeStatement(written, base, inner, putSteps);
  written.glue('\n  }');
}

export interface Merge {
  readonly base: Placed;
  readonly change?: Placed;
  readonly variant: string | undefined;
  readonly when: Placed['when'];
  readonly into: Into;
  /** Tells it apart from what the same change makes of it for other variants. */
  readonly key: string;
}

export interface MergedDeclaration {
  readonly placed: Placed | undefined;
  /** What is dropped and is not there. */
  readonly idle: readonly Drop[];
}

/** What a change makes of a declaration, its steps put in by `putSteps`. */
export function merged(of: Merge, putSteps: PutSteps, steps: readonly Placed[]): MergedDeclaration {
  const { base, change, into } = of;
  const { word } = base.declaration;
  const written = textWriter();
  const byVariant = change !== undefined && differsByVariant(base, change);
  const statements = byVariant ? statementsIn(base, of.variant) : (base.declaration.body?.statements ?? []);
  const own = change === undefined ? [] : statementsIn(change, of.variant);
  const { merged: all, idle } = mergeStatements(statements, own);
  const clauses = word === 'limit' ? clausesOf(base.declaration) : new Map<string, Span>();
  const isClause = (drop: Drop): boolean => drop.name === undefined && clauses.has(drop.what.word);
  writeHead(written, base, change, own.filter((each) => each.kind === 'drop' && isClause(each)) as readonly Drop[]);
  if (all.length > 0) {
    written.glue(word === 'limit' ? '\n{' : ' {');
    for (const each of all) {
      if (each.from === 'base' && 'left' in each) {
        written.glue('\n  ');
        writeLeft(written, base, each.statement, each.left);
      } else if (each.from === 'base') writeStatement(written, base, each.statement, putSteps);
      else if (change !== undefined) {
        const was: Piece['was'] = each.was.map((span) => ({ placed: base, span }));
        written.glue('\n  ');
        written.take(change, each.statement, was);
      }
    }
    written.glue('\n}');
  }
  const placed = assemble({
    ...into,
    word,
    written,
    when: of.when,
    steps,
    changes: [...changesOf(base, into.file), ...(change === undefined ? [] : [change])],
    isBroken: brokenIn(base) || (change !== undefined && brokenIn(change)),
    key: of.key,
  });
  return { placed, idle: idle.filter((drop) => !isClause(drop)) };
}

/** The changes of the same file that made a declaration what it is. */
function changesOf(placed: Placed, file: string): readonly Placed[] {
  return placed.file === file ? (placed.origin?.changes ?? []) : [];
}

/** A step of a base with the actions of a change, or a step that is inserted: then there is no base. */
export function stepOf(
  base: Placed | undefined,
  change: Placed,
  of: Omit<Merge, 'base' | 'change'>,
): Placed | undefined {
  const written = textWriter();
  if (base === undefined) writeHead(written, change, undefined, []);
  else writeHead(written, base, change, []);
  const from = change.declaration.body === undefined && base !== undefined ? base : change;
  const { body } = from.declaration;
  if (body !== undefined) {
    const was = base?.declaration.body;
    written.glue(' ');
    written.take(
      from,
      body,
      from === base || was === undefined || base === undefined ? [] : [{ placed: base, span: was }],
    );
    if (!from.section.text.slice(body.start, body.end).endsWith('}')) written.glue('}');
  }
  return assemble({
    ...of.into,
    word: 'step',
    written,
    when: of.when,
    steps: [],
    changes: [...(base === undefined ? [] : changesOf(base, of.into.file)), change],
    isBroken: brokenIn(change) || (base !== undefined && brokenIn(base)),
    key: of.key,
  });
}

/** A spec with what it takes over of the one that it is built on: its sources, variants and units, and the source of all. */
export function specOf(own: Placed, base: Placed, into: Into): Placed {
  const statements = own.declaration.body?.statements ?? [];
  const has = (word: string): boolean => statements.some((each) => each.word === word);
  const sources = new Set(statements.flatMap((each) => (each.kind === 'source' ? [each.name.text] : [])));
  const more = (base.declaration.body?.statements ?? []).filter((each) =>
    each.kind === 'source'
      ? !sources.has(each.name.text)
      : ['variants', 'units', 'per'].includes(each.word) && !has(each.word),
  );
  const written = textWriter();
  const { body } = own.declaration;
  const text = own.section.text;
  const end = body === undefined ? own.declaration.end : body.end - (text[body.end - 1] === '}' ? 1 : 0);
  written.take(own, { start: 0, end });
  if (body === undefined) written.glue(' {');
  for (const statement of more) {
    written.glue('\n  ');
    written.take(base, statement);
  }
  written.glue('\n}');
  const assembled = assemble({
    ...into,
    word: 'spec',
    written: { ...written, holes: own.section.holes.filter((hole) => hole < end) },
    when: own.when,
    steps: [],
    changes: [],
    isBroken: brokenIn(own),
    key: 'spec',
  });
  return assembled ?? own;
}
