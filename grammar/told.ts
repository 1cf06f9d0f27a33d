// What is said to a user, as a value: the sentence and what is put into it, each with its kind. It is made into text at the edge, in the
// language that is asked for; in English it is what stands in the source. To say something new, write told`…` and its rows in translations.

/** The name of something that a spec declares, and what it is where that is known: `part`, `fastener`, `step`. */
export interface NameArgument {
  readonly kind: 'name';
  readonly text: string;
  readonly of?: string;
}

/** A figure with its unit as the language writes it (`N.m`); no unit for a plain number. */
export interface QuantityArgument {
  readonly kind: 'quantity';
  readonly text: string;
  readonly value: number;
  readonly unit: string;
}

/** Two figures in one unit; an end that is open is not there. */
export interface RangeArgument {
  readonly kind: 'range';
  readonly text: string | Told;
  readonly low?: number;
  readonly high?: number;
  readonly unit: string;
}

/** One place of several: `upper 2`, `cylinder 3`. */
export interface PlaceArgument {
  readonly kind: 'place';
  readonly text: string;
}

/** Several in a row: `a, b and c`. */
export interface ListArgument {
  readonly kind: 'list';
  readonly items: readonly Argument[];
  readonly last: ListWord;
  /** How many of them are written out. */
  readonly most: number;
}

/** A term of the trade from a table of ours (a kind of unit, a usual size), which has a row in the translations by itself. */
export interface TermArgument {
  readonly kind: 'term';
  readonly text: string;
}

/** The same, begun with a capital letter. */
export interface CapitalArgument {
  readonly kind: 'capital';
  readonly of: Argument;
}

export type ListWord = 'and' | 'or' | 'then' | 'after' | ',' | ';';

/** A text is what stands in a spec, a word of the language or a path: it is the same in every language. A number is a count. */
export type Argument =
  | string
  | number
  | Told
  | NameArgument
  | QuantityArgument
  | RangeArgument
  | PlaceArgument
  | ListArgument
  | TermArgument
  | CapitalArgument;

/** The rows of a language: what is said for an English sentence, with `{0}`, `{1}` for what is put in; undefined where there is no row. */
export type Rows = (english: string) => string | undefined;

/** No rows: what stands in the source. */
export const IN_ENGLISH: Rows = () => undefined;

/** A sentence, or a part of one, with what is put into it. Equal to another by what it says. */
export class Told {
  readonly sentence: readonly string[];
  readonly args: readonly Argument[];
  #english: string | undefined;

  constructor(sentence: readonly string[], args: readonly Argument[]) {
    this.sentence = sentence;
    this.args = args;
  }

  /** In English; made once, when somebody wants to read it. */
  get text(): string {
    this.#english ??= this.#put(IN_ENGLISH);
    return this.#english;
  }

  /** In the language of these rows; what has no row there is said in English. */
  in(rows: Rows): string {
    if (rows === IN_ENGLISH) return this.text;
    const row = rows(keyOf(this.sentence));
    if (row === undefined) return this.#put(rows);
    return row.replace(/\{(\d+)\}/g, (_, at: string) => textOf(this.args[Number(at)] ?? '', rows));
  }

  /** The sentence as it stands in the source, with what is put in. */
  #put(rows: Rows): string {
    return this.sentence.reduce((text, piece, i) => text + textOf(this.args[i - 1] ?? '', rows) + piece);
  }

  toString(): string {
    return this.text;
  }
}

/** The English sentence with `{0}`, `{1}` for what is put in: what a row of a translation goes by. */
export function keyOf(sentence: readonly string[]): string {
  return sentence.reduce((text, piece, i) => `${text}{${i - 1}}${piece}`);
}

/** An argument as text. */
export function textOf(argument: Argument, rows: Rows = IN_ENGLISH): string {
  if (typeof argument !== 'object') return String(argument);
  if (argument instanceof Told) return rows === IN_ENGLISH ? argument.text : argument.in(rows);
  switch (argument.kind) {
    case 'list':
      return listIn(argument, rows);
    case 'capital':
      return textOf(argument.of, rows).replace(/^./u, (letter) => letter.toUpperCase());
    case 'term':
      return rows(argument.text) ?? argument.text;
    case 'range':
      return typeof argument.text === 'string' ? argument.text : textOf(argument.text, rows);
    default:
      return argument.text;
  }
}

const JOINED: Readonly<Record<ListWord, (before: string, last: string) => Told>> = {
  and: (before, last) => told`${before} and ${last}`,
  or: (before, last) => told`${before} or ${last}`,
  // biome-ignore lint/suspicious/noThenProperty: a word that joins, no promise.
  then: (before, last) => told`${before}, then ${last}`,
  after: (before, last) => told`${before} after ${last}`,
  ',': (before, last) => told`${before}, ${last}`,
  ';': (before, last) => told`${before}; ${last}`,
};

function listIn({ items, last, most }: ListArgument, rows: Rows): string {
  const texts = items.map((item) => textOf(item, rows));
  if (texts.length < 2) return texts[0] ?? '';
  if (texts.length > most + 1)
    return JOINED[last](texts.slice(0, most).join(', '), told`${texts.length - most} more`.in(rows)).in(rows);
  if (last !== 'and' && last !== 'or' && last !== ',')
    return texts.reduce((before, next) => JOINED[last](before, next).in(rows));
  return JOINED[last](texts.slice(0, -1).join(', '), texts[texts.length - 1] ?? '').in(rows);
}

function say(sentence: TemplateStringsArray, ...args: readonly Argument[]): Told {
  return new Told(sentence, args);
}

/** Says something: told`${told.thing(bolt)} is tightened to ${figure}.` What is put in says of what kind it is by these. */
export const told = Object.assign(say, {
  /** Nothing is said: in the place of a part of a sentence that may not be there. */
  nothing: new Told([''], []),
  /** What comes of an error, or of a spec, as it is: in no language of ours. */
  asIs: (text: string): Told => new Told(['', ''], [text]),
  /** A thing that a spec declares. */
  thing: (thing: { readonly name: string; readonly kind: string }): NameArgument => ({
    kind: 'name',
    text: thing.name,
    of: thing.kind,
  }),
  /** A name where the thing is not at hand; `of` is what kind of thing it is, where that is known. */
  named: (text: string, of?: string): NameArgument =>
    of === undefined ? { kind: 'name', text } : { kind: 'name', text, of },
  /** One place of several. */
  place: (text: string): PlaceArgument => ({ kind: 'place', text }),
  /** A figure; `text` is how it is shown with its unit. */
  quantity: (text: string, value: number, unit: string): QuantityArgument => ({ kind: 'quantity', text, value, unit }),
  /** Two figures; `text` is how they are shown with their unit. */
  range: (text: string | Told, low: number | undefined, high: number | undefined, unit: string): RangeArgument => ({
    kind: 'range',
    text,
    ...(low === undefined ? {} : { low }),
    ...(high === undefined ? {} : { high }),
    unit,
  }),
  /** A term from a table of ours. */
  term: (text: string): TermArgument => ({ kind: 'term', text }),
  /** The same, where a sentence begins with it. */
  capital: (of: Argument): CapitalArgument => ({ kind: 'capital', of }),
  /** `a, b and c`; of more than `most`, how many more there are. */
  list: (
    items: readonly Argument[],
    last: ListWord = 'and',
    most: number = Number.POSITIVE_INFINITY,
  ): ListArgument => ({ kind: 'list', items, last, most }),
  /** One after the other, with nothing between them. */
  row: (pieces: readonly Argument[]): Told => new Told(new Array<string>(pieces.length + 1).fill(''), pieces),
});

/** Whether two say the same; `same` compares what is put in. */
export function sameTold(one: Told, other: Told, same: (one: unknown, other: unknown) => boolean): boolean {
  if (one.sentence !== other.sentence) {
    if (one.sentence.length !== other.sentence.length) return false;
    for (let i = 0; i < one.sentence.length; i += 1) if (one.sentence[i] !== other.sentence[i]) return false;
  }
  for (let i = 0; i < one.args.length; i += 1) if (!same(one.args[i], other.args[i])) return false;
  return true;
}
