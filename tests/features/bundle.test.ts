// A bundle says what its files say: the same findings and the same values, in one text that knows when it was altered.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { formatText } from '../../grammar/printer.ts';
import { contentHash, headingOf } from '../../server/checks/source/bundle-heading.ts';
import { bundle } from '../../server/features/bundle.ts';
import { valuesOf } from '../../server/model/values.ts';
import { analyse } from '../../server/workspace/analyse.ts';
import type { Analysis } from '../../server/workspace/api.ts';
import { analyseFlat } from '../../server/workspace/flat.ts';
import { analyseText, memoryHost } from '../annotated.ts';

const root = join(import.meta.dirname, '../..');
const folders = ['samples', 'samples/faults', 'samples/two-shops', 'samples/review', 'tests/manuals'];
const read = (folder: string): Readonly<Record<string, string>> =>
  Object.fromEntries(
    readdirSync(join(root, folder))
      .filter((name) => name.endsWith('.fettle'))
      .map((name) => [name, readFileSync(join(root, folder, name), 'utf8')]),
  );

const host = {
  shown: (file: string) => file,
  analyse: (text: string) => analyse('new.fettle', text, memoryHost({})).findings,
};

function bundled(analysis: Analysis): string {
  const made = bundle(analysis, host);
  if ('why' in made) throw new Error(made.why.text);
  return made.text;
}

const alone = (text: string): Analysis => analyseText(text, {}, 'bundle.fettle');

/** What is wrong, without its place: the text under it and what is said. */
function wrong(analysis: Analysis): readonly string[] {
  return analysis.findings
    .filter((each) => each.severity !== 'information')
    .map(
      (each) => `${each.code} ${each.severity} ${analysis.file.text.slice(each.start, each.end).replace(/\s+/g, ' ')}`,
    )
    .sort();
}

function figures(analysis: Analysis): readonly string[] {
  return analysis.views.flatMap((view) =>
    valuesOf(view).map(({ place: _place, ...row }) => `${view.variant ?? ''} ${JSON.stringify(row)}`),
  );
}

describe.each(folders)('%s', (folder) => {
  const files = read(folder);
  const cases = Object.keys(files).filter((name) => {
    const { views } = analyseText(files[name] ?? '', files, name);
    return !views.some((view) => view.incomplete);
  });

  test.each(cases)('%s: the same findings and values, laid out, and known as it was made', (name) => {
    const whole = analyseText(files[name] ?? '', files, name);
    const flat = analyseFlat(name, files[name] ?? '', memoryHost(files))?.analysis;
    const text = bundled(flat ?? whole);
    const again = alone(text);
    expect(again.used).toEqual([]);
    expect(again.variants).toEqual(whole.variants);
    // What is wrong in a file that is used is found there alone; in the bundle it is found with the rest.
    const found = wrong(again);
    expect(found).toEqual(expect.arrayContaining([...wrong(whole)]));
    const there = whole.used.flatMap((used) => wrong(analyseText(used.text, files, used.file)));
    expect(found.filter((line) => !wrong(whole).includes(line) && !there.includes(line))).toEqual([]);
    // Of other files only what is used goes along.
    const rows = new Set(figures(whole));
    expect(figures(again).filter((row) => !rows.has(row))).toEqual([]);
    const own = new Set(whole.file.declarations.map((placed) => placed.declaration.name?.text));
    const kept = new Set(figures(again));
    const lost = figures(whole).filter((row) => {
      const of = /"name":"[^."]+\.([^."]+)/.exec(row)?.[1];
      return own.has(of) && !kept.has(row);
    });
    expect(lost).toEqual([]);
    const laidOut = formatText(text);
    if (wrong(again).every((line) => !line.startsWith('syntax/'))) expect(laidOut).toEqual({ kind: 'formatted', text });
  });
});

describe('the number in the heading', () => {
  const files = read('samples');
  const text = bundled(analyseText(files['vee-six-belt.fettle'] ?? '', files, 'vee-six-belt.fettle'));
  const codes = (written: string): readonly string[] => alone(written).findings.map((each) => each.code);

  test('is the SHA-256 of the text below it', () => {
    // The digest of an empty text, FIPS 180-4 examples (from memory).
    expect(contentHash('')).toBe('e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855');
    expect(headingOf(text)?.hash).toMatch(/^[0-9a-f]{64}$/);
  });

  test.each<[string, (text: string) => string]>([
    ['as it was made', (made) => made],
    ['with the line ends of another system', (made) => made.replaceAll('\n', '\r\n')],
    ['with a mark of byte order', (made) => `\ufeff${made}`],
    ['wrapped by mail', (made) => made.replace(/^(?!#)(.{30,}?) (?=\S)/gm, '$1\n')],
    ['with other blanks', (made) => made.replaceAll('\n  ', '\n\t ')],
  ])('fits a copy %s', (_what, copied) => {
    expect(codes(copied(text))).not.toContain('source/altered');
  });

  test.each<[string, (text: string) => string]>([
    ['a figure', (made) => made.replace('\n  revision 7', '\n  revision 8')],
    ['a comment', (made) => `${made}# Checked.\n`],
    ['a step taken out', (made) => made.replace(/ {2}step prove-belt \{[^}]*\}\n/, '')],
  ])('does not fit one with %s changed', (_what, altered) => {
    const written = altered(text);
    expect(written).not.toBe(text);
    const found = alone(written).findings.find((each) => each.code === 'source/altered');
    expect(found?.severity).toBe('warning');
    const [edit] = found?.fixes[0]?.edits ?? [];
    const mended = written.slice(0, edit?.start) + written.slice(edit?.end);
    expect(codes(mended)).not.toContain('source/altered');
    expect(mended).not.toContain('# Bundle:');
  });

  test('a bundle of a bundle is the same text', () => {
    const once = bundled(alone(text));
    expect(once.slice(headingOf(once)?.contentAt)).toContain(text.slice(headingOf(text)?.contentAt).trim());
  });
});

describe('what goes along', () => {
  const lib = `spec lib {\n  revision 1\n  source chart "Chart of the other shop"\n  source book "Another book"\n  per chart\n}\n\n# The good lid.\npart lid "A lid"\n\npart unused\n\nfastener bolt x2 {\n  thread M6\n  torque 9 N.m\n    per chart "row 1"\n}\n`;
  const main = `# Own heading.\nuse "lib.fettle"\n\nspec main {\n  revision 2\n  source chart "Chart of this shop"\n}\n\nfastener stud x2 {\n  thread M8\n  clamps lid\n  torque 20 N.m\n    per chart\n}\n`;
  const of = (text: string, files: Readonly<Record<string, string>>): string =>
    bundled(analyseText(text, files, 'main.fettle'));

  test('what is named, with the comment over it and its source; nothing else', () => {
    const text = of(main.replace('torque 20 N.m\n    per chart', 'torque 20 N.m'), { 'lib.fettle': lib });
    expect(text).toContain('# Own heading.');
    expect(text).toContain('# The good lid.\npart lid "A lid"');
    expect(text).not.toContain('unused');
    expect(text).not.toContain('fastener bolt');
    expect(text).not.toContain('use "');
    expect(text).toContain('# Bundle: main, revision 2\n# Made by fettle bundle of\n#   main.fettle\n#   lib.fettle\n');
  });

  test('a source of one name in both files gets another name where it is another source', () => {
    const text = of(`${main}\npart box {\n  fixed-to cover\n}\n`, {
      'lib.fettle': lib.replace('part unused', 'part cover {\n  dimension depth 3 mm\n    per chart "row 7"\n}'),
    });
    expect(text).toContain('source chart "Chart of this shop"\n  source chart-2 "Chart of the other shop"');
    expect(text).toContain('dimension depth 3 mm\n    per chart-2 "row 7"');
    expect(text).toContain('torque 20 N.m\n    per chart\n');
    expect(wrong(alone(text)).filter((line) => line.startsWith('source/'))).toEqual([]);
  });

  test('a library that ships, with what it allows', () => {
    const user = `use "fettle:metric-bolts"\n\nspec main {\n  revision 1\n}\n\npart lid\n\nfastener stud x2 {\n  like m8-8-8\n  clamps lid\n  torque 20 N.m\n}\n`;
    const whole = analyseText(user, {}, 'main.fettle');
    const text = bundled(whole);
    expect(text).toContain('fastener m8-8-8');
    expect(wrong(alone(text))).toEqual(wrong(whole));
    expect(figures(alone(text))).toEqual(
      expect.arrayContaining([...figures(whole)].filter((row) => row.includes('.stud.'))),
    );
  });

  const base = `spec base {
  revision 1
  variants road, race
  source shop "Shop"
  source unread "Nobody names it"
  per shop "page 3"
}

part block {
  dimension bore x4 80.000..80.018 mm
}

part piston x4 {
  dimension skirt 79.960..79.970 mm
}

limit piston-clearance each piston
  = block.bore - piston.skirt
  within 0.030..0.058 mm

when race {
  part baffle
}

sequence bottom {
  phase assemble
  starts-with block
  allow sequence/nothing-to-do because "Left to the customer."
  step fit-pistons { fit piston into block }
  step look { note "By eye." }
}
`;
  const top = `use "base.fettle"

spec top {
  revision 2
}

part head

sequence top-end {
  phase assemble
  after bottom
  step fit-head { fit head onto block }
}
`;

  test('sequences go on from those of the file that is built upon, and what that works out goes along', () => {
    const whole = analyseText(top, { 'base.fettle': base }, 'main.fettle');
    const text = bundled(whole);
    expect(text.indexOf('sequence bottom')).toBeLessThan(text.indexOf('sequence top-end'));
    expect(text.indexOf('spec top')).toBeLessThan(text.indexOf('sequence bottom'));
    expect(wrong(alone(text))).toEqual(wrong(whole));
    expect(figures(alone(text))).toEqual(figures(whole));
    expect(alone(text).variants).toEqual(['road', 'race']);
  });

  test('the source that a used file has for all of it is said where its values are', () => {
    const text = of(top, { 'base.fettle': base });
    expect(text).toContain('part block {\n  per shop "page 3"\n  dimension bore');
    expect(text).toContain('within 0.030..0.058 mm\n  per shop "page 3"\n');
    expect(text).not.toContain('source unread');
  });

  test('an allow of a used file that silences nothing in the bundle is left out', () => {
    const job =
      'use "base.fettle"\n\njob j of base {\n  begins bare\n  sequences other\n}\n\nsequence other {\n  step wipe { clean block }\n}\n';
    const whole = analyseText(job, { 'base.fettle': base }, 'main.fettle');
    const text = bundled(whole);
    expect(text).not.toContain('allow');
    expect(wrong(alone(text)).filter((line) => !line.includes('unread'))).toEqual(wrong(whole));
  });

  test("what can't be bundled says why", () => {
    const missing = bundle(analyseText('use "gone.fettle"\n\npart lid\n', {}, 'main.fettle'), host);
    expect('why' in missing && missing.why.text).toContain('is not there');
    const built = bundle(
      analyseText(
        'use "lib.fettle"\n\nspec main extends lib {\n  revision 1\n}\n',
        { 'lib.fettle': lib },
        'main.fettle',
      ),
      host,
    );
    expect('why' in built && built.why.text).toContain('built on lib');
  });
});
