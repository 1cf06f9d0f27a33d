// What parts and fasteners are by the names that the trade gives them, where a spec does not say: ONE table, for the rehearsal, the checks
// and what it takes to get at a part. Common practice, no source. A name is read from its end, word by word: the longest entry that it
// ends in counts, so that a `valve-cap` is no bearing cap though it is a cap by its last word. Hyphens, capitals, a plural and the words
// for a side, an end or a number behind the name make no difference (`camshaft-left`, `main-bearing-3`, `push-rods`).
import { apart } from '../../grammar/characters.ts';
import { TRADE_TABLE, type TradeKind } from './trade-table.ts';

export type { TradeKind } from './trade-table.ts';

/** Words behind a name that tell which of several it is. */
const WHICH =
  /^(?:\d+|left|right|front|rear|upper|lower|top|bottom|centre|center|inlet|intake|exhaust|inner|outer|short|long|new|old|[ab]|lh|rh)$/;

const NO_KIND: ReadonlySet<TradeKind> = new Set();

interface Entry {
  readonly kinds: ReadonlySet<TradeKind>;
  /** Of names that are whole, without a word before. */
  readonly whole: boolean;
}

/** The entries of the table by name, without hyphens. Those that count only as whole names stand apart. */
const [ENDINGS, WHOLES] = ((): readonly [ReadonlyMap<string, Entry>, ReadonlyMap<string, Entry>] => {
  const endings = new Map<string, Entry>();
  const wholes = new Map<string, Entry>();
  for (const [names, kinds] of TRADE_TABLE) {
    const set: ReadonlySet<TradeKind> = new Set((kinds === '' ? [] : kinds.split(' ')) as TradeKind[]);
    for (const name of names.split(/\s+/)) {
      const whole = name.startsWith('^');
      (whole ? wholes : endings).set(name.replace(/[\^-]/g, ''), { kinds: set, whole });
    }
  }
  return [endings, wholes];
})();

/** The entry that the words of a name end in, the longest of them. */
function entryOf(words: readonly string[]): Entry | undefined {
  for (let k = 0; k < words.length; k += 1) {
    const joined = words.slice(k).join('');
    for (const text of [joined, joined.replace(/(?<=[^s])s$/, ''), joined.replace(/(?<=sh|x|ch)es$/, '')]) {
      const found = (k === 0 ? WHOLES.get(text) : undefined) ?? ENDINGS.get(text);
      if (found !== undefined) return found;
    }
  }
  return undefined;
}

function kindsFor(name: string): ReadonlySet<TradeKind> {
  const words = name.toLowerCase().split(/[-_]/);
  for (let end = words.length; end > 0; end -= 1) {
    const found = entryOf(words.slice(0, end));
    if (found !== undefined) return found.kinds;
    if (!WHICH.test(words[end - 1] ?? '')) return NO_KIND;
  }
  return NO_KIND;
}

/** More than the longest specs have. */
const MOST_NAMES = 20_000;

const kindsByName = new Map<string, ReadonlySet<TradeKind>>();

/** All that a name says of what it names. Kept, since every name is asked for again and again. */
export function kindsOf(name: string): ReadonlySet<TradeKind> {
  let kinds = kindsByName.get(name);
  if (kinds === undefined) {
    kinds = kindsFor(name);
    if (kindsByName.size > MOST_NAMES) kindsByName.clear();
    kindsByName.set(apart(name), kinds);
  }
  return kinds;
}

/** Whether the trade takes a part or fastener of this name for one of these. */
export function isA(named: string | { readonly name: string }, ...kinds: readonly TradeKind[]): boolean {
  const known = kindsOf(typeof named === 'string' ? named : named.name);
  for (let i = 0; i < kinds.length; i += 1) if (known.has(kinds[i] as TradeKind)) return true;
  return false;
}

/** What a gasket, seal, washer or shim is for by its name: `sump` of `sump-gasket`; undefined for a name that tells none. */
export function sealedBy(name: string): string | undefined {
  const match = /^(.+?)-(?:base-)?(?:gasket|paper|cork|joint|seal|washer|o-ring|shim|felt)s?$/i.exec(name);
  return match?.[1];
}

/** The wheel that a key is under by its name: `flywheel` of `flywheel-key`; undefined for a name that tells none, or the shaft that it is in. */
export function keyedBy(name: string): string | undefined {
  const named = /^(.+?)-(?:woodruff-)?keys?$/i.exec(name)?.[1];
  return named === undefined || /shaft$/i.test(named) || isA(named, 'crankshaft', 'camshaft') ? undefined : named;
}

/** Whether it is one of these, or what seals one. */
export function isOrSeals(name: string, ...kinds: readonly TradeKind[]): boolean {
  if (isA(name, ...kinds)) return true;
  const sealed = sealedBy(name);
  return sealed !== undefined && isA(sealed, ...kinds);
}
