// The names that a spec has to offer, of all its variants and of the files that it uses: things by kind, features, sources, variants.
import { type Told, told } from '../../grammar/told.ts';
import type { Statement } from '../../grammar/tree.ts';
import type { NameKind } from '../../grammar/vocabulary.ts';
import type { Analysis } from '../model/analysis.ts';
import { broughtNames, tableOf } from '../model/brought-sizes.ts';
import type { BuiltView } from '../model/build-view.ts';
import { ENGINE_FIGURES } from '../model/engine-figures.ts';
import { TIMING_LIFTS, TIMING_VALUES } from '../model/valve-sums.ts';
import { LIST_OF, type Thing } from '../model/view.ts';
import type { Completion } from './offered.ts';
import type { Elsewhere } from './use-line.ts';

export interface Names {
  /** Those that no step fits or tightens yet come first. */
  ofKinds(kinds: readonly NameKind[]): readonly Completion[];
  /** Whether there are any of some kinds. */
  hasAny(kinds: readonly NameKind[]): boolean;
  features(owner: string, marksOnly: boolean): readonly Completion[];
  /** Parts that have marks, with what may follow the dot. */
  withMarks(): readonly Completion[];
  sources(): readonly Completion[];
  variants(): readonly Completion[];
}

export function namesOf(analysis: Analysis, elsewhere: readonly Elsewhere[] = []): Names {
  const { views } = analysis;
  let used: ReadonlySet<string> | undefined;
  /** The things of some kinds, each name once. */
  const things = (kinds: readonly NameKind[]): readonly Thing[] => [
    ...new Map(
      views.flatMap((view) => kinds.flatMap((kind) => thingsOfKind(view, kind).map((thing) => [thing.name, thing]))),
    ).values(),
  ];
  return {
    hasAny: (kinds) =>
      kinds.some(
        (kind) =>
          (kind === 'spec' && specNames(analysis).length > 0) ||
          views.some((view) => thingsOfKind(view, kind).length > 0) ||
          elsewhere.some((each) => each.kind === kind),
      ),
    ofKinds(kinds) {
      const specs = kinds.includes('spec') ? specNames(analysis) : [];
      const others = elsewhere
        .filter(({ name, kind }) => kinds.includes(kind) && !views.some((view) => view.things.has(name)))
        .map(
          ({ name, kind, path }): Completion => ({
            label: name,
            kind: 'name',
            detail: told`${kind} of ${path}`,
            help: told`Writes use "${path}" as well.`,
            uses: path,
            rank: 3,
          }),
        );
      const wanted = things(kinds);
      if (wanted.length === 0) return [...specs, ...others];
      used ??= usedInSteps(analysis);
      const done = used;
      return [
        ...specs,
        ...wanted.map(
          (thing): Completion => ({
            label: thing.name,
            kind: 'name',
            detail: thing.title ?? thing.kind,
            rank: done.has(thing.name) ? 1 : 0,
          }),
        ),
        ...others,
      ];
    },
    features(owner, marksOnly) {
      if (owner === 'engine')
        return Object.keys(ENGINE_FIGURES).map((name) => feature(name, told`worked out from the engine`, 0));
      const named = views.flatMap((view) => view.things.get(owner) ?? []).slice(-1);
      return named.flatMap((part) => {
        if (part.kind === 'valve-timing')
          return [...Object.keys(TIMING_VALUES), ...TIMING_LIFTS].map((name) =>
            feature(name, told`of ${told.named(owner)}`, 0),
          );
        if (part.kind !== 'part') return [];
        if (marksOnly)
          return [...part.marks.keys()].map((name) => feature(name, told`mark of ${told.named(owner)}`, 0));
        const brought = analysis.views
          .flatMap((view) => [...broughtNames(tableOf(owner, view))])
          .map((name) => feature(name, told`brought by the grade`, 0));
        const own = [...part.featureNames].map((name) =>
          feature(name, told`of ${told.named(owner)}`, part.dimensions.has(name) || part.figures.has(name) ? 0 : 1),
        );
        return [...own, ...brought];
      });
    },
    withMarks: () =>
      things(['part']).flatMap((thing) =>
        thing.kind !== 'part'
          ? []
          : [...thing.marks.keys()].map((mark) =>
              feature(`${thing.name}.${mark}`, told`mark of ${told.thing(thing)}`, 0),
            ),
      ),
    sources: () => {
      const sources = (analysis.views[0]?.specs ?? []).flatMap((spec) =>
        (spec.declaration.body?.statements ?? []).flatMap((each): Completion[] =>
          each.kind === 'source'
            ? [
                {
                  label: each.name.text,
                  kind: 'name',
                  detail: each.title?.value ?? told`source`,
                  help:
                    each.title === undefined
                      ? told`Figures come from it.`
                      : told`Figures come from it: ${each.title.value}.`,
                  rank: 0,
                },
              ]
            : [],
        ),
      );
      return [...new Map(sources.map((each) => [each.label, each])).values()];
    },
    variants: () =>
      analysis.variants.map((name) => ({
        label: name,
        kind: 'name',
        detail: told`variant`,
        help: told`A variant of this spec.`,
        rank: 0,
      })),
  };
}

function feature(label: string, detail: Told, rank: number): Completion {
  return { label, kind: 'feature', detail, help: told`${told.capital(detail)}.`, rank };
}

function specNames(analysis: Analysis): readonly Completion[] {
  return (analysis.views[0]?.specs ?? []).flatMap(({ declaration }): Completion[] =>
    declaration.name === undefined
      ? []
      : [{ label: declaration.name.text, kind: 'name', detail: declaration.title?.value ?? 'spec', rank: 0 }],
  );
}

/** The things of a kind that are known by their names; of two with one name the first. */
export function thingsOfKind(view: BuiltView, kind: NameKind): readonly Thing[] {
  const list: readonly Thing[] =
    kind in LIST_OF ? (Reflect.get(view, LIST_OF[kind as Thing['kind']]) as readonly Thing[]) : [];
  const areAll = kind !== 'grades' && view.duplicates.length === 0;
  return areAll ? list : list.filter((thing) => view.things.get(thing.name) === thing);
}

/** What a step fits or tightens; an edit leaves the statements of all other steps the same objects. */
const usedInStep = new WeakMap<readonly Statement[], readonly string[]>();

/** What some step fits or tightens. */
function usedInSteps(analysis: Analysis): ReadonlySet<string> {
  const used = new Set<string>();
  for (const view of analysis.views)
    for (const { statements } of view.steps) {
      let names = usedInStep.get(statements);
      if (names === undefined) {
        names = statements.flatMap((each) =>
          each.kind === 'action' && (each.word === 'fit' || each.word === 'tighten')
            ? each.targets.map(({ owner }) => owner.text)
            : [],
        );
        usedInStep.set(statements, names);
      }
      for (const name of names) used.add(name);
    }
  return used;
}
