// The record's file, as a page in the editor knows it: what was told to be written, what stands there, and what was entered meanwhile. A file
// that was changed elsewhere is read again, and what does not stand in it yet is entered once more, so that nothing entered is lost or asked for
// twice; one that can't be read is left alone until it can.
import type { Entries } from '../bench/entries.ts';

export type Change = (before: Entries) => Entries;

export class RecordInFile {
  /** As it was last read or written. */
  private file: string | undefined;
  /** As it will be when all that was told is written. */
  private said: string | undefined;
  private isBroken = false;
  /** What was entered, each with the text that it was first told with, until that is written. */
  private waiting: readonly { readonly change: Change; readonly text: string | undefined }[] = [];

  entered(change: Change): void {
    this.waiting = [...this.waiting, { change, text: undefined }];
  }

  /** Gives the text back where it has to be told. */
  toTell(text: string): string | undefined {
    if (this.isBroken) return undefined;
    if (text === this.said) {
      if (this.said === this.file) this.waiting = [];
      else this.waiting = this.waiting.map((each) => ({ ...each, text: each.text ?? text }));
      return undefined;
    }
    this.waiting = this.waiting.map((each) => ({ ...each, text: each.text ?? text }));
    this.said = text;
    return text;
  }

  /** A text that was told stands in the file: what was entered after it waits on. */
  written(text: string): void {
    this.file = text;
    this.waiting = this.waiting.slice(this.waiting.findLastIndex((each) => each.text === text) + 1);
  }

  /** The file was read again; undefined where there is none. */
  read(text: string | undefined, isBroken: boolean): void {
    this.file = text;
    this.said = text;
    this.isBroken = isBroken;
    this.waiting = this.waiting.map(({ change }) => ({ change, text: undefined }));
  }

  /** What waits, entered into what was read. */
  enteredInto(entries: Entries, enter: (before: Entries, change: Change) => Entries): Entries {
    return this.waiting.reduce((before, { change }) => enter(before, change), entries);
  }

  get isWaiting(): boolean {
    return this.waiting.length > 0;
  }
}
