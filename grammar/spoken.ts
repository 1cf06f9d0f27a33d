// What is said on a page or in a picture, as text at once: such a text is cut, wrapped and set as it is made, so that it can't wait for the edge.
// It is in the language of whoever asked for the page (see told.ts), who names it with `speaking` round all of the work. Nothing that was said
// so may be kept for who asks next.
import { type Argument, IN_ENGLISH, type Rows, Told, textOf } from './told.ts';

let language: Rows = IN_ENGLISH;

/** Whatever is made meanwhile is said in this language. */
export function speaking<made>(rows: Rows, make: () => made): made {
  const before = language;
  language = rows;
  try {
    return make();
  } finally {
    language = before;
  }
}

/** From now on all is said in this language: for a page, which has one. */
export function speakAlways(rows: Rows): void {
  language = rows;
}

/** Whether English is spoken, where a word has a form of its own: one or several, a letter that is small in a sentence. */
export function isEnglish(): boolean {
  return language === IN_ENGLISH;
}

/** Something of ours in the language that is spoken. */
export function speak(argument: Argument): string {
  return textOf(argument, language);
}

/** As told`…`, in the language that is spoken. */
export function spoken(sentence: TemplateStringsArray, ...args: readonly Argument[]): string {
  return new Told(sentence, args).in(language);
}
