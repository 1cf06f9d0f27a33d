// What a review says: one change between two specs, what it weighs at the bench, and where it stands in both. No comparing here.
import { type Told, told } from '../../grammar/told.ts';
import type { FilePlace } from '../model/finding.ts';

/** Critical: an engine can be lost by it. Matters: the work is otherwise. Wording: nothing is done otherwise. */
export type Weight = 'critical' | 'matters' | 'wording';

export type ChangeKind = 'changed' | 'added' | 'removed' | 'moved';

export interface Change {
  /** The thing and what of it: `fastener.head-bolt.torque`, `part.piston.orient.arrow`, `sequence.long-block.step.fit-head`. */
  readonly what: string;
  readonly kind: ChangeKind;
  readonly weight: Weight;
  /** As it is written in the old spec; absent where it is new. */
  readonly old?: string;
  readonly new?: string;
  /** In English. */
  readonly message: string;
  /** The same as a value, for another language. */
  readonly said: Told;
  readonly oldPlace?: FilePlace;
  readonly newPlace?: FilePlace;
  /** The variants that it holds for; absent where all agree. */
  readonly variants?: readonly string[];
}

export const WEIGHTS: readonly Weight[] = ['critical', 'matters', 'wording'];

/** The heavier of two weights. */
export function heavier(one: Weight, other: Weight): Weight {
  return WEIGHTS.indexOf(one) <= WEIGHTS.indexOf(other) ? one : other;
}

const LONGEST = 240;

/** A text short enough for a line of a list. */
export function clipped(text: string): string {
  return text.length <= LONGEST ? text : `${text.slice(0, LONGEST - 1).trimEnd()}…`;
}

const ENDS = /[.!?…]["”]?$/;

/** A sentence with its full stop, short enough for a line of a list. */
export function sentence(text: string): string {
  const short = clipped(text);
  return ENDS.test(short) ? short : `${short}.`;
}

/** How a value is put into words. */
export type Say = (said: Told) => string;

export const IN_PLAIN_ENGLISH: Say = (said) => said.text;

/** What a change says, in English and as a value. */
export function saying(
  said: Told,
  inEnglish: (text: string) => string = (text) => text,
): Pick<Change, 'message' | 'said'> {
  return { message: inEnglish(said.text), said };
}

/** What a change says, and a sentence behind it. */
export function sayingToo(change: Pick<Change, 'message' | 'said'>, more: Told): Pick<Change, 'message' | 'said'> {
  const between = ENDS.test(change.said.text) ? ' ' : '. ';
  return { message: `${change.message} ${more.text}`, said: told.row([change.said, between, more]) };
}

/** What a change says, in the language of whoever asks. */
export function messageIn({ message, said }: Pick<Change, 'message' | 'said'>, say: Say): string {
  const text = say(said);
  return text === said.text ? message : text.endsWith(']') ? clipped(text) : sentence(text);
}
