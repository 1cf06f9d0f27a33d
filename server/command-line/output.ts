// All that a command says goes through here. What comes of a spec, a path or an argument may hold anything: characters that move the cursor
// of a terminal, turn its line round or hide what stands there. The streams take only what was made here, so that none is forgotten.
import { createColors } from 'picocolors';

const made = Symbol('made here');

/** Something to be shown, without any character that a terminal would obey but those of our own colours. */
export interface Shown {
  readonly [made]: string;
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
export function shown(parts: TemplateStringsArray, ...pieces: readonly (string | number | Shown)[]): Shown {
  const text = parts.map((part, i) => {
    const piece = pieces[i];
    if (piece === undefined) return part;
    return part + (typeof piece === 'object' ? piece[made] : clean(String(piece)));
  });
  return { [made]: text.join('') };
}

/** A text of many lines. */
export function lines(text: string): Shown {
  return { [made]: text.split('\n').map(clean).join('\n') };
}

/** Several, one after the other, or with something between them. */
export function joined(pieces: readonly Shown[], between = ''): Shown {
  return { [made]: pieces.map((piece) => piece[made]).join(between) };
}

/** Data as JSON that shows what it holds: what a terminal would obey stands there by its number. A reader of JSON gets the letter itself. */
export function data(value: unknown): Shown {
  const byNumber = (letter: string): string =>
    [...Array(letter.length).keys()].map((i) => `\\u${letter.charCodeAt(i).toString(16).padStart(4, '0')}`).join('');
  const text = JSON.stringify(value, null, 2);
  return { [made]: `${text.replace(OBEYED, (letter) => (letter === '\n' ? letter : byNumber(letter)))}\n` };
}

/** What is shown, as text for a file. */
export function textOf(piece: Shown): string {
  return piece[made];
}

/** The colours of a terminal, or none. */
export interface Colours {
  readonly red: (text: string | Shown) => Shown;
  readonly yellow: (text: string | Shown) => Shown;
  readonly cyan: (text: string | Shown) => Shown;
  readonly bold: (text: string | Shown) => Shown;
  readonly dim: (text: string | Shown) => Shown;
}

export function coloursFor({ terminal, plain }: Pick<Ends, 'terminal' | 'plain'>): Colours {
  const { red, yellow, cyan, bold, dim } = createColors(terminal && plain !== true);
  const tinted =
    (tint: (text: string) => string) =>
    (text: string | Shown): Shown => ({ [made]: tint(shown`${text}`[made]) });
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
}

/** What a command sees of the world. */
export interface Streams extends Omit<Ends, 'out' | 'err' | 'progress'> {
  out(piece: Shown): void;
  err(piece: Shown): void;
  /** A file, to the letter, for a pipe; on a terminal it is shown like all else. */
  file(text: string): void;
  /** How far the work is, on a terminal alone, in the place of what was told before; undefined takes it back. */
  progress?(told: Shown | undefined): void;
}

/** The streams of a command over the ends that it is given: the one way from a command to a terminal. */
export function streamsOver(ends: Ends): Streams {
  const { out, err, progress, ...rest } = ends;
  return {
    ...rest,
    out: (piece) => out.call(ends, piece[made]),
    err: (piece) => err.call(ends, piece[made]),
    file: (text) => out.call(ends, ends.terminal ? lines(text)[made] : text),
    ...(progress === true
      ? { progress: (told: Shown | undefined) => err.call(ends, `\r\u001b[K${told?.[made] ?? ''}`) }
      : {}),
  };
}
