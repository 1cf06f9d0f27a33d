// Where a command writes and what it may ask of the world. Tests give their own.
import { createColors } from 'picocolors';

export interface Streams {
  out(text: string): void;
  err(text: string): void;
  /** Whether results go to a terminal, where colour may help. */
  readonly terminal: boolean;
  readonly folder: string;
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
