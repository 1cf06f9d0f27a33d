// Questions of a view, by what they are about: worked out once for all who ask, and again when something that they read is another. Of a
// view that is not kept they are worked out each time.
import { type Asked, ask, newQuestion, type Question } from './questions.ts';
import { sameValue } from './same-value.ts';
import type { View } from './view.ts';

type Answers = Map<object, Map<unknown, Asked>>;

const answersOf = new WeakMap<View, Answers>();

/** Has the answers to questions of a view kept. */
export function keepAnswers(view: View): void {
  answersOf.set(view, new Map());
}

/** What a question may keep from one answering to the next, to be quicker about it: it must not be seen in the answer. */
export interface Kept<memory> {
  of?: memory;
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
    const answers = answersOf.get(view);
    if (answers === undefined) return work(view, subject);
    let bySubject = answers.get(work);
    if (bySubject === undefined) {
      bySubject = new Map();
      answers.set(work, bySubject);
    }
    let asked = bySubject.get(subject) as Question<answer> | undefined;
    if (asked === undefined) {
      const held = bySubject;
      const kept: Kept<memory> = {};
      asked = newQuestion(() => work(view, subject, kept), isSame, { unread: () => held.delete(subject) });
      bySubject.set(subject, asked);
    }
    return ask(asked) as answer;
  };
}
