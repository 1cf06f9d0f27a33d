// Questions of a view, by what they are about: worked out once for all who ask, and again when something that they read is another. Of a
// view that has no cache they are worked out each time.

import { deepEqual } from './deep-equal.ts';
import {
  type Asked,
  ask,
  askUnmarked,
  isForAll,
  isInHand,
  isOnce,
  isTracking,
  newQuestion,
  noteDiffering,
  type Question,
} from './questions.ts';
import type { View } from './view.ts';

/** What is attached to a view with a cache, and is brought up to date with it. */
export interface Attached {
  refresh(): void;
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
  /** What is attached to the views that are looked at once, and is the same for all. */
  readonly attached: Map<object, Attachment<Attached>>;
}

/** Looks at the view that has that number. */
type LookAt = <result>(view: number, look: () => result) => result;

/** What is cached of a view. */
interface ViewCache {
  readonly number: number;
  readonly answers: Answers;
  readonly attached: Map<object, Attachment<Attached>>;
  /** Where there are several variants. */
  readonly together: Together | undefined;
  /** Those that may say something else than the view. */
  readonly stale: Set<Attached>;
}

const caches = new WeakMap<View, ViewCache>();

/** Has the answers to questions of a view cached. */
export function cacheAnswers(view: View): void {
  cacheFor(view, undefined, 0);
}

/**
 * Has the answers to questions of views cached that share what does not differ from variant to variant; what hangs on nothing else is answered for one.
 * Each question is answered while its own view is looked at.
 */
export function cacheAnswersTogether(views: readonly View[], lookAt: LookAt): void {
  const together = views.length < 2 ? undefined : { views, lookAt, answers: new Map(), attached: new Map() };
  for (const [number, view] of views.entries()) cacheFor(view, together, number);
}

function cacheFor(view: View, together: Together | undefined, number: number): void {
  caches.set(view, { number, answers: new Map(), attached: new Map(), stale: new Set(), together });
}

/** Looks at a view: what things say meanwhile is what they say in it. */
export function lookIn<result>(view: View, look: () => result): result {
  // What is looked at once is looked at view by view.
  if (isOnce()) return look();
  const of = caches.get(view);
  return of?.together === undefined ? look() : of.together.lookAt(of.number, look);
}

/** The view of the first variant, where this is that of another and shares with it what does not differ. */
export function firstOf(view: View): View | undefined {
  const first = caches.get(view)?.together?.views[0];
  return first === view || isOnce() ? undefined : first;
}

/** Brings all that is attached to views up to date, when they have become others and before anything is asked of them. */
export function refresh(views: readonly View[]): void {
  const failed = new Set<Attached>();
  for (;;) {
    let isFresh = true;
    for (const view of views) {
      const stale = caches.get(view)?.stale;
      for (const each of [...(stale ?? [])]) {
        if (failed.has(each)) continue;
        isFresh = false;
        stale?.delete(each);
        try {
          lookIn(view, () => each.refresh());
        } catch {
          // It stays stale, and who asks is told why.
          failed.add(each);
        }
      }
    }
    if (isFresh) return;
  }
}

/** Makes what is attached to a view; `onStale` is told when it may say something else than the view, `first` is attached to the first of several. */
type Make<attached> = (view: View, onStale: (attached: attached) => void, first: attached | undefined) => attached;

/** What is attached to a view, and to those of all variants; one alone where they share it. */
export interface Attachment<attached> {
  readonly own: attached;
  readonly all: readonly attached[];
}

/** Attaches something to a view, when it is first asked for; undefined for one that has no cache. */
export function attachedTo<attached extends Attached>(
  make: Make<attached>,
): (view: View) => Attachment<attached> | undefined {
  const alone = (view: View, of: ViewCache): Attachment<attached> => {
    let attachment = (of.attached.get(make) ?? of.together?.attached.get(make)) as Attachment<attached> | undefined;
    if (attachment === undefined) {
      const own = make(view, (each) => of.stale.add(each), undefined);
      attachment = { own, all: [own] };
      of.attached.set(make, attachment);
      of.stale.add(own);
    }
    const { own } = attachment;
    if (of.stale.size > 0 && of.stale.delete(own)) {
      own.refresh();
      if (!own.differs) of.together?.attached.set(make, attachment);
    }
    return attachment;
  };
  /** One for each view, all made at once. */
  const madeTogether = ({ views }: Together): void => {
    const all: attached[] = [];
    for (const view of views) {
      const of = caches.get(view);
      if (of === undefined) continue;
      const own = make(view, (each) => of.stale.add(each), all[0]);
      of.attached.set(make, { own, all });
      of.stale.add(own);
      all.push(own);
    }
  };
  return (view) => {
    const of = caches.get(view);
    if (of === undefined) return undefined;
    const { together } = of;
    if (together === undefined || isOnce()) return alone(view, of);
    if (!of.attached.has(make)) madeTogether(together);
    for (const each of together.views) {
      const stale = caches.get(each)?.stale;
      if (stale === undefined || stale.size === 0) continue;
      const attached = caches.get(each)?.attached.get(make)?.own;
      if (attached !== undefined && stale.delete(attached)) lookIn(each, () => attached.refresh());
    }
    return of.attached.get(make) as Attachment<attached> | undefined;
  };
}

/** What a question may remember from one answering to the next, to be quicker about it: it must not be seen in the answer. */
export interface Memo<memory> {
  of: memory | undefined;
}

/**
 * Makes a question of a function of a view and of something in it: a thing, a name. It may read what it likes of the view and ask other
 * questions; it must not depend on anything else. An answer with the same content stops a change there. Where it read what differs from variant to
 * variant, and the answers for all of them hold the same all the same, who asks has it as one; not where the question says itself what is the same.
 */
export function question<subject, answer, memory = never>(
  work: (view: View, subject: subject, memo?: Memo<memory>) => answer,
  isSame: (before: answer, now: answer) => boolean = deepEqual,
): (view: View, subject: subject) => answer {
  /** The question for a view, answered: its own, or the one of another variant that is for all. */
  const answered = (view: View, of: ViewCache, subject: subject): Asked => {
    const { answers, together } = of;
    const bySubject = answersTo(work, answers);
    const known = bySubject.get(subject);
    if (known !== undefined) {
      askUnmarked(known);
      return known;
    }
    const shared = together?.answers.get(work)?.get(subject);
    if (shared !== undefined && !isInHand(shared)) {
      askUnmarked(shared);
      if (isForAll(shared)) return shared;
      together?.answers.get(work)?.delete(subject);
    }
    const memo: Memo<memory> = { of: undefined };
    const onUnwatched = (): void => {
      bySubject.delete(subject);
      const forAll = together?.answers.get(work);
      if (forAll?.get(subject) === asked) forAll.delete(subject);
    };
    const asked: Question<answer> = newQuestion(() => lookIn(view, () => work(view, subject, memo)), isSame, {
      onUnwatched,
    });
    bySubject.set(subject, asked);
    askUnmarked(asked);
    if (together !== undefined && isForAll(asked)) answersTo(work, together.answers).set(subject, asked);
    return asked;
  };
  /** Whether the answers for all variants hold the same. */
  const isSameForAll = (asked: Asked, view: View, { views }: Together, subject: subject): boolean => {
    if (isSame !== deepEqual) return false;
    for (const other of views) {
      const of = other === view ? undefined : caches.get(other);
      if (of !== undefined && !hasSameAnswer(asked, answered(other, of, subject))) return false;
    }
    return true;
  };
  return (view, subject) => {
    const of = caches.get(view);
    if (of === undefined) return work(view, subject);
    const asked = answered(view, of, subject);
    const { together } = of;
    // What comes of a circle hangs on where it was entered.
    if (isInHand(asked)) {
      noteDiffering();
      return undefined as answer;
    }
    const mayDiffer = together !== undefined && !isForAll(asked) && (isOnce() || isTracking(undefined));
    if (mayDiffer && (isOnce() || !isSameForAll(asked, view, together, subject))) noteDiffering();
    return asked.answer as answer;
  };
}

/** An answer that another was compared with last, and what came of it. */
interface Comparison {
  readonly own: unknown;
  readonly with: unknown;
  readonly isEqual: boolean;
}

/** Whether two questions have answers that hold the same; the same two answers are compared once. */
function hasSameAnswer(asked: Asked, other: Asked): boolean {
  if (asked.answer === other.answer) return true;
  const known = other.comparison as Comparison | undefined;
  if (known !== undefined && known.own === other.answer && known.with === asked.answer) return known.isEqual;
  const isEqual = deepEqual(asked.answer, other.answer);
  const now: Comparison = { own: other.answer, with: asked.answer, isEqual };
  other.comparison = now;
  return isEqual;
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
 * view that has no cache it is worked out each time.
 */
export function byName<answer>(view: View, work: (name: string) => answer): (name: string) => answer {
  if (!caches.has(view)) return work;
  const all = new Map<string, Question<answer>>();
  return (name) => {
    let asked = all.get(name);
    if (asked === undefined) {
      asked = newQuestion(() => lookIn(view, () => work(name)), deepEqual, { onUnwatched: () => all.delete(name) });
      all.set(name, asked);
    }
    return ask(asked) as answer;
  };
}
