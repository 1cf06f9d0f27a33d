// What the commands say when they can't do their work. Where it goes is output.ts.
import { type Streams, shown } from './output.ts';

export type { Streams } from './output.ts';

/** The command could not do its work: one line that says what to do, and exit status 2. */
export class CannotDo extends Error {}

/** One line on standard error. */
export function remark(streams: Streams, text: string): void {
  streams.err(shown`fettle: ${text}\n`);
}
