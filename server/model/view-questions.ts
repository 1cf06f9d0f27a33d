// Questions of a view, by what they are about: worked out once for all who ask, and again when something that they read is another. Of a
// view that is not kept they are worked out each time.
import { type Asked, ask, isForAll, newQuestion, type Question } from './questions.ts';
import { sameValue } from './same-value.ts';
import type { View } from './view.ts';

/** What stands beside a view that is kept, and is brought up to date with it. */
export interface Standing {
  bringUp(): void;
  /** Whether it says something else from variant to variant, of views that share what does not differ. */
  readonly differs: boolean;
}

type Answers = Map<object, Map<unknown, Asked>>;

/** What is the same for all variants of views that share it; see shared-views.ts. */
interface ForAll {
  readonly answers: Answers;
  readonly standing: Map<object, Standing>;
}

interface KeptView {
  readonly answers: Answers;
  readonly standing: Map<object, Standing>;
  readonly forAll: ForAll | undefined;
  /** Those that may say something else than the view. */
  readonly behind: Set<Standing>;
}

const kept = new WeakMap<View, KeptView>();

/** Has the answers to questions of a view kept. */
export function keepAnswers(view: View): void {
  keep(view, undefined);
}

/** Has the answers to questions of views kept that are looked at once and share what does not differ; what hangs on nothing else is answered for one. */
export function keepAnswersForAll(views: readonly View[]): void {
  const forAll = { answers: new Map(), standing: new Map() };
  for (const view of views) keep(view, forAll);
}

function keep(view: View, forAll: ForAll | undefined): void {
  kept.set(view, { answers: new Map(), standing: new Map(), behind: new Set(), forAll });
}

/** Brings all that stands beside a view up to it, when it has become another and before anything is asked of it. */
export function bringUp(view: View): void {
  const behind = kept.get(view)?.behind;
  const failed = new Set<Standing>();
  for (;;) {
    const next = [...(behind ?? [])].filter((each) => !failed.has(each));
    if (next.length === 0) return;
    for (const each of next) {
      behind?.delete(each);
      try {
        each.bringUp();
      } catch {
        // It stays behind, and who asks is told why.
        failed.add(each);
      }
    }
  }
}

/** Makes something that stands beside a view, when it is first asked for; undefined beside one that is not kept. */
export function standingWith<standing extends Standing>(
  make: (view: View, fallsBehind: (standing: Standing) => void) => standing,
): (view: View) => standing | undefined {
  return (view) => {
    const of = kept.get(view);
    if (of === undefined) return undefined;
    let standing = (of.standing.get(make) ?? of.forAll?.standing.get(make)) as standing | undefined;
    if (standing === undefined) {
      standing = make(view, (each) => of.behind.add(each));
      of.standing.set(make, standing);
      of.behind.add(standing);
    }
    if (of.behind.delete(standing)) {
      standing.bringUp();
      if (!standing.differs) of.forAll?.standing.set(make, standing);
    }
    return standing;
  };
}

/** What a question may keep from one answering to the next, to be quicker about it: it must not be seen in the answer. */
export interface Kept<memory> {
  of: memory | undefined;
}

/**
 * Makes a question of a function of a view and of something in it: a thing, a name. It may read what it likes of the view and ask other
 * questions; it must not depend on anything else. An answer with the same content stops a change there.
 */
export function question<subject, answer, memory = never>(
  work: (view: View, subject: subject, kept?: Kept<memory>) => answer,
  isSame: (before: answer, now: answer) => boolean = sameValue,
): (view: View, subject: subject) => answer {
  return (view, subject) => {
    const of = kept.get(view);
    if (of === undefined) return work(view, subject);
    const { answers, forAll } = of;
    const bySubject = answersTo(work, answers);
    const known = bySubject.get(subject) ?? forAll?.answers.get(work)?.get(subject);
    if (known !== undefined) return ask(known) as answer;
    const memory: Kept<memory> = { of: undefined };
    const asked = newQuestion(() => work(view, subject, memory), isSame, { unread: () => bySubject.delete(subject) });
    bySubject.set(subject, asked);
    const answer = ask(asked);
    if (forAll !== undefined && isForAll(asked)) answersTo(work, forAll.answers).set(subject, asked);
    return answer as answer;
  };
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
      asked = newQuestion(() => work(name), sameValue, { unread: () => all.delete(name) });
      all.set(name, asked);
    }
    return ask(asked) as answer;
  };
}
