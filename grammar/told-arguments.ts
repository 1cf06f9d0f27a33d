// What is put into what is said, for who goes by it: which name, which figure. Looked for by our own sentence, or by the kind of what is put
// in, and never in the text that comes of both: that may hold any words of a user's, and in another language it reads otherwise.
import { type Argument, type NameArgument, Told, textOf } from './told.ts';

type Leaf = Exclude<Argument, Told>;

/** All that is put into it and into its parts, those of lists one by one, each with the words of our sentence before it. */
function* leavesOf(said: Argument, before = ''): Generator<readonly [leaf: Leaf, before: string]> {
  if (said instanceof Told) {
    for (const [i, each] of said.args.entries()) yield* leavesOf(each, said.sentence[i] || before);
    return;
  }
  if (typeof said === 'object' && said.kind === 'list') for (const each of said.items) yield* leavesOf(each, before);
  else if (typeof said === 'object' && said.kind === 'capital') yield* leavesOf(said.of, before);
  else yield [said, before];
}

/** The texts that stand straight behind some words of our sentence. */
export function putBehind(said: Told, words: string): readonly string[] {
  return [...leavesOf(said)].flatMap(([leaf, before]) => (before.endsWith(words) ? [textOf(leaf)] : []));
}

/** Whether our sentence, or a part of it, has some words. */
export function hasWords(said: Told, words: string): boolean {
  return (
    said.sentence.some((piece) => piece.includes(words)) ||
    said.args.some((each) => each instanceof Told && hasWords(each, words))
  );
}

/** All texts that are put in, whatever they are. */
export function textsIn(said: Told): readonly string[] {
  return [...leavesOf(said)].map(([leaf]) => textOf(leaf));
}

/** The names that are put in. */
export function namesPutIn(said: Told): readonly NameArgument[] {
  return [...leavesOf(said)].flatMap(([leaf]) => (typeof leaf === 'object' && leaf.kind === 'name' ? [leaf] : []));
}

/** Words as specs have them that are put in: names, and those of a text; `engine.` of our sentence goes with what stands behind it. */
export function wordsPutIn(said: Told): readonly string[] {
  return [...leavesOf(said)].map(([leaf, before]) => `${/[\p{L}\p{N}-]+\.$/u.exec(before)?.[0] ?? ''}${textOf(leaf)}`);
}
