// What all of the page shares: the job, what is entered, how it is changed, and the spec once it has been read.
import { createContext } from 'preact';
import { useContext } from 'preact/hooks';
import type { BenchJob } from '../bench/bench-job.ts';
import type { Entries } from '../bench/entries.ts';
import type { BuiltView } from '../model/build-view.ts';
import type { Judgement } from './reader.ts';

export type Reader = typeof import('./reader.ts');

/** The spec, read. */
export interface Spec {
  readonly reader: Reader;
  readonly view: BuiltView;
}

export interface Bench {
  readonly job: BenchJob;
  readonly entries: Entries;
  /** Undefined until the spec has been read. */
  readonly spec: Spec | undefined;
  readonly judgement: Judgement | undefined;
  /** Changes what is entered. */
  enter(change: (entries: Entries) => Entries): void;
}

export const BenchContext = createContext<Bench | undefined>(undefined);

export function useBench(): Bench {
  const bench = useContext(BenchContext);
  if (bench === undefined) throw new Error('outside of the page');
  return bench;
}
