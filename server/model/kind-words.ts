// How kinds of things are called toward a user.
import { type Told, told } from '../../grammar/told.ts';

const KINDS: ReadonlyMap<string, { readonly bare: Told; readonly one: Told }> = new Map([
  ['part', { bare: told`part`, one: told`a part` }],
  ['fastener', { bare: told`fastener`, one: told`a fastener` }],
  ['supply', { bare: told`supply`, one: told`a supply` }],
  ['drive', { bare: told`drive`, one: told`a drive` }],
  ['limit', { bare: told`limit`, one: told`a limit` }],
  ['sequence', { bare: told`sequence`, one: told`a sequence` }],
  ['job', { bare: told`job`, one: told`a job` }],
  ['step', { bare: told`step`, one: told`a step` }],
  ['source', { bare: told`source`, one: told`a source` }],
  ['spec', { bare: told`spec`, one: told`a spec` }],
  ['engine', { bare: told`engine`, one: told`an engine` }],
  ['record', { bare: told`record`, one: told`a record` }],
  ['variant', { bare: told`variant`, one: told`a variant` }],
  ['valve-timing', { bare: told`valve timing`, one: told`a valve timing` }],
  ['grades', { bare: told`table of grades`, one: told`a table of grades` }],
]);

/** `part`, `table of grades`. */
export function kindWord(kind: string): Told {
  return KINDS.get(kind)?.bare ?? told.asIs(kind);
}

/** `a part`, `an engine`. */
export function oneOfKind(kind: string): Told {
  return KINDS.get(kind)?.one ?? told.asIs(kind);
}
