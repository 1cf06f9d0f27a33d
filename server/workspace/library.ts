// The declarations that ship with Fettle, for any spec to use: `use "fettle:metric-bolts"`. They are read from the program itself, so
// that a name of them leads to no file.
import { lookUp } from '../../grammar/look-up.ts';
import inchBolts from '../library/inch-bolts.fettle';
import inchNuts from '../library/inch-nuts.fettle';
import inchStuds from '../library/inch-studs.fettle';
import metricBolts from '../library/metric-bolts.fettle';
import metricNuts from '../library/metric-nuts.fettle';
import metricStuds from '../library/metric-studs.fettle';
import plugs from '../library/plugs.fettle';
import supplies from '../library/supplies.fettle';

const TEXTS: Readonly<Record<string, string>> = {
  'inch-bolts': inchBolts,
  'inch-nuts': inchNuts,
  'inch-studs': inchStuds,
  'metric-bolts': metricBolts,
  'metric-nuts': metricNuts,
  'metric-studs': metricStuds,
  plugs,
  supplies,
};

/** The names that may follow `fettle:`. */
export const LIBRARIES: readonly string[] = Object.keys(TEXTS);

const PREFIX = 'fettle:';
const ADDRESS = /^fettle-library:\/([^/]+)\.fettle$/;

/** The address of a library that a path names, whether or not there is one of that name; undefined for the path of a file. */
export function libraryAddress(path: string): string | undefined {
  return path.startsWith(PREFIX)
    ? `fettle-library:/${encodeURIComponent(path.slice(PREFIX.length).replace(/\p{Cs}/gu, '\ufffd'))}.fettle`
    : undefined;
}

/** The file of a library below a folder of them, by its address; undefined for any other address. */
export function libraryFile(address: string, folder: string): string | undefined {
  const name = libraryText(address) === undefined ? undefined : ADDRESS.exec(address)?.[1];
  return name === undefined ? undefined : `${folder}/${name}.fettle`;
}

/** The text of a library by its address; undefined for any other address. */
export function libraryText(address: string): string | undefined {
  const name = ADDRESS.exec(address)?.[1];
  return name === undefined ? undefined : lookUp(TEXTS, name);
}
