// The names that may be had from other files of the folder, and from the libraries.
import { pathBetween } from '../features/moved-files.ts';
import { declaredIn, type Elsewhere } from '../features/use-line.ts';
import type { Analysis } from '../model/analysis.ts';
import { LIBRARIES, libraryAddress } from '../workspace/library.ts';
import type { Service } from './service.ts';

/** The specs that are open or known to be in the folder. */
export function specsOf({ documents }: Service): readonly string[] {
  const all = new Set([...documents.all().map((open) => open.address), ...documents.known()]);
  return [...all].filter((address) => address.endsWith('.fettle'));
}

/** Names that begin with what is typed, of files and libraries that are not used yet. */
export function namesElsewhere(service: Service, analysis: Analysis, typed: string): readonly Elsewhere[] {
  const home = analysis.file.file;
  const used = new Set([home, ...analysis.used.map((each) => each.file)]);
  const begins = typed.toLowerCase();
  const named = (address: string, pathOf: () => string | undefined): readonly Elsewhere[] => {
    const text = used.has(address) ? undefined : service.documents.read(address);
    const names =
      text === undefined ? [] : declaredIn(address, text).filter(([, name]) => name.toLowerCase().startsWith(begins));
    const path = names.length === 0 ? undefined : pathOf();
    return path === undefined ? [] : names.map(([kind, name]) => ({ kind, name, path }));
  };
  return [
    ...specsOf(service).flatMap((address) => named(address, () => pathBetween(home, address))),
    ...LIBRARIES.flatMap((name) => named(libraryAddress(`fettle:${name}`) ?? '', () => `fettle:${name}`)),
  ];
}
