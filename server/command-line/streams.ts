// Where a command writes and what it may ask of the world. Tests give their own.
import { createColors } from 'picocolors';

export interface Streams {
  out(text: string): void;
  err(text: string): void;
  /** Whether results go to a terminal, where colour may help. */
  readonly terminal: boolean;
  /** Whether remarks go to a terminal, where progress may be shown. */
  readonly progress?: boolean;
  readonly folder: string;
  /** All of standard input as text. Throws CannotDo where it is no UTF-8. */
  stdin(): Promise<string>;
  /** Asks a person at the terminal; undefined where nobody is there. */
  ask?(question: string, choices: readonly string[]): Promise<string>;
}

/** The command could not do its work: one line that says what to do, and exit status 2. */
export class CannotDo extends Error {}

export type Colours = ReturnType<typeof createColors>;

export function coloursFor(streams: Streams): Colours {
  return createColors(streams.terminal);
}

/** Control and text-direction characters would move the cursor of a terminal or turn its line round: each is shown as `?`. */
export function printable(text: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: these are the characters to take out.
  return text.replace(/[\u0000-\u0008\u000a-\u001f\u007f-\u009f\u200e\u200f\u2028-\u202e\u2066-\u2069]/g, '?');
}

/** One line on standard error. */
export function remark(streams: Streams, text: string): void {
  streams.err(`fettle: ${printable(text)}\n`);
}
