// What moved: steps within and between sequences, actions and remarks within and between steps. One move is one change.
import { type Told, told } from '../../grammar/told.ts';
import { type Change, saying, sayingToo } from './change.ts';
import { added, changed, type Left, removed } from './compare.ts';
import { differences, isSame, type Sides } from './differences.ts';
import type { Fact } from './facts.ts';
import type { Item } from './items.ts';
import { type Renames, renamedText } from './names.ts';
import { inOrder } from './order.ts';
import type { Paired } from './renames.ts';
import { weightOf } from './weights.ts';
import { calledItem } from './words.ts';

export interface Move {
  readonly change: Change;
  /** The step that moved, or the step that what moved now stands in. */
  readonly step: Item;
  /** The step that it stood in, for an action. */
  readonly from: Item | undefined;
  readonly fact: Fact | undefined;
  readonly old: Fact | undefined;
  readonly oldStep: Item;
}

/** What stood just before a step, in words. */
function standing(step: Item, sequence: Item | undefined): Told {
  const at = sequence?.steps.indexOf(step.name) ?? -1;
  const before = at > 0 ? sequence?.steps[at - 1] : undefined;
  const where = step.sequence === undefined ? told.nothing : told` in ${told.named(step.sequence)}`;
  return before === undefined ? told`first${where}` : told`after ${told.named(before)}${where}`;
}

function sequenceOf(step: Item, items: readonly Item[]): Item | undefined {
  return items.find((item) => item.word === 'sequence' && item.name === step.sequence);
}

/** Steps that stand elsewhere than before. */
export function movedSteps({ pairs, renames }: Paired, old: readonly Item[], now: readonly Item[]): readonly Move[] {
  const steps = pairs.filter((pair) => pair.now.word === 'step');
  const nowOf = new Map(steps.map((pair) => [pair.old.name, pair]));
  const stayed = new Set<Item>();
  for (const pair of pairs) {
    if (pair.now.word !== 'sequence') continue;
    const inThis = pair.old.steps.map((name) => nowOf.get(name));
    const kept = inOrder(inThis, pair.now.steps, (one, name) => ({
      degree: one !== undefined && one.now.name === name && one.now.sequence === pair.now.name ? 2 : 0,
      key: name,
    }));
    for (const [i] of kept) {
      const there = inThis[i];
      if (there !== undefined) stayed.add(there.now);
    }
  }
  return steps
    .filter((pair) => !stayed.has(pair.now))
    .filter((pair) => {
      const to = renames.things.get(pair.old.sequence ?? '') ?? pair.old.sequence;
      return pair.now.sequence !== to || now.some((item) => item.word === 'sequence' && item.name === to);
    })
    .map((pair) => {
      const [before, after] = [
        standing(pair.old, sequenceOf(pair.old, old)),
        standing(pair.now, sequenceOf(pair.now, now)),
      ];
      return {
        change: {
          ...{ what: pair.now.key, kind: 'moved', weight: 'matters', old: before.text, new: after.text },
          ...saying(told`${calledItem(pair.now)} moved: it was ${before}, and is now ${after}.`),
          ...{ oldPlace: pair.old.place, newPlace: pair.now.place },
        },
        ...{ step: pair.now, from: undefined, fact: undefined, old: undefined, oldStep: pair.old },
      };
    });
}

/** What stands just before a fact in its step, for the reader. */
function before(fact: Fact, step: Item): Told {
  const ordered = step.facts.filter((each) => each.ordered);
  const at = ordered.indexOf(fact);
  const other = at > 0 ? ordered[at - 1] : undefined;
  const name = told.named(step.name);
  if (!fact.ordered) return told`in ${name}`;
  return other === undefined ? told`in ${name}, first` : told`in ${name}, after ${told.named(other.text)}`;
}

export interface Sorted {
  readonly moves: readonly Move[];
  readonly changes: readonly Change[];
}

/**
 * What is gone from one step and new in another, or elsewhere in the same one, moved; what stands elsewhere and was changed as well
 * is said as changed; the rest is gone or new. Those of steps that are gone or new as a whole count only where they moved.
 */
export function sortLeft(
  gone: readonly Left[],
  fresh: readonly Left[],
  whole: ReadonlySet<Item>,
  renames: Renames,
): Sorted {
  const moves: Move[] = [];
  const changes: Change[] = [];
  const left = [...fresh];
  const sidesOf = (one: Left, other: Left): Sides => ({ old: one.item.placed, now: other.item.placed, renames });
  const unmoved = gone.filter((one) => {
    const at = left.findIndex(
      (other) => other.fact.word === one.fact.word && isSame(one.fact.node, other.fact.node, sidesOf(one, other)),
    );
    const other = at < 0 ? undefined : left.splice(at, 1)[0];
    if (other === undefined) return true;
    moves.push(moveOf(one, other));
    return false;
  });
  for (const one of unmoved) {
    const path = renamedText(one.fact.path, renames);
    const stepNow = renames.things.get(one.item.name) ?? one.item.name;
    const at = left.findIndex(
      (other) => one.fact.ordered && other.fact.ordered && other.fact.path === path && other.item.name === stepNow,
    );
    const other = at < 0 ? undefined : left.splice(at, 1)[0];
    if (other !== undefined) {
      const found = differences(one.fact.node, other.fact.node, sidesOf(one, other));
      const change = changed({ old: one.item, now: other.item }, one.fact, other.fact, found);
      changes.push({ ...change, ...sayingToo(change, told`It moved as well.`) });
    } else if (!whole.has(one.item)) changes.push(removed(one));
  }
  for (const other of left) if (!whole.has(other.item)) changes.push(added(other));
  return { moves, changes };
}

function moveOf(one: Left, other: Left): Move {
  const [was, is] = [before(one.fact, one.item), before(other.fact, other.item)];
  const { word, text, path, ordered } = other.fact;
  const weight = weightOf('step', word, 'moved') === 'wording' ? 'wording' : 'matters';
  return {
    change: {
      ...{ what: `${other.item.key}.${path}`, kind: 'moved', weight, old: was.text, new: is.text },
      ...saying(told`${calledItem(other.item)}: ${told.named(text)} moved: it was ${was}, and is now ${is}.`),
      ...{ oldPlace: one.fact.place, newPlace: other.fact.place },
    },
    step: other.item,
    from: one.item,
    fact: ordered ? other.fact : undefined,
    old: one.fact,
    oldStep: one.item,
  };
}
