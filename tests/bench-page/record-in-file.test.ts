// What is entered on a page in the editor comes into the record's file once, whatever happens to the file meanwhile.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { BenchJob } from '../../server/bench/bench-job.ts';
import { type Entries, noEntries } from '../../server/bench/entries.ts';
import { type Change, RecordInFile } from '../../server/bench-page/record-in-file.ts';

const EMPTY = noEntries({ spec: 'brindle-wren', revision: undefined } as BenchJob);

/** A change that can be told from every other: a limit of its own is measured. */
const measure =
  (limit: string, text: string): Change =>
  (before) => ({
    ...before,
    measured: new Map(before.measured).set(
      limit,
      new Map([['', { text, on: undefined, by: undefined, with: undefined }]]),
    ),
  });

/** A record's text of the entries, as simple as can be, and the entries of a text. */
const textOf = (entries: Entries): string =>
  [...entries.measured].map(([limit, places]) => `${limit} ${places.get('')?.text}`).join('\n');
const entriesOf = (text: string): Entries =>
  text
    .split('\n')
    .filter((line) => line !== '')
    .reduce((before, line) => {
      const [limit = '', ...value] = line.split(' ');
      return measure(limit, value.join(' '))(before);
    }, EMPTY);

/** A page and the panel round it, with their messages on the way. */
class Both {
  readonly inFile = new RecordInFile();
  entries = EMPTY;
  disk: string | undefined;
  told: string | undefined;
  private readonly way: string[] = [];
  rounds = 0;

  private say(): void {
    const text = this.inFile.toTell(textOf(this.entries));
    if (text !== undefined) this.way.push(text);
  }
  enter(change: Change): void {
    this.entries = change(this.entries);
    this.inFile.entered(change);
    this.say();
  }
  /** Someone else writes, and nobody has noticed yet. */
  elsewhere(text: string): void {
    this.disk = text;
  }
  tellFile(): void {
    this.told = this.disk;
    this.inFile.read(this.disk, false);
    this.entries = this.inFile.enteredInto(entriesOf(this.disk ?? ''), (before, change) => change(before));
    if (this.inFile.isWaiting) this.say();
  }
  /** The panel takes the next message. */
  step(): boolean {
    const text = this.way.shift();
    if (text === undefined) return false;
    this.rounds += 1;
    if (text === this.told) return true;
    if (this.disk !== this.told) this.tellFile();
    else {
      this.disk = text;
      this.told = text;
      this.inFile.written(text);
    }
    return true;
  }
  settle(): void {
    while (this.step()) if (this.rounds > 500) throw new Error('it goes round and round');
    if (this.disk !== this.told) this.tellFile();
    while (this.step()) if (this.rounds > 500) throw new Error('it goes round and round');
  }
}

describe('a file that is changed elsewhere in the very moment', () => {
  test('has what was entered as well, and nobody is asked for it again', () => {
    const both = new Both();
    both.enter(measure('a', '1 mm'));
    both.settle();
    both.elsewhere('a 1 mm\nb 2 mm');
    both.enter(measure('c', '3 mm'));
    both.settle();
    expect(both.disk).toBe('a 1 mm\nb 2 mm\nc 3 mm');
    expect(textOf(both.entries)).toBe(both.disk);
  });

  test('what was taken out elsewhere stays out, once it had been written', () => {
    const both = new Both();
    both.enter(measure('a', '1 mm'));
    both.enter(measure('b', '2 mm'));
    both.settle();
    both.elsewhere('a 1 mm');
    both.settle();
    expect(textOf(both.entries)).toBe('a 1 mm');
    both.enter(measure('c', '3 mm'));
    both.settle();
    expect(both.disk).toBe('a 1 mm\nc 3 mm');
  });

  test('what is entered and taken back while the first is written is not written in the end', () => {
    const both = new Both();
    both.enter(measure('a', '1 mm'));
    both.settle();
    both.enter(measure('b', '2 mm'));
    both.enter((before) => ({ ...before, measured: new Map([...before.measured].filter(([limit]) => limit !== 'b')) }));
    both.settle();
    expect(both.disk).toBe('a 1 mm');
  });

  test('one that can not be read is left alone, and gets what was entered when it can', () => {
    const both = new Both();
    both.enter(measure('a', '1 mm'));
    both.settle();
    both.inFile.read('a 1 m', true);
    both.enter(measure('b', '2 mm'));
    expect(both.step()).toBe(false);
    both.elsewhere('a 1 mm');
    both.tellFile();
    both.settle();
    expect(both.disk).toBe('a 1 mm\nb 2 mm');
  });

  test('in any order of entering, writing and changing elsewhere, all that was entered stands in the file', () => {
    const event = fc.oneof(
      fc.record({ what: fc.constant('enter' as const), limit: fc.constantFrom('a', 'b', 'c', 'd') }),
      fc.record({ what: fc.constant('step' as const) }),
      fc.record({ what: fc.constant('elsewhere' as const) }),
      fc.record({ what: fc.constant('notice' as const) }),
    );
    fc.assert(
      fc.property(fc.array(event, { maxLength: 30 }), (events) => {
        const both = new Both();
        const last = new Map<string, string>();
        let count = 0;
        for (const each of events) {
          count += 1;
          if (each.what === 'enter') {
            both.enter(measure(each.limit, `${count} mm`));
            last.set(each.limit, `${count} mm`);
          } else if (each.what === 'step') both.step();
          // Another place adds a line of its own, and touches no other.
          else if (each.what === 'elsewhere') both.elsewhere(`${both.disk ?? ''}\nx${count} 0 mm`.trim());
          else if (both.disk !== both.told) both.tellFile();
        }
        both.settle();
        const found = entriesOf(both.disk ?? '');
        for (const [limit, text] of last) expect(found.measured.get(limit)?.get('')?.text).toBe(text);
        expect(textOf(both.entries).split('\n').sort()).toEqual((both.disk ?? '').split('\n').sort());
      }),
      { seed: 15, numRuns: 300 },
    );
  });
});
