// A declaration where it stands: its tree, its file, the variants it holds for. Nothing is worked out here.
import type { Parsed } from '../../grammar/parse.ts';
import { type Section, toFile } from '../../grammar/sections.ts';
import type { Declaration, Span, Statement } from '../../grammar/tree.ts';
import type { FilePlace } from './finding.ts';

/** What was read of one section at the top of a file, and the sections in it. */
export interface ReadSection {
  readonly section: Section;
  /** The same list as long as its text is the same, wherever it has moved. */
  readonly trees: readonly Parsed[];
  readonly declarations: readonly Placed[];
  /** The declarations, each followed by its steps. */
  readonly every: readonly Placed[];
  /** Whether something in it could not be read, or is silenced: else there is nothing to look for. */
  readonly hasFaults: boolean;
  readonly hasAllows: boolean;
  /** Names that stand straight behind what could not be read: `prat piston` may well mean a part called piston. */
  readonly perhaps: readonly string[];
  readonly whens: readonly Placed[];
  readonly loose: readonly { readonly section: Section; readonly parsed: Parsed }[];
}

/** One file cut and read. `file` is its address (a URI). */
export interface ReadFile {
  readonly file: string;
  readonly text: string;
  readonly sections: readonly ReadSection[];
  /** In the order of the file; steps stand in their sequence's `steps`, not here. */
  readonly declarations: readonly Placed[];
  /** The `when` round declarations. */
  readonly whens: readonly Placed[];
  /** Sections without a declaration (text outside), for their faults. */
  readonly loose: readonly { readonly section: Section; readonly parsed: Parsed }[];
}

export interface Placed {
  readonly file: string;
  readonly section: Section;
  readonly parsed: Parsed;
  readonly declaration: Declaration;
  /** The `when` round it, outermost first: it holds for a variant that each of them names. */
  readonly when: readonly (readonly string[])[];
  /** The steps of a sequence by the number of their hole (one that can't be read at all is missing); empty for others. */
  readonly steps: readonly Placed[];
}

/** Where a stretch of a declaration's own text stands in its file. */
export function placeOf(placed: Placed, span: Span): FilePlace {
  return { file: placed.file, start: toFile(placed.section, span.start), end: toFile(placed.section, span.end) };
}

/** Whether a declaration holds for a variant; `undefined` is a spec without variants, for which all hold. */
export function holdsFor(placed: Placed, variant: string | undefined): boolean {
  return variant === undefined || placed.when.every((names) => names.includes(variant));
}

/** The statements of a body that hold for a variant, those inside `when` included. */
export function statementsFor(
  statements: readonly Statement[] | undefined,
  variant: string | undefined,
): readonly Statement[] {
  if (statements === undefined) return [];
  if (!statements.some((statement) => statement.kind === 'when')) return statements;
  return statements.flatMap((statement) => {
    if (statement.kind !== 'when') return [statement];
    const holds = variant === undefined || statement.variants.some((name) => name.text === variant);
    return holds ? statementsFor(statement.body.statements, variant) : [];
  });
}
