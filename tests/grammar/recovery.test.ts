// What a fault spoils and what it leaves: short texts with the places of all their faults marked, one file for each rule of
// reading. What is meant by the words is not looked at here.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import type { Analysis } from '../../server/workspace/api.ts';
import { analyseText, disagreements, expectations } from '../annotated.ts';

const folder = join(import.meta.dirname, 'recovery');
const pages = readdirSync(folder).map((name) => [name, readFileSync(join(folder, name), 'utf8')] as const);

/** The faults of form alone. */
function ofForm(analysis: Analysis): Analysis {
  return {
    ...analysis,
    findings: analysis.findings.filter((each) => /^(syntax\/|unit\/(missing|unknown)$)/.test(each.code)),
  };
}

/** The texts of a page; each begins with a line of two number signs. */
function texts(page: string): readonly (readonly [string, string])[] {
  return page
    .split(/^(?=## )/m)
    .filter((text) => text.trim() !== '')
    .map((text) => [/^## (.*)/.exec(text)?.[1] ?? '', text] as const);
}

describe.each(pages)('%s', (_name, page) => {
  test.each(texts(page))('%s', (_title, text) => {
    expect(disagreements(text, ofForm(analyseText(text)))).toEqual([]);
  });

  test('the faults of one text are the same with all the others round it', () => {
    expect(disagreements(page, ofForm(analyseText(page)))).toEqual([]);
  });
});

test('there are texts enough, with faults and without', () => {
  const all = pages.flatMap(([, page]) => texts(page).map(([, text]) => expectations(text).length));
  expect(all.length).toBeGreaterThan(50);
  expect(all.filter((count) => count === 0).length).toBeGreaterThan(3);
});

const mended = pages.flatMap(([name, page]) =>
  texts(page).flatMap(([title, text]) =>
    ofForm(analyseText(text)).findings.flatMap((finding) =>
      finding.fixes.map((fix) => [`${name}: ${title}: ${fix.title}`, text, finding, fix.edits] as const),
    ),
  ),
);

test.each(mended)('%s', (_title, text, finding, edits) => {
  const after = [...edits]
    .sort((a, b) => b.start - a.start)
    .reduce((now, edit) => now.slice(0, edit.start) + edit.text + now.slice(edit.end), text);
  const times = (of: string): number =>
    analyseText(of).findings.filter((each) => each.code === finding.code && each.message === finding.message).length;
  expect(times(after)).toBe(times(text) - 1);
});
