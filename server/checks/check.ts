// What a check is. To add one: write `server/checks/<area>/<name>.ts` that exports a Check, its help page `<name>.md` beside it
// (an example that gives the finding and one that does not: both are tests), and a line in `catalog.ts`.
import type { InPieces } from '../../grammar/give-way.ts';
import type { Told } from '../../grammar/told.ts';
import type { Span } from '../../grammar/tree.ts';
import type { BuiltView } from '../model/build-view.ts';
import type { DeclarationIndex } from '../model/declaration-index.ts';
import type { Severity } from '../model/finding.ts';
import type { Placed } from '../model/placed.ts';
import type { Engine, Thing, View } from '../model/view.ts';

/** Another place that a finding points at, or the place of an edit. */
export interface Pointer {
  readonly placed: Placed;
  readonly span: Span;
}

export interface Extra {
  readonly related?: readonly (Pointer & { readonly message: Told })[];
  readonly fixes?: readonly {
    readonly title: Told;
    readonly edits: readonly (Pointer & { readonly text: string })[];
  }[];
  /** Where it is not the code's usual one. */
  readonly severity?: Severity;
  /** Something is missing rather than contradicted: information in a draft. */
  readonly missing?: boolean;
}

/** Says that something is wrong at a stretch of a declaration. */
export type Report = (placed: Placed, span: Span, message: Told, extra?: Extra) => void;

/** What a check of a whole spec is given. */
export interface SpecContext {
  readonly view: BuiltView;
  /** The file whose findings are wanted; what is declared elsewhere is looked at, not reported. */
  readonly file: { readonly file: string };
  /** What the declarations of that file together say. */
  readonly index: DeclarationIndex;
  readonly report: Report;
}

interface CheckBase {
  /** `area/what-is-wrong`. Never reused or renamed. */
  readonly code: string;
  readonly severity: Severity;
  /** The help page, as Markdown. */
  readonly page: string;
}

/** Looks at one thing, and at others through the view. Its findings are kept until something that it looked at changes. */
export interface ThingCheck<kind extends Thing['kind'] = Thing['kind']> extends CheckBase {
  readonly scope: 'thing';
  /** The kinds of things that it looks at; it is given no others. */
  readonly of: readonly kind[];
  run(thing: Extract<Thing, { readonly kind: kind }>, view: View, report: Report): void;
}

/** Looks at one declaration as it is written, and at others through the view. Kept like the findings of a thing. */
export interface DeclarationCheck extends CheckBase {
  readonly scope: 'declaration';
  /** The words of the declarations that it looks at; all where it says none. */
  readonly words?: readonly string[];
  run(placed: Placed, view: BuiltView, report: Report): void;
}

/** Looks at the engine declaration, and at others through the view. */
export interface EngineCheck extends CheckBase {
  readonly scope: 'engine';
  run(engine: Engine, view: View, report: Report): void;
}

/** Looks at the whole spec. Kept like the findings of a thing. */
export interface SpecCheck extends CheckBase {
  readonly scope: 'spec';
  run(context: SpecContext): void;
  /** Asks the questions of single things that it will ask, one a piece, so that in a long spec it is short when it is run. */
  ahead?(view: View, file: string, index: DeclarationIndex): InPieces<void>;
  /** What of that is worth its while after an edit too: it goes over few things. */
  again?(view: View, file: string): InPieces<void>;
}

/** A code that another check, the reader or the imports report, with its page. */
export interface PageOnly extends CheckBase {
  readonly scope: 'page';
}

export type Check = ThingCheck | DeclarationCheck | EngineCheck | SpecCheck | PageOnly;

/** The span of the name of a declaration, or of its keyword. */
export function nameSpan(placed: Placed): Span {
  return placed.declaration.name ?? placed.declaration.wordSpan;
}
