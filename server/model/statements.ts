// What the statements of one word in a declaration say, and in whose braces they stand: a flag, a choice, names, a value, a whole number. What they mean is not known here.

import type { Declaration, Name, Statement, Value } from '../../grammar/tree.ts';
import type { Block } from '../../grammar/vocabulary.ts';
import { plausible } from './most.ts';

/** In whose braces the statements of a declaration stand: for a change, those of what is changed. */
export function blockOf(declaration: Declaration): Block {
  return (declaration.changed?.word ?? declaration.word) as Block;
}

/** Whether a bare word, such as `single-use`, is there. */
export function flagIn(statements: readonly Statement[], word: string): boolean {
  return statements.some((each) => each.kind === 'flag' && each.word === word);
}

/** The choice after a word, such as `joint structural`; undefined where it is not one that is known. */
export function choiceIn(statements: readonly Statement[], word: string): string | undefined {
  const found = statements.find((each) => each.word === word);
  return found?.kind === 'choice' && found.choice.known ? found.choice.word : undefined;
}

/** The names after a word. */
export function namesIn(statements: readonly Statement[], word: string): readonly Name[] {
  return statements.flatMap((each) => (each.kind === 'names' && each.word === word ? each.names : []));
}

/** The value after a word. */
export function valueIn(statements: readonly Statement[], word: string): Value | undefined {
  const found = statements.find((each) => each.word === word);
  return found?.kind === 'value' ? found.value : undefined;
}

/** The whole number after a word, such as `teeth 18`. */
export function wholeIn(statements: readonly Statement[], word: string): number | undefined {
  const found = statements.find((each) => each.word === word);
  return found?.kind === 'number' && /^\d+$/.test(found.number.text) ? plausible(Number(found.number.text)) : undefined;
}

/** Whether a word with a text is there. */
export function textIn(statements: readonly Statement[], word: string): boolean {
  return statements.some((each) => each.word === word);
}
