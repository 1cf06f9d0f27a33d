// The colouring that works before the server answers: the written file is in step with the table of words, and
// the sample lines get the colours they ask for. What the server adds on top is tested with it.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { createRegistry } from 'vscode-tmgrammar-test/dist/common/index.js';
import { parseGrammarTestCase, runGrammarTestCase } from 'vscode-tmgrammar-test/dist/unit/index.js';
import { highlightingFile } from '../../grammar/highlighting.ts';

const written = join(import.meta.dirname, '../../grammar/fettle.tmLanguage.json');
const lines = join(import.meta.dirname, 'highlighting');
const registry = createRegistry([{ path: written, scopeName: 'source.fettle', injectTo: [], language: 'fettle' }]);

test('the written colouring rules are those that the table of words gives', () => {
  expect(readFileSync(written, 'utf8'), 'run `npm run generate`').toBe(highlightingFile());
});

describe('colours', () => {
  test.each(readdirSync(lines))('%s', async (file) => {
    const failures = await runGrammarTestCase(registry, parseGrammarTestCase(readFileSync(join(lines, file), 'utf8')));
    expect(failures).toEqual([]);
  });

  test('a wrong expectation is noticed', async () => {
    const wrong = '# SYNTAX TEST "source.fettle" "wrong on purpose"\npart block\n# <------- comment\n';
    expect(await runGrammarTestCase(registry, parseGrammarTestCase(wrong))).not.toEqual([]);
  });
});
