// What the parser looks at ahead is worked out here and not by the library: it chooses the same. All texts of the repository, and each with
// something put into it, are read with both.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { LLkLookaheadStrategy } from 'chevrotain';
import { expect, test, vi } from 'vitest';
import type { parseSection } from '../../grammar/parse.ts';
import type { Section } from '../../grammar/section.ts';
import { cutSections } from '../../grammar/sections.ts';

type Read = typeof parseSection;

const folder = join(import.meta.dirname, '../../samples/faults');
const PUT = ['{', '}', '"', ' fit ', ' 3 ', ' of ', ',', ' when a ', ' at ', ' 1..2 mm ', ' part '];

function read(parse: Read, sections: readonly Section[], inSequence: boolean): readonly unknown[] {
  return sections.map((section) => {
    const { declaration, outside, faults } = parse(section, inSequence);
    return [declaration, outside, faults, read(parse, section.children, section.word === 'sequence')];
  });
}

test('a text is read as with the lookahead of the library', async () => {
  const own = (await import('../../grammar/parse.ts')).parseSection;
  vi.resetModules();
  vi.doMock('../../grammar/lookahead.ts', () => ({
    OneTokenAhead: class extends LLkLookaheadStrategy {
      constructor() {
        super({ maxLookahead: 1 });
      }
    },
  }));
  const library = (await import('../../grammar/parse.ts')).parseSection;
  expect(library).not.toBe(own);
  const names = readdirSync(folder).filter((name) => name.endsWith('.fettle'));
  expect(names.length).toBeGreaterThan(5);
  for (const [i, name] of names.entries()) {
    const text = readFileSync(join(folder, name), 'utf8');
    for (const [k, put] of PUT.entries()) {
      const at = (text.length * ((i * 7 + k * 13) % 97)) / 97;
      const sections = cutSections(text.slice(0, at) + put + text.slice(at));
      const both = [own, library].map((parse) => JSON.stringify(read(parse, sections, false)));
      expect(both[0], `${name} with ${put}`).toBe(both[1]);
    }
  }
}, 120_000);
