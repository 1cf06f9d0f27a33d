// All that a command says goes through here. What comes of a spec, a path or an argument may hold anything: characters that move the cursor
// of a terminal, turn its line round or hide what stands there. The streams take only what was made here, so that none is forgotten.
import { createColors } from 'picocolors';
import { type PackedRows, rowsOf } from '../../grammar/languages.ts';
import { IN_ENGLISH, type Rows, Told } from '../../grammar/told.ts';

const made = Symbol('made here');

/** Something to be shown, without any character that a terminal would obey but those of our own colours. */
export interface Shown {
  readonly [made]: (rows: Rows) => string;
}

/**
 * Control characters (of ASCII, and those from U+0080 to U+009F), marks of text direction, breaks of lines that are not line feeds, notes
 * between lines, tags: what a terminal obeys, or what is there and not seen.
 */
const OBEYED =
  // biome-ignore lint/suspicious/noControlCharactersInRegex: these are the characters to take out.
  /[\u0000-\u001f\u007f-\u009f\u061c\u180e\u200e\u200f\u2028-\u202e\u2066-\u206f\ufff9-\ufffb\u{e0000}-\u{e007f}]|\p{Cs}/gu;

const clean = (text: string): string => text.replace(OBEYED, (letter) => (letter === '\t' ? '\t' : '?'));

/** A template whose pieces of text each stay on their line: `shown\`${path}: ${message}\n\``. */
export function shown(parts: TemplateStringsArray, ...pieces: readonly (string | number | Told | Shown)[]): Shown {
  const textOf = (piece: string | number | Told | Shown | undefined, rows: Rows): string =>
    piece === undefined
      ? ''
      : piece instanceof Told
        ? clean(piece.in(rows))
        : typeof piece === 'object'
          ? piece[made](rows)
          : clean(String(piece));
  return { [made]: (rows) => parts.map((part, i) => part + textOf(pieces[i], rows)).join('') };
}

/** A text of many lines. */
export function lines(text: string | Told): Shown {
  const cleaned = (whole: string): string => whole.split('\n').map(clean).join('\n');
  return { [made]: (rows) => cleaned(typeof text === 'string' ? text : text.in(rows)) };
}

/** Several, one after the other, or with something between them. */
export function joined(pieces: readonly Shown[], between = ''): Shown {
  return { [made]: (rows) => pieces.map((piece) => piece[made](rows)).join(between) };
}

/** Data as JSON that shows what it holds: what a terminal would obey stands there by its number. A reader of JSON gets the letter itself. */
export function data(value: unknown): Shown {
  const byNumber = (letter: string): string =>
    [...Array(letter.length).keys()].map((i) => `\\u${letter.charCodeAt(i).toString(16).padStart(4, '0')}`).join('');
  const text = JSON.stringify(value, null, 2);
  const whole = `${text.replace(OBEYED, (letter) => (letter === '\n' ? letter : byNumber(letter)))}\n`;
  return { [made]: () => whole };
}

/** What is shown, as text for a file. */
export function textOf(piece: Shown, rows: Rows = IN_ENGLISH): string {
  return piece[made](rows);
}

/** The colours of a terminal, or none. */
export interface Colours {
  readonly red: (text: string | Told | Shown) => Shown;
  readonly yellow: (text: string | Told | Shown) => Shown;
  readonly cyan: (text: string | Told | Shown) => Shown;
  readonly bold: (text: string | Told | Shown) => Shown;
  readonly dim: (text: string | Told | Shown) => Shown;
}

export function coloursFor({ terminal, plain }: Pick<Ends, 'terminal' | 'plain'>): Colours {
  const { red, yellow, cyan, bold, dim } = createColors(terminal && plain !== true);
  const tinted =
    (tint: (text: string) => string) =>
    (text: string | Told | Shown): Shown => ({ [made]: (rows) => tint(shown`${text}`[made](rows)) });
  return { red: tinted(red), yellow: tinted(yellow), cyan: tinted(cyan), bold: tinted(bold), dim: tinted(dim) };
}

/** What a command is run with: where its letters go, and what it may ask. Of a process, or of a test. */
export interface Ends {
  out(text: string): void;
  err(text: string): void;
  /** Whether results go to a terminal, where colour may help. */
  readonly terminal: boolean;
  /** Whether the user wants no colour there. */
  readonly plain?: boolean;
  /** Whether remarks go to a terminal, where progress may be shown. */
  readonly progress?: boolean;
  readonly folder: string;
  /** All of standard input as text. Throws CannotDo where it is no UTF-8. */
  stdin(): Promise<string>;
  /** Asks a person at the terminal; undefined where nobody is there. */
  ask?(question: string, choices: readonly string[]): Promise<string>;
  /** The language that the surroundings ask for, where it is one that there are words of. */
  readonly language?: string | undefined;
  /** The words of a language. */
  words?(language: string): PackedRows | undefined;
}

/** What a command sees of the world. */
export interface Streams extends Omit<Ends, 'out' | 'err' | 'progress' | 'language' | 'words'> {
  /** The words of the language that is spoken; none for English. */
  readonly words?: PackedRows;
  /** The same, to be asked. */
  readonly rows: Rows;
  /** What is said, in that language. */
  say(told: Told): string;
  out(piece: Shown): void;
  err(piece: Shown): void;
  /** A file, to the letter, for a pipe; on a terminal it is shown like all else. */
  file(text: string): void;
  /** How far the work is, on a terminal alone, in the place of what was told before; undefined takes it back. */
  progress?(told: Shown | undefined): void;
}

/** The streams of a command over the ends that it is given: the one way from a command to a terminal. */
export function streamsOver(ends: Ends, language = ends.language): Streams {
  const { out, err, progress, language: _asked, words: wordsOf, ...rest } = ends;
  const words = language === undefined ? undefined : wordsOf?.call(ends, language);
  const rows = words === undefined ? IN_ENGLISH : rowsOf(words);
  return {
    ...rest,
    ...(words === undefined ? {} : { words }),
    rows,
    say: (told) => told.in(rows),
    out: (piece) => out.call(ends, piece[made](rows)),
    err: (piece) => err.call(ends, piece[made](rows)),
    file: (text) => out.call(ends, ends.terminal ? lines(text)[made](rows) : text),
    ...(progress === true
      ? { progress: (told: Shown | undefined) => err.call(ends, `\r\u001b[K${told?.[made](rows) ?? ''}`) }
      : {}),
  };
}
