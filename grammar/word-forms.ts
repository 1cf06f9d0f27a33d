// What a word is wherever it stands, looked at once for each way of writing it.
import type { TokenType } from 'chevrotain';
import { apart, HIDDEN, MISLEADING } from './characters.ts';
import * as t from './tokens.ts';
import { usualForm } from './vocabulary.ts';

const COUNT = /^[x×](\d+)$/i;

/** More than the longest specs have. */
const MOST_WORDS = 20_000;

export interface WordForm {
  readonly written: string;
  /** Without characters of no width; one string for each word, so that names compare and look up fast. */
  readonly word: string;
  readonly usual: string;
  readonly keyword: TokenType | undefined;
  /** The figures of a count, `x4`. */
  readonly count: string | undefined;
  readonly isMisleading: boolean;
}

const forms = new Map<string, WordForm>();

export function formOf(written: string): WordForm {
  const known = forms.get(written);
  if (known !== undefined) return known;
  if (forms.size > MOST_WORDS) forms.clear();
  const copy = apart(written);
  const plain = copy.replace(HIDDEN, '').normalize('NFC');
  const word = plain === copy ? copy : formOf(plain).word;
  const usual = usualForm(word);
  const keyword = t.KEYWORD_KINDS.get(usual);
  const isMisleading = MISLEADING.test(copy);
  MISLEADING.lastIndex = 0;
  const form = { written: copy, word, usual, keyword, count: COUNT.exec(word)?.[1], isMisleading };
  forms.set(copy, form);
  return form;
}

/** The usual form of a word (`usualForm`), worked out once for each. */
export const usualOf = (word: string): string => formOf(word).usual;
