// What the commands say when they can't do their work. Where it goes is output.ts.
import { type Told, told } from '../../grammar/told.ts';
import { type Streams, shown } from './output.ts';

export type { Streams } from './output.ts';

/** The command could not do its work: one line that says what to do, and exit status 2. */
export class CannotDo extends Error {
  readonly told: Told;

  constructor(why: string | Told) {
    super(String(why));
    this.told = typeof why === 'string' ? told.asIs(why) : why;
  }
}

/** One line on standard error. */
export function remark(streams: Streams, text: string | Told): void {
  streams.err(shown`fettle: ${text}\n`);
}
