// Brings a view up to date after an edit that changed declarations and neither their names nor their number: the usual edit. For any
// other the view is built anew.
import { type BuiltView, perhapsIn, thingOf } from './build-view.ts';
import { engineOf } from './declared-data.ts';
import { holdsFor, type Placed, type ReadFile, type ReadSection } from './placed.ts';
import { sectionChanges } from './section-changes.ts';
import type { Thing } from './view.ts';

/** A thing before an edit and after it; its text differs. */
export interface ChangedThing {
  readonly old: Thing;
  readonly now: Thing;
}

export interface ViewChanges {
  readonly things: readonly ChangedThing[];
  readonly engine: boolean;
  /** Other names may now be declared where something can't be read. */
  readonly perhaps: boolean;
}

export interface Patched {
  readonly view: BuiltView;
  readonly changes: ViewChanges;
}

/** What stands for more than itself: a change in it is a change everywhere. A spec that says the same is only moved. */
const FAR_REACHING = new Set(['spec', 'use', 'grades']);
const isFarReaching = (old: Placed, now: Placed): boolean =>
  FAR_REACHING.has(old.declaration.word) && !(old.declaration.word === 'spec' && old.parsed === now.parsed);

interface Pair {
  readonly old: Thing;
  readonly now: Thing;
}

function holding(sections: readonly ReadSection[], variant: string | undefined): readonly Placed[] {
  return sections.flatMap((section) => section.declarations).filter((placed) => holdsFor(placed, variant));
}

function pairOf(old: Placed, now: Placed, variant: string | undefined): readonly Pair[] | undefined {
  if (old === now) return [];
  const [before, after] = [thingOf(old, variant), thingOf(now, variant)];
  if (before === undefined && after === undefined) return [];
  if (before === undefined || after === undefined || before.kind !== after.kind || before.name !== after.name)
    return undefined;
  const pairs: Pair[] = [{ old: before, now: after }];
  if (before.kind !== 'sequence' || after.kind !== 'sequence') return pairs;
  if (before.steps.length !== after.steps.length) return undefined;
  for (const [i, step] of before.steps.entries()) {
    const there = after.steps[i];
    if (there === undefined || there.name !== step.name) return undefined;
    if (there !== step) pairs.push({ old: step, now: there });
  }
  return pairs;
}

/** A list with some of its things in the place of others. */
function replaced<thing>(list: readonly thing[], by: ReadonlyMap<unknown, unknown>): readonly thing[] {
  return by.size === 0 ? list : list.map((each) => (by.get(each) as thing | undefined) ?? each);
}

/**
 * The view of some files for the variant of a view of their earlier readings. Undefined where it has to be built anew. The earlier
 * view is good no more: its names lead to the new things.
 */
export function patchView(
  before: BuiltView,
  old: readonly ReadFile[],
  files: readonly ReadFile[],
): Patched | undefined {
  if (before.duplicates.length > 0 || old.length !== files.length) return undefined;
  const { variant } = before;
  const pairs: Pair[] = [];
  const engines = new Map<Placed, Placed>();
  const specs = new Map<Placed, Placed>();
  for (const [i, file] of files.entries()) {
    const was = old[i];
    if (was === undefined || was.file !== file.file) return undefined;
    const { gone, come } = sectionChanges(was, file);
    if ([...gone, ...come].some((section) => section.whens.length > 0)) return undefined;
    const [then, now] = [holding(gone, variant), holding(come, variant)];
    if (then.length !== now.length) return undefined;
    for (const [at, placed] of then.entries()) {
      const other = now[at];
      const { word } = placed.declaration;
      if (other === undefined || other.declaration.word !== word || isFarReaching(placed, other)) return undefined;
      if (word === 'engine') engines.set(placed, other);
      if (word === 'spec') specs.set(placed, other);
      const pair = pairOf(placed, other, variant);
      if (pair === undefined) return undefined;
      pairs.push(...pair);
    }
  }
  // What a fastener is like may have changed with any of them.
  const fasteners = pairs.flatMap(({ now }) => (now.kind === 'fastener' ? [now] : []));
  if (fasteners.length > 0 && [...fasteners, ...before.fasteners].some(({ like }) => like !== undefined))
    return undefined;
  const things = before.things as Map<string, Thing>;
  const byKind = new Map<Thing['kind'], Map<unknown, unknown>>();
  for (const { old: then, now } of pairs) {
    things.set(now.name, now);
    const kind = byKind.get(now.kind) ?? new Map<unknown, unknown>();
    byKind.set(now.kind, kind.set(then, now));
  }
  const list = <thing>(kind: Thing['kind'], from: readonly thing[]): readonly thing[] =>
    replaced(from, byKind.get(kind) ?? new Map());
  const engine = [...engines].find(([then]) => then === before.engine?.placed)?.[1];
  const perhaps = perhapsIn(files);
  const isNew = (then: Placed, now: Placed): boolean => then.parsed !== now.parsed;
  return {
    view: {
      ...before,
      engine: engine === undefined ? before.engine : engineOf(engine, variant),
      engines: replaced(before.engines, engines),
      specs: replaced(before.specs, specs),
      parts: list('part', before.parts),
      fasteners: list('fastener', before.fasteners),
      supplies: list('supply', before.supplies),
      drives: list('drive', before.drives),
      valveTimings: list('valve-timing', before.valveTimings),
      limits: list('limit', before.limits),
      sequences: list('sequence', before.sequences),
      jobs: list('job', before.jobs),
      steps: list('step', before.steps),
      perhaps,
    },
    changes: {
      things: pairs.filter(({ old: then, now }) => isNew(then.placed, now.placed)),
      engine: [...engines].some(([then, now]) => isNew(then, now)),
      perhaps: perhaps !== before.perhaps,
    },
  };
}
