// What tests look at in a copy of Fettle that has seen nothing: the way in of the bundle that `anew.ts` makes copies of.
export { diagnosticOf } from '../server/protocol/convert.ts';
export { analyse } from '../server/workspace/analyse.ts';
export { createDocuments } from '../server/workspace/documents.ts';
