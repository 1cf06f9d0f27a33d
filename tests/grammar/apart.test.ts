// What is read of one section is not changed by what was read before it: a fault leaves the parser in the middle of a rule, and nothing that it
// wanted there may be wanted in the next section.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { type Parsed, parseSection } from '../../grammar/parse.ts';
import type { Section } from '../../grammar/section.ts';
import { cutSections } from '../../grammar/sections.ts';
import { IN_ENGLISH } from '../../grammar/told.ts';
import { dice } from '../dice.ts';

const samples = join(import.meta.dirname, '../../samples');
const read = (name: string): string => readFileSync(join(samples, name), 'utf8');

/** What may stand in the place of a word: what is read there goes wrong in another place of the rule each time. */
const WRONG = ['$&-q', '$&-q', 'bolt-q', '12', '3 deg-q', '{', '}', ',', 'of', '"x"', '0.1 mm', 'when road {'];

/** A section in which the nearest unit is told, of those that are wanted there. */
const PROBE = cutSections('limit turn of block\n  measured\n  within 125..127 deg-q\n').slice(0, 1);

function told({ declaration, outside, faults }: Parsed): string {
  const said = faults.map(({ message, fixes, ...rest }) => [
    rest,
    message.in(IN_ENGLISH),
    fixes.map(({ edits }) => edits),
  ]);
  return JSON.stringify([declaration, outside, said]);
}

test('sections with faults, one after the other in any order', () => {
  const roll = dice(20_011);
  const texts = readdirSync(samples).filter((name) => name.endsWith('.fettle'));
  const all = texts.flatMap((name) => cutSections(read(name)).flatMap((section) => [section, ...section.children]));
  const broken = [...all, ...all, ...all].flatMap(({ text }): readonly Section[] => {
    const words = [...text.matchAll(/[^\s]+/g)];
    const word = words[roll(words.length)];
    if (word === undefined) return [];
    const put = (WRONG[roll(WRONG.length)] ?? '').replace('$&', word[0]);
    return cutSections(`${text.slice(0, word.index)}${put}${text.slice(word.index + word[0].length)}`).slice(0, 1);
  });
  expect(broken.length).toBeGreaterThan(1500);
  const first = broken.map((section) => told(parseSection(section, section.word === 'step')));
  const probed = PROBE.map((section) => told(parseSection(section, false)));
  const differing: string[] = [];
  for (let i = broken.length - 1; i >= 0; i -= 1) {
    const section = broken[i] as Section;
    if (told(parseSection(section, section.word === 'step')) !== first[i]) differing.push(section.text.slice(0, 200));
    for (const [at, probe] of PROBE.entries())
      if (told(parseSection(probe, false)) !== probed[at]) differing.push(`after ${section.text.slice(0, 200)}`);
  }
  expect(differing).toEqual([]);
});
