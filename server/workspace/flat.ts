// Analyses a file as if no spec were built on another: each that is, is read with its base's declarations and its changes made (see
// features/flattened.ts). For what has to stand alone.
import { flattened } from '../features/flattened.ts';
import { analyse } from './analyse.ts';
import type { Analysis, Host } from './api.ts';
import { libraryText } from './library.ts';

export interface Flat {
  readonly analysis: Analysis;
  /** The files of the bases that went into a file. */
  basesOf(file: string): readonly string[];
}

/** The analysis of a file that is built on another, or uses one that is; undefined where none is. */
export function analyseFlat(file: string, text: string, host: Host): Flat | undefined {
  const uses = new Map<string, ReadonlyMap<string, string>>();
  const bases = new Map<string, readonly string[]>();
  const flat = (address: string, written: string): string => {
    if (!/\bextends\b/i.test(written)) return written;
    const whole = analyse(address, written, host);
    const made = flattened(whole);
    if (made === undefined) return written;
    const left = new Set(made.uses.values());
    uses.set(address, made.uses);
    bases.set(
      address,
      whole.used.map((each) => each.file).filter((each) => !left.has(each)),
    );
    return made.text;
  };
  const flatHost: Host = {
    resolve: (from, path) => (uses.has(from) ? uses.get(from)?.get(path) : host.resolve(from, path)),
    read: (address) => {
      const written = libraryText(address) ?? host.read(address);
      return written === undefined ? undefined : flat(address, written);
    },
  };
  const analysis = analyse(file, flat(file, text), flatHost);
  return bases.size === 0 ? undefined : { analysis, basesOf: (address) => bases.get(address) ?? [] };
}
