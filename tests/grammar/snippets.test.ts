// Every snippet, with its gaps filled as offered, is read without a fault. What the checks say of it is not asked here.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { parseSection } from '../../grammar/parse.ts';
import type { Section } from '../../grammar/section.ts';
import { cutSections } from '../../grammar/sections.ts';

interface Snippet {
  readonly prefix: string | readonly string[];
  readonly description: string;
  readonly body: readonly string[];
}

const file = join(import.meta.dirname, '../../grammar/snippets.json');
const snippets: Readonly<Record<string, Snippet>> = JSON.parse(readFileSync(file, 'utf8'));

/** The text that a snippet gives when every gap is left as it is offered. */
function filled(body: readonly string[]): string {
  const offered = new Map<string, string>();
  return body
    .join('\n')
    .replace(/\$\{(\d+)(?::([^}]*)|\|([^,|]*)[^}]*\|)\}|\$0/g, (_, gap: string, text?: string, choice?: string) => {
      if (gap === undefined) return '';
      const value = offered.get(gap) ?? text ?? choice ?? '';
      offered.set(gap, value);
      return value;
    });
}

/** Steps belong in a sequence, and `allow` in some braces. */
function inItsPlace(text: string): string {
  if (/^step\b/.test(text)) return `sequence work {\n${text}\n}\n`;
  return /^allow\b/.test(text) ? `part block {\n${text}\n}\n` : text;
}

function faultsIn(text: string): readonly string[] {
  const faultsOf = (section: Section, inSequence: boolean): readonly string[] => [
    ...parseSection(section, inSequence).faults.map((fault) => `${fault.code}: ${fault.message}`),
    ...section.children.flatMap((child) => faultsOf(child, section.word === 'sequence')),
  ];
  return cutSections(text).flatMap((section) => faultsOf(section, false));
}

test.each(Object.entries(snippets))('%s', (_, snippet) => {
  const text = inItsPlace(filled(snippet.body));
  expect(text).not.toMatch(/\$/);
  expect(faultsIn(text)).toEqual([]);
  expect(snippet.description).toMatch(/\.$/);
});

test('a faulty snippet would be noticed', () => {
  expect(faultsIn('part block {\n  wall 1,991 mm\n')).not.toEqual([]);
});
