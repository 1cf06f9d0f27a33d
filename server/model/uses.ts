// What a declaration refers to, as it is gathered: names with the kinds of thing that they may be, variants, sources, what is allowed.
import { leavesOf } from '../../grammar/terms.ts';
import type {
  Declaration,
  Expression,
  Name,
  Per,
  Place,
  PlainValue,
  Reference,
  Span,
  Statement,
  Value,
} from '../../grammar/tree.ts';
import type { Block, NameKind } from '../../grammar/vocabulary.ts';

/** One use of a name. `feature` and `places` are what follows it. */
export interface Use {
  readonly name: Name;
  readonly kinds: readonly NameKind[];
  readonly feature?: Name;
  readonly places: readonly Place[];
  /** The target before it in one list of an action: a word behind it may be a place of that. */
  readonly follows?: Name;
  /** Half a turn in radians, unless something is declared by that name. */
  readonly isPi?: true;
  /** It need not be declared: what is logged may be anything, and is a limit where there is one of that name. */
  readonly isFree?: true;
  /** The feature alone is written, of the part that it stands in. */
  readonly ownFeature?: true;
  /** What sort of feature is wanted after the dot. */
  readonly wants?: 'mark' | 'value' | 'any' | 'size';
  /** The variants of the `when` round it; absent where it holds for all. */
  readonly when?: readonly (readonly string[])[];
  /** The statement word that it stands in, or the declaration's own. */
  readonly word: string;
}

/** A place in a declaration where variants are named. */
export interface VariantUse {
  readonly name: Name;
}

export interface Uses {
  readonly uses: readonly Use[];
  readonly variants: readonly VariantUse[];
  /** `allow` statements with the stretch that they cover. */
  readonly allows: readonly { readonly code: Name; readonly covers: Span; readonly span: Span }[];
  readonly sources: readonly Name[];
}

/** What a sum may name. A figure of a valve timing, a size that a grade brings, are named as features. */
const IN_SUMS: readonly NameKind[] = ['part', 'limit', 'valve-timing', 'grades'];

/** Gathers what one declaration refers to, statement by statement. */
export class Gatherer implements Uses {
  readonly uses: Use[] = [];
  readonly variants: VariantUse[] = [];
  readonly allows: Uses['allows'][number][] = [];
  readonly sources: Name[] = [];
  readonly declaration: Declaration;
  /** The word of the statement in hand, or the declaration's own. */
  word: string;
  private when: readonly (readonly string[])[] = [];

  constructor(declaration: Declaration) {
    this.declaration = declaration;
    this.word = declaration.word;
  }

  name(name: Name | undefined, kinds: readonly NameKind[], extra: Partial<Use> = {}): void {
    if (name === undefined) return;
    const when = this.when.length > 0 ? { when: this.when } : {};
    this.uses.push({ name, kinds, places: [], word: this.word, ...when, ...extra });
  }

  names(names: readonly Name[], kinds: readonly NameKind[]): void {
    for (const name of names) this.name(name, kinds);
  }

  reference(
    reference: Reference | undefined,
    kinds: readonly NameKind[],
    wants: Use['wants'] = 'any',
    follows?: Name,
  ): void {
    if (reference === undefined) return;
    this.name(reference.owner, kinds, {
      places: reference.places,
      wants,
      ...(follows === undefined ? {} : { follows }),
      ...(reference.feature === undefined ? {} : { feature: reference.feature }),
    });
  }

  references(references: readonly Reference[], kinds: readonly NameKind[]): void {
    for (const reference of references) this.reference(reference, kinds);
  }

  /** A feature that is written without its part, as one of the part that it stands in. */
  ownFeature(feature: Name): void {
    if (this.declaration.name === undefined) return;
    const name = { ...feature, text: this.declaration.name.text };
    this.uses.push({
      name,
      kinds: ['part'],
      places: [],
      word: this.word,
      feature,
      wants: 'any',
      ownFeature: true,
    });
  }

  expression(expression: Expression | undefined): void {
    for (const leaf of leavesOf(expression)) {
      if (leaf.kind !== 'reference') continue;
      const { owner, feature, places } = leaf.reference;
      if (owner.text === 'pi' && feature === undefined && places.length === 0)
        this.name(owner, IN_SUMS, { wants: 'value', isPi: true });
      else this.reference(leaf.reference, IN_SUMS, 'value');
    }
  }

  plainValue(value: PlainValue | undefined): void {
    if (value?.kind === 'expression') this.expression(value.expression);
    else if (value?.kind === 'open') this.expression(value.value);
  }

  value(value: Value | undefined): void {
    if (value?.kind === 'by-place') for (const entry of value.entries) this.plainValue(entry.value);
    else this.plainValue(value);
  }

  source(per: Per | undefined): void {
    if (per !== undefined) this.sources.push(per.source);
  }

  /** What stands in the braces of `when`. */
  within(variants: readonly Name[], gather: () => void): void {
    this.variants.push(...variants.map((name) => ({ name })));
    const outer = this.when;
    this.when = [...outer, variants.map((name) => name.text)];
    gather();
    this.when = outer;
  }
}

export type OfKind<kind extends Statement['kind']> = Extract<Statement, { readonly kind: kind }>;

/** Where a statement stands: in which block, and what stretch an `allow` there covers. */
export interface Around {
  readonly block: Block;
  readonly covers: Span;
  /** The kinds of thing that the statement's word refers to. */
  readonly kinds: readonly NameKind[];
}
