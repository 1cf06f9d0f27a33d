// What the way in (way-in.ts) gives to the program that it starts. Where the program is started by itself, in a browser or by a test, there is
// nothing of it.

export interface Begun {
  /** The file that starts a thread of the program. */
  readonly file: string;
  /**
   * Says that the program has done a kind of work. What it was compiled to is stored for the next start, where that holds none of this kind yet;
   * then it takes some tens of milliseconds.
   */
  store(kind: string): void;
  /** Says that the server has told its first findings and that nobody waits: the engine is set for what comes. */
  settle(): void;
}

/** Named where the program is compiled; see client/build-shared.mjs. */
declare const fettleBegun: Begun | undefined;

export const begun: Begun | undefined = typeof fettleBegun === 'undefined' ? undefined : fettleBegun;
