// The forms of a review: what is in them, and that no text of a spec, whatever stands in it, is live markup in any of them.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { plainMarkdown, reviewMarkdown } from '../../server/review/markdown.ts';
import { reviewPage } from '../../server/review/page.tsx';
import { type PlacedChange, placedChange, type ReviewedFiles } from '../../server/review/placed-change.ts';
import { reviewSpecs } from '../../server/review/review.ts';
import { analyseText, lineAndColumn } from '../annotated.ts';

const four = readFileSync(join(import.meta.dirname, '../model/brindle-four.fettle'), 'utf8');

function reviewed(
  old: string,
  now: string,
  names: readonly [string, string] = ['old.fettle', 'new.fettle'],
): ReviewedFiles {
  const changes = reviewSpecs(analyseText(old), analyseText(now)).map(
    (change): PlacedChange =>
      placedChange(change, (place, side) => {
        const text = side === 'old' ? old : now;
        const [start, end] = [lineAndColumn(text, place.start), lineAndColumn(text, place.end)];
        return { file: side === 'old' ? names[0] : names[1], start, end };
      }),
  );
  return { old: names[0], new: names[1], changes };
}

const INJECTIONS = [
  '<script>alert(1)</script>',
  '<img src=x onerror=alert(1)>',
  '</style></title><svg/onload=alert(1)>',
  '![x](https://example.org/x.png) [y](javascript:alert(1))',
  'see https://example.org and www.example.org or http://a.b',
  '@everyone #1 GH-1 octo/repo#2 mail@example.org',
  '!12 ~label %milestone &3 ^alert $4 ~"two words" @org/team [vulnerability:5] @@twice',
  '**bold** _it_ `code` ~~gone~~ | a | b | $x$ :tada:',
  '# head - [ ] task > quote 1. list +++ === ---',
  '&lt;b&gt; &amp; &#60; \\\\< <!-- x --> ]]> ``` ~~~',
  '\u202Eright to left\u2066 \u0007bell',
];

/** A spec with a text put in place of every text in it. */
const filled = (text: string): string =>
  four.replaceAll(/"[^"\n]*"/g, `"${text.replace(/\\/g, '\\\\').replace(/"/g, '\\"')}"`);

/** What the page may hold: its own elements with their own attributes. */
const OWN =
  /^<(?:!DOCTYPE html|\/?(?:html|head|body|header|main|footer|section|title|style|h1|h2|h3|p|ul|li|dl|div|dt|dd|span)(?: (?:lang|class)="[a-z ]+")*|meta (?:charset|name|http-equiv)="[A-Za-z0-9-]+"(?: content="[^"<>]+")?\/?)>$/;

/** Whatever could be markup, a link, a mention or a number of a discussion, outside the marks that the form itself makes. */
const LIVE = /[<>[\]`*_~|#\\$^{}!+]|@(?!\u200b)|&(?!#\d+;)|:\/\/|\/\/|www\.|gh-\d|:\S/i;

/** What a service takes for somebody or something, once it has put the signs back. */
const CALLS = /[@#!$%~^&][\p{L}\p{N}"'_{[]|\bgh-\d/iu;
const putBack = (markdown: string): string =>
  markdown.replace(/&#(\d+);/g, (_, code: string) => String.fromCodePoint(Number(code)));

describe('a text of a spec is only text', () => {
  test.each(INJECTIONS)('%s', (text) => {
    for (const files of [
      reviewed(four, filled(text)),
      reviewed(filled(text), filled(`${text} more`)),
      reviewed(filled(text), ''),
    ]) {
      expect(files.changes.length).toBeGreaterThan(3);
      const page = reviewPage([{ ...files, old: text, new: `${text}.fettle` }]);
      for (const tag of page.replace(/<style>[^<]*<\/style>/, '').match(/<[^>]*>?/g) ?? []) expect(tag).toMatch(OWN);
      const markdown = reviewMarkdown([{ ...files, old: text, new: `${text}.fettle` }]);
      for (const line of markdown.split('\n')) {
        const said = line.replace(/^#{2,4} |^- \*\*\w+\*\* | \*([^*]*)\*$/g, ' $1').replaceAll(/&#\d+;/g, '');
        expect(said).not.toMatch(LIVE);
        expect(putBack(line.replace(/^#{2,4} /, ''))).not.toMatch(CALLS);
      }
    }
  });

  test('any text at all', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme', maxLength: 60 }), (text) => {
        const plain = plainMarkdown(text);
        expect(plain.replaceAll(/&#\d+;/g, '')).not.toMatch(LIVE);
        expect(plain).not.toMatch(/[\n\r]/);
        expect(putBack(plain)).not.toMatch(CALLS);
      }),
      { seed: 7, numRuns: 2000 },
    );
  });
});

describe('the page', () => {
  const files = reviewed(
    four,
    four.replace('60 N.m, 90 deg', '65 N.m, 90 deg').replace('Keep it level', 'Hold it level'),
  );

  test('needs nothing else, runs nothing, and has its headings in order', () => {
    const page = reviewPage([files]);
    expect(page).toContain("default-src 'none'");
    expect(page).not.toMatch(/<script|<link|src=|href=|url\(/);
    const levels = [...page.matchAll(/<h(\d)/g)].map((match) => Number(match[1]));
    expect(levels[0]).toBe(1);
    for (const [i, level] of levels.entries()) expect(level - (levels[i - 1] ?? 0)).toBeLessThanOrEqual(1);
    expect(page).toContain("The maker's manual, local rules and licensed practice come first.");
  });

  test('says so when nothing changed', () => {
    expect(reviewPage([reviewed(four, four)])).toContain('Nothing changed in meaning.');
    expect(reviewMarkdown([reviewed(four, four)])).toContain('Nothing changed in meaning.');
  });
});

test('markdown stays short enough for a comment, and says what it leaves out', () => {
  const files = reviewed(four, '');
  const many = Array.from({ length: 40 }, () => files);
  const markdown = reviewMarkdown(many);
  const all = many.flatMap((each) => each.changes).length;
  expect(markdown.length).toBeLessThan(60_000);
  const lines = markdown.split('\n').filter((line) => line.startsWith('- '));
  expect(markdown).toContain(`${all - lines.length} more changes are left out here`);
});

test('markdown can be read as it stands', () => {
  const markdown = reviewMarkdown([reviewed(four, four.replace('60 N.m, 90 deg', '65 N.m, 90 deg'))]);
  expect(markdown).toContain(
    '- **Changed** Fastener head-bolt: torque stage 2 was 60 N.m, is now 65 N.m: 5 N.m more (8.3 %). *line 139*\n  - Old: torque 30 N.m, 60 N.m, 90 deg, 90 deg\n  - New: torque 30 N.m, 65 N.m, 90 deg, 90 deg\n',
  );
});
