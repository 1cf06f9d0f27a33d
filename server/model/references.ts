// Every name that a declaration refers to, with the kinds of thing it may be. Gathered once for each text and kept.
import type { Parsed } from '../../grammar/parse.ts';
import { leavesOf } from '../../grammar/terms.ts';
import type { Expression, Name, Place, PlainValue, Reference, Span, Statement, Value } from '../../grammar/tree.ts';
import { type Block, type NameKind, statementRow } from '../../grammar/vocabulary.ts';
import type { Placed } from './placed.ts';
import { blockOf } from './statements.ts';

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

const kept = new WeakMap<Parsed, Uses>();

/** What a declaration refers to. Steps of a sequence refer for themselves. */
export function usesOf(placed: Placed): Uses {
  const known = kept.get(placed.parsed);
  if (known !== undefined) return known;
  const gatherer = gather(placed);
  kept.set(placed.parsed, gatherer);
  return gatherer;
}

function gather(placed: Placed): Uses {
  const { declaration } = placed;
  const uses: Use[] = [];
  const variants: VariantUse[] = [];
  const allows: Uses['allows'][number][] = [];
  const sources: Name[] = [];
  const whole: Span = { start: 0, end: placed.section.text.length };
  let when: readonly (readonly string[])[] = [];
  let word: string = declaration.word;

  const use = (name: Name | undefined, kinds: readonly NameKind[], extra: Partial<Use> = {}): void => {
    if (name !== undefined)
      uses.push({ name, kinds, places: [], word, ...(when.length > 0 ? { when } : {}), ...extra });
  };
  const refer = (
    reference: Reference | undefined,
    kinds: readonly NameKind[],
    wants: Use['wants'] = 'any',
    follows?: Name,
  ): void => {
    if (reference === undefined) return;
    use(reference.owner, kinds, {
      places: reference.places,
      wants,
      ...(follows === undefined ? {} : { follows }),
      ...(reference.feature === undefined ? {} : { feature: reference.feature }),
    });
  };
  const express = (expression: Expression | undefined): void => {
    for (const leaf of leavesOf(expression)) {
      if (leaf.kind !== 'reference') continue;
      const { owner, feature, places } = leaf.reference;
      if (owner.text === 'pi' && feature === undefined && places.length === 0)
        use(owner, IN_SUMS, { wants: 'value', isPi: true });
      else refer(leaf.reference, IN_SUMS, 'value');
    }
  };
  const plain = (value: PlainValue | undefined): void => {
    if (value === undefined) return;
    if (value.kind === 'expression') express(value.expression);
    else if (value.kind === 'open') express(value.value);
  };
  const valued = (value: Value | undefined): void => {
    if (value?.kind === 'by-place') for (const entry of value.entries) plain(entry.value);
    else plain(value);
  };
  const walk = (statements: readonly Statement[], block: Block, covers: Span): void => {
    for (const each of statements) {
      word = each.word;
      if (each.per !== undefined) sources.push(each.per.source);
      const kinds = statementRow(block, each.word)?.refers ?? [];
      switch (each.kind) {
        case 'allow':
          allows.push({ code: each.code, covers, span: each });
          break;
        case 'when': {
          variants.push(...each.variants.map((name) => ({ name })));
          const outer = when;
          when = [...outer, each.variants.map((name) => name.text)];
          walk(each.body.statements, block, each.body);
          when = outer;
          break;
        }
        case 'names':
          if (each.word === 'variant') variants.push(...each.names.map((name) => ({ name })));
          else if (kinds.length > 0) for (const name of each.names) use(name, kinds);
          break;
        case 'value':
          valued(each.value);
          valued(each.wearLimit);
          break;
        case 'phaser':
          valued(each.range);
          break;
        case 'see':
          sources.push(each.source);
          break;
        case 'dimension':
        case 'figure':
          valued(each.value);
          valued(each.wearLimit);
          break;
        case 'size':
          valued(each.step);
          if (each.body !== undefined) walk(each.body.statements, 'size', each.body);
          break;
        case 'mark':
          plain(each.at);
          refer(each.against, ['part'], 'any');
          break;
        case 'orient':
          for (const rule of each.rules) {
            refer(rule.target, ['part'], 'any');
            // A feature without a part before it is one of this part itself.
            if (rule.from?.feature !== undefined) refer(rule.from, ['part'], 'any');
            else if (rule.from !== undefined && declaration.name !== undefined)
              uses.push({
                name: { ...rule.from.owner, text: declaration.name.text },
                kinds: ['part'],
                places: [],
                word,
                feature: rule.from.owner,
                wants: 'any',
                ownFeature: true,
              });
          }
          break;
        case 'covers':
          for (const reference of each.covered)
            refer(reference, reference.feature === undefined ? kinds : ['part'], 'any');
          break;
        case 'places':
          for (const place of each.places) use(place.into, kinds);
          break;
        case 'reference':
          refer(each.reference, kinds, 'any');
          break;
        case 'timed':
          plain(each.angle);
          break;
        case 'into':
          refer(each.part, kinds, 'any');
          break;
        case 'draw-up':
          valued(each.value);
          break;
        case 'follow-on':
          for (const name of each.names) use(name, kinds);
          break;
        case 'clamps':
          for (const reference of each.clamped) refer(reference, ['part', 'grades']);
          refer(each.to, ['part', 'grades']);
          break;
        case 'each':
          refer(each.of, ['part']);
          for (const other of each.others ?? []) refer(other, ['part']);
          break;
        case 'tightening-order':
          refer(each.each, ['part']);
          refer(each.over, ['part']);
          for (const { fastener } of each.with ?? []) use(fastener, ['fastener']);
          break;
        case 'wrap':
          use(each.part, ['part']);
          for (const wheel of each.wheels) use(wheel.name, ['part']);
          break;
        case 'mesh':
        case 'ratio-of':
          use(each.first, ['part']);
          use(each.second, ['part']);
          break;
        case 'centre-distance':
          use(each.from, ['part']);
          use(each.to, ['part']);
          valued(each.value);
          break;
        case 'marked-link':
          refer(each.mark, ['part'], 'mark');
          break;
        case 'action': {
          let before: Reference | undefined;
          for (const target of each.targets) {
            refer(target, kinds, 'any', before?.owner);
            if (target.places.length > 0) before = target;
          }
          refer(each.mate?.reference, ['part', 'grades']);
          if (each.with !== undefined)
            refer(
              each.with,
              each.word === 'lubricate' || each.word === 'seal' || each.word === 'fill'
                ? ['supply']
                : ['supply', 'part'],
            );
          const only = each.targets[0];
          if (each.to !== undefined && only !== undefined)
            use(only.owner, ['part'], { feature: each.to, wants: 'size' });
          break;
        }
        case 'set':
          use(each.shaft, ['part'], each.mark === undefined ? {} : { feature: each.mark, wants: 'mark' });
          break;
        case 'rotate':
          use(each.shaft, ['part']);
          break;
        case 'confirm':
          refer(
            each.target,
            each.target.feature === undefined && each.at === undefined ? ['drive', 'part'] : ['part'],
            'mark',
          );
          break;
        case 'begins':
          use(each.sequence, ['sequence']);
          break;
        case 'record-fitted':
          refer(each.part, kinds);
          if (each.size !== undefined) use(each.part.owner, kinds, { feature: each.size, wants: 'size' });
          break;
        case 'found':
          refer(each.part, kinds);
          break;
        case 'measured':
          refer(each.limit, ['limit']);
          break;
        case 'done':
        case 'witnessed':
          refer(each.step, ['step']);
          break;
        case 'photo':
          refer(each.of, ['part']);
          break;
        case 'log':
          for (const reading of each.readings) use(reading.name, ['limit'], { isFree: true });
          break;
        default:
          break;
      }
    }
  };

  if (declaration.per !== undefined) sources.push(declaration.per.source);
  use(declaration.extends, ['spec']);
  // What a change names is the base's; an inserted step has a name of its own.
  if (declaration.changed !== undefined && declaration.word !== 'insert')
    use(declaration.name, [declaration.changed.word as NameKind]);
  use(declaration.beside?.step, ['step']);
  refer(declaration.of, blockOf(declaration) === 'limit' ? ['part'] : ['spec']);
  use(declaration.on, ['part']);
  refer(declaration.by, ['limit', 'part'], 'value');
  refer(declaration.each, blockOf(declaration) === 'limit' ? ['part', 'fastener'] : ['part'], 'any');
  express(declaration.limit?.expression);
  valued(declaration.limit?.within);
  valued(declaration.limit?.wearLimit);
  valued(declaration.limit?.over);
  valued(declaration.limit?.at);
  refer(declaration.limit?.forEach?.of, ['part', 'limit'], 'value');
  if (declaration.body !== undefined) walk(declaration.body.statements, blockOf(declaration), whole);
  return { uses, variants, allows, sources };
}
