// Questions of a view, by what they are about: worked out once for all who ask, and again when something that they read is another. Of a
// view that is not kept they are worked out each time.
import {
  type Asked,
  ask,
  askApart,
  isForAll,
  isInHand,
  isNoted,
  isOnce,
  newQuestion,
  noteDiffering,
  type Question,
} from './questions.ts';
import { sameValue } from './same-value.ts';
import type { View } from './view.ts';

/** What stands beside a view that is kept, and is brought up to date with it. */
export interface Standing {
  bringUp(): void;
  /** Whether it says something else from variant to variant, of views that are looked at once and share what does not differ. */
  readonly differs: boolean;
}

type Answers = Map<object, Map<unknown, Asked>>;

/** What the views of all variants of a spec share; see shared-views.ts and recorded-together.ts. */
interface Together {
  readonly views: readonly View[];
  /** Looks at one of the views, where the things of all are the same objects. */
  readonly lookAt: LookAt;
  /** Answers that are those for all variants. */
  readonly answers: Answers;
  /** What stands beside the views that are looked at once, and is the same for all. */
  readonly standing: Map<object, Beside<Standing>>;
}

/** Looks at the view that has that number. */
type LookAt = <result>(view: number, look: () => result) => result;

interface KeptView {
  readonly number: number;
  readonly answers: Answers;
  readonly standing: Map<object, Beside<Standing>>;
  /** Where there are several variants. */
  readonly together: Together | undefined;
  /** Those that may say something else than the view. */
  readonly behind: Set<Standing>;
}

const kept = new WeakMap<View, KeptView>();

/** Has the answers to questions of a view kept. */
export function keepAnswers(view: View): void {
  keep(view, undefined, 0);
}

/**
 * Has the answers to questions of views kept that share what does not differ from variant to variant; what hangs on nothing else is answered for one.
 * Each question is answered while its own view is looked at.
 */
export function keepAnswersTogether(views: readonly View[], lookAt: LookAt): void {
  const together = views.length < 2 ? undefined : { views, lookAt, answers: new Map(), standing: new Map() };
  for (const [number, view] of views.entries()) keep(view, together, number);
}

function keep(view: View, together: Together | undefined, number: number): void {
  kept.set(view, { number, answers: new Map(), standing: new Map(), behind: new Set(), together });
}

/** Looks at a view: what things say meanwhile is what they say in it. */
export function lookIn<result>(view: View, look: () => result): result {
  // What is looked at once is looked at view by view.
  if (isOnce()) return look();
  const of = kept.get(view);
  return of?.together === undefined ? look() : of.together.lookAt(of.number, look);
}

/** The view of the first variant, where this is that of another and shares with it what does not differ. */
export function firstOf(view: View): View | undefined {
  const first = kept.get(view)?.together?.views[0];
  return first === view || isOnce() ? undefined : first;
}

/** Brings all that stands beside views up to them, when they have become others and before anything is asked of them. */
export function bringUp(views: readonly View[]): void {
  const failed = new Set<Standing>();
  for (;;) {
    let isUp = true;
    for (const view of views) {
      const behind = kept.get(view)?.behind;
      for (const each of [...(behind ?? [])]) {
        if (failed.has(each)) continue;
        isUp = false;
        behind?.delete(each);
        try {
          lookIn(view, () => each.bringUp());
        } catch {
          // It stays behind, and who asks is told why.
          failed.add(each);
        }
      }
    }
    if (isUp) return;
  }
}

/** Makes what stands beside a view; `fallsBehind` is told when it may say something else than the view, `first` stands beside the first of several. */
type Make<standing> = (view: View, fallsBehind: (standing: standing) => void, first: standing | undefined) => standing;

/** What stands beside a view, and beside those of all variants; one alone where they share it. */
export interface Beside<standing> {
  readonly own: standing;
  readonly all: readonly standing[];
}

/** Makes something that stands beside a view, when it is first asked for; undefined beside one that is not kept. */
export function standingWith<standing extends Standing>(
  make: Make<standing>,
): (view: View) => Beside<standing> | undefined {
  const alone = (view: View, of: KeptView): Beside<standing> => {
    let beside = (of.standing.get(make) ?? of.together?.standing.get(make)) as Beside<standing> | undefined;
    if (beside === undefined) {
      const own = make(view, (each) => of.behind.add(each), undefined);
      beside = { own, all: [own] };
      of.standing.set(make, beside);
      of.behind.add(own);
    }
    const { own } = beside;
    if (of.behind.size > 0 && of.behind.delete(own)) {
      own.bringUp();
      if (!own.differs) of.together?.standing.set(make, beside);
    }
    return beside;
  };
  /** One beside each view, all made at once. */
  const madeTogether = ({ views }: Together): void => {
    const all: standing[] = [];
    for (const view of views) {
      const of = kept.get(view);
      if (of === undefined) continue;
      const own = make(view, (each) => of.behind.add(each), all[0]);
      of.standing.set(make, { own, all });
      of.behind.add(own);
      all.push(own);
    }
  };
  return (view) => {
    const of = kept.get(view);
    if (of === undefined) return undefined;
    const { together } = of;
    if (together === undefined || isOnce()) return alone(view, of);
    if (!of.standing.has(make)) madeTogether(together);
    for (const each of together.views) {
      const behind = kept.get(each)?.behind;
      if (behind === undefined || behind.size === 0) continue;
      const standing = kept.get(each)?.standing.get(make)?.own;
      if (standing !== undefined && behind.delete(standing)) lookIn(each, () => standing.bringUp());
    }
    return of.standing.get(make) as Beside<standing> | undefined;
  };
}

/** What a question may keep from one answering to the next, to be quicker about it: it must not be seen in the answer. */
export interface Kept<memory> {
  of: memory | undefined;
}

/**
 * Makes a question of a function of a view and of something in it: a thing, a name. It may read what it likes of the view and ask other
 * questions; it must not depend on anything else. An answer with the same content stops a change there. Where it read what differs from variant to
 * variant, and the answers for all of them hold the same all the same, who asks has it as one; not where the question says itself what is the same.
 */
export function question<subject, answer, memory = never>(
  work: (view: View, subject: subject, kept?: Kept<memory>) => answer,
  isSame: (before: answer, now: answer) => boolean = sameValue,
): (view: View, subject: subject) => answer {
  /** The question for a view, answered: its own, or the one of another variant that is for all. */
  const answered = (view: View, of: KeptView, subject: subject): Asked => {
    const { answers, together } = of;
    const bySubject = answersTo(work, answers);
    const known = bySubject.get(subject);
    if (known !== undefined) {
      askApart(known);
      return known;
    }
    const shared = together?.answers.get(work)?.get(subject);
    if (shared !== undefined && !isInHand(shared)) {
      askApart(shared);
      if (isForAll(shared)) return shared;
      together?.answers.get(work)?.delete(subject);
    }
    const memory: Kept<memory> = { of: undefined };
    const unread = (): void => {
      bySubject.delete(subject);
      const forAll = together?.answers.get(work);
      if (forAll?.get(subject) === asked) forAll.delete(subject);
    };
    const asked: Question<answer> = newQuestion(() => lookIn(view, () => work(view, subject, memory)), isSame, {
      unread,
    });
    bySubject.set(subject, asked);
    askApart(asked);
    if (together !== undefined && isForAll(asked)) answersTo(work, together.answers).set(subject, asked);
    return asked;
  };
  /** Whether the answers for all variants hold the same. */
  const isSameForAll = (asked: Asked, view: View, { views }: Together, subject: subject): boolean => {
    if (isSame !== sameValue) return false;
    for (const other of views) {
      const of = other === view ? undefined : kept.get(other);
      if (of !== undefined && !hasSameAnswer(asked, answered(other, of, subject))) return false;
    }
    return true;
  };
  return (view, subject) => {
    const of = kept.get(view);
    if (of === undefined) return work(view, subject);
    const asked = answered(view, of, subject);
    const { together } = of;
    // What comes of a circle hangs on where it was entered.
    if (isInHand(asked)) {
      noteDiffering();
      return undefined as answer;
    }
    const mayDiffer = together !== undefined && !isForAll(asked) && (isOnce() || isNoted(undefined));
    if (mayDiffer && (isOnce() || !isSameForAll(asked, view, together, subject))) noteDiffering();
    return asked.answer as answer;
  };
}

/** An answer that another was compared with last, and what came of it. */
interface Likeness {
  readonly own: unknown;
  readonly with: unknown;
  readonly isLike: boolean;
}

/** Whether two questions have answers that hold the same; the same two answers are compared once. */
function hasSameAnswer(asked: Asked, other: Asked): boolean {
  if (asked.answer === other.answer) return true;
  const known = other.likeness as Likeness | undefined;
  if (known !== undefined && known.own === other.answer && known.with === asked.answer) return known.isLike;
  const isLike = sameValue(asked.answer, other.answer);
  const now: Likeness = { own: other.answer, with: asked.answer, isLike };
  other.likeness = now;
  return isLike;
}

function answersTo(work: object, answers: Answers): Map<unknown, Asked> {
  let bySubject = answers.get(work);
  if (bySubject === undefined) {
    bySubject = new Map();
    answers.set(work, bySubject);
  }
  return bySubject;
}

/**
 * A question of names alone, for somebody who lives as long as the view or less: whoever asks for one name hangs on the answer for that name. Of a
 * view that is not kept it is worked out each time.
 */
export function byName<answer>(view: View, work: (name: string) => answer): (name: string) => answer {
  if (!kept.has(view)) return work;
  const all = new Map<string, Question<answer>>();
  return (name) => {
    let asked = all.get(name);
    if (asked === undefined) {
      asked = newQuestion(() => lookIn(view, () => work(name)), sameValue, { unread: () => all.delete(name) });
      all.set(name, asked);
    }
    return ask(asked) as answer;
  };
}
