// What a check, a sum or a rehearsal rule works out is kept by questions alone (model/questions.ts): things and declarations are the same
// objects from edit to edit, so that a map by one of them would hold what was true of an earlier text. Trees (`Parsed`) are of one text.
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { sourcesBelow } from './imports.ts';

const BY_OBJECT = /new WeakMap<(?!Parsed\b|LayoutPiece\b)/;

test('checks and the rehearsal keep nothing by thing, by declaration or by view', () => {
  const files = ['server/checks', 'server/rehearsal', 'server/mechanics'].flatMap(sourcesBelow);
  expect(files.length).toBeGreaterThan(100);
  expect(files.filter((file) => BY_OBJECT.test(readFileSync(file, 'utf8')))).toEqual([]);
});
