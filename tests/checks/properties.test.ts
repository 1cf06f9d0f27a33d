// What holds for findings whatever the spec: the order of declarations means nothing, a fault stays where it is, a finding that
// was kept is the one that a fresh reading gives, any text can be analysed.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import type { Section } from '../../grammar/section.ts';
import { cutSections } from '../../grammar/sections.ts';
import type { Finding } from '../../server/model/finding.ts';
import { anew } from '../anew.ts';
import { analyseText, memoryHost } from '../annotated.ts';

const folder = join(import.meta.dirname, '../../samples');
const files = Object.fromEntries(
  readdirSync(folder)
    .filter((name) => name.endsWith('.fettle'))
    .map((name) => [name, readFileSync(join(folder, name), 'utf8')]),
);
const names = Object.keys(files);

/** A finding without its place: what it says, and the text that it stands under. */
function said(text: string, findings: readonly Finding[]): readonly string[] {
  return findings
    .map((each) => `${each.code} ${each.severity} ${text.slice(each.start, each.end)}: ${each.message}`)
    .sort();
}

/** The same small sequence of numbers for the same seed, from 0 to below 1 (mulberry32). */
function numbers(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}

function shuffled<item>(items: readonly item[], next: () => number): readonly item[] {
  const left = [...items];
  return items.flatMap(() => left.splice(Math.floor(next() * left.length), 1));
}

/** Each declaration as it is written; sequences keep their order among themselves, which means something. */
function declarations(text: string): readonly { readonly section: Section; readonly text: string }[] {
  return cutSections(text)
    .filter((section) => section.word !== undefined)
    .map((section) => ({ section, text: text.slice(section.start, section.end).replace(/(\n#[^\n]*|\s)+$/, '') }));
}

const BITES: readonly (readonly [RegExp, string])[] = [
  [/(\d) (mm|N\.m|deg)/g, '$1'],
  [/ N\.m/g, ' lbf.ft'],
  [/\.\./g, '..9'],
  [/dimension/g, 'dimensoin'],
  [/ into block/g, ' into blokc'],
  [/tighten /g, 'fit '],
  [/teeth (\d)/g, 'teeth 7$1'],
  [/\}/g, ''],
  [/single-use/g, 'single-use\n  single-use'],
  [/part /g, 'part x'],
];

/** A text with one thing spoilt, at one of the places where that can be. */
function spoilt(text: string, next: () => number): string {
  const [what, by] = BITES[Math.floor(next() * BITES.length)] ?? [/$/g, ''];
  const places = [...text.matchAll(what)];
  const place = places[Math.floor(next() * places.length)];
  if (place === undefined) return text;
  const written = place[0].replace(new RegExp(what.source), by);
  return text.slice(0, place.index) + written + text.slice(place.index + place[0].length);
}

describe.each(names)('%s', (name) => {
  const text = files[name] ?? '';

  test('the order of declarations means nothing', () => {
    const next = numbers(names.indexOf(name) + 1);
    for (let round = 0; round < 4; round += 1) {
      const start = round === 0 ? text : spoilt(text, next);
      const all = declarations(start);
      if (all.some(({ section }) => section.unclosedBraces.length > 0)) continue;
      const sequences = all.filter(({ section }) => section.word === 'sequence' || section.word === 'when');
      const rest = all.filter((each) => !sequences.includes(each));
      const moved = [...shuffled(rest, next), ...sequences].map((each) => each.text).join('\n\n');
      const kept = all.map((each) => each.text).join('\n\n');
      // The one of two that has a finding, and the first of several, are told by their order.
      const told = (written: string): readonly string[] =>
        said(written, analyseText(written, files, name).findings).filter(
          (line) => !/^(name\/duplicate|torque\/no-class)/.test(line),
        );
      expect(told(moved)).toEqual(told(kept));
    }
  });

  test('every beginning of it can be analysed', () => {
    for (let end = 0; end <= text.length; end += Math.max(1, Math.floor(text.length / 200))) {
      const { findings } = analyseText(text.slice(0, end), files, name);
      for (const finding of findings) {
        // There are very many.
        if (finding.start >= 0 && finding.end >= finding.start && finding.end <= end) continue;
        expect.fail(`${finding.code} from ${finding.start} to ${finding.end} is outside of ${end} characters`);
      }
    }
  });
});

describe('a fault in one declaration', () => {
  const withBolts = names.filter(
    (name) => /\n {2}class /.test(files[name] ?? '') && /\npart [^\n]*\{/.test(files[name] ?? ''),
  );

  test.each(withBolts)('%s: leaves the findings inside the others as they were', (name) => {
    // A class that is no class in each fastener, so that there is something to keep.
    const marked = (files[name] ?? '').replaceAll(/\n {2}class \S+/g, '\n  note "n" per nowhere');
    const unknown = (text: string): readonly Finding[] =>
      analyseText(text, files, name).findings.filter((each) => each.code === 'source/unknown');
    const before = unknown(marked);
    expect(before.length).toBeGreaterThan(0);
    for (const victim of cutSections(marked).filter(
      (section) => section.word === 'part' && section.text.includes('{'),
    )) {
      const at = victim.start + victim.text.indexOf('{') + 1;
      const added = ' ) dimension 4 4 "x" ,, ';
      const broken = marked.slice(0, at) + added + marked.slice(at);
      expect(analyseText(broken, files, name).findings.some((each) => each.code.startsWith('syntax/'))).toBe(true);
      expect(unknown(broken).map((each) => each.start)).toEqual(
        before.map((each) => each.start + (each.start > at ? added.length : 0)),
      );
    }
  });
});

describe('findings that are kept', () => {
  test.each(names)('%s: after edit upon edit they are those of a fresh reading', async (name) => {
    const next = numbers(77 + names.indexOf(name));
    let text = files[name] ?? '';
    analyseText(text, files, name);
    for (let round = 0; round < 6; round += 1) {
      for (let edit = 0; edit < 3; edit += 1) {
        text = spoilt(text, next);
        analyseText(text, files, name);
      }
      const kept = analyseText(text, files, name).findings;
      const { analyse } = await anew();
      expect(kept).toEqual(analyse(name, text, memoryHost({ ...files, [name]: text })).findings);
      text = files[name] ?? '';
      expect(analyseText(text, files, name).findings.filter((each) => each.severity !== 'information')).toEqual([]);
    }
  });

  test('a change in a file that is used is seen', () => {
    const main = 'use "other.fettle"\n\nfastener bolt x2 {\n  thread M8\n  clamps lid\n  torque 20 N.m\n}\n';
    const codes = (other: string): readonly string[] =>
      analyseText(main, { 'other.fettle': other }).findings.map((each) => each.code);
    expect(codes('part lid')).not.toContain('name/unknown');
    expect(codes('part lib')).toContain('name/unknown');
    expect(codes('supply lid')).toContain('name/wrong-kind');
    expect(codes('part lid')).not.toContain('name/unknown');
  });
});
