// Where texts and comments stand: what a text is cut by and what is read of each piece say the same, for any text.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { lex } from '../../grammar/lexer.ts';
import { HOLE, toFile } from '../../grammar/section.ts';
import { cutSections } from '../../grammar/sections.ts';
import { stretchesOf } from '../../grammar/texts.ts';
import * as t from '../../grammar/tokens.ts';
import { everySection, faultsOf } from './trees.ts';

const seeded = (numRuns: number): { readonly seed: number; readonly numRuns: number } => ({ seed: 91_127, numRuns });

/** Texts and comments of a text as they are read, each by where it begins in the file. */
function asRead(text: string): readonly (readonly [number, string])[] {
  return everySection(text)
    .flatMap(({ section }) => {
      const { tokens, comments } = lex(section.text, section);
      const at = (own: number): number => toFile(section, own);
      return [
        ...tokens
          .filter(({ tokenType }) => tokenType === t.TextToken)
          .map(({ startOffset, image }) => [at(startOffset), image] as const),
        ...comments.map((comment) => [at(comment.start), comment.text] as const),
      ];
    })
    .sort(([a], [b]) => a - b);
}

/** The same as the text is cut by. What stands before the first declaration belongs to none where it is comments alone. */
function asCut(text: string): readonly (readonly [number, string])[] {
  const from = everySection(text)[0]?.section.start ?? text.length;
  return stretchesOf(text)
    .filter(({ start }) => start >= from)
    .map(({ kind, start, end }) => {
      const written = text.slice(start, end);
      return [start, kind === 'text' ? written : written.trimEnd()] as const;
    });
}

/** What hides a text or makes one: quotes, figures, what a figure is part of, and words that begin a declaration. */
const PIECES = [
  ...['"', '"', '"', '“', '”', '„', '‟', '\\', '#', '\n', '\n\n', ' ', ' ', HOLE],
  ...[
    '3',
    '0.5',
    '3/8',
    '1½',
    '¾',
    'x4',
    '×4',
    'p2',
    'é2',
    'Ω2',
    'a-2',
    'a\u200b2',
    '2-3',
    '.',
    ',',
    '/',
    '-',
    '=',
    "'",
  ],
  ...[
    '{',
    '}',
    '(',
    ')',
    'a',
    'run',
    'engine',
    'part p',
    'use',
    'sequence s {',
    'step t',
    'when v {',
    'note',
    'thread',
  ],
  ...[
    'spec s extends b {',
    'change part p {',
    'drop part p',
    'drop',
    'insert step',
    'allow',
    'firing-order',
    'deg',
    "5'",
  ],
];

test('a text is cut by the same texts and comments that are read in it', () => {
  fc.assert(
    fc.property(fc.array(fc.constantFrom(...PIECES), { maxLength: 60 }), (pieces) => {
      const text = pieces.join('');
      expect(asRead(text)).toEqual(asCut(text));
    }),
    seeded(3000),
  );
});

test('any characters at all: the same texts and comments', () => {
  fc.assert(
    fc.property(
      fc.string({
        unit: fc.oneof(fc.string({ unit: 'binary', minLength: 1, maxLength: 1 }), fc.constantFrom(...PIECES)),
      }),
      (text) => {
        expect(asRead(text)).toEqual(asCut(text));
      },
    ),
    seeded(2000),
  );
});

describe('a quote after a figure', () => {
  const texts = (text: string): readonly string[] =>
    stretchesOf(text).flatMap(({ kind, start, end }) => (kind === 'text' ? [text.slice(start, end)] : []));

  test.each([
    ['note 3"for road use"', ['"for road use"']],
    ['note 3/8"use a long socket"', ['"use a long socket"']],
    ['note 1½"part of the kit"', ['"part of the kit"']],
    ['part p2" title" {', ['" title"']],
    ['part piston-2" title" {', ['" title"']],
    ['shell x4"Shell" {', ['"Shell"']],
    ['dimension bore 3" dimension stroke 4"', []],
    ['dimension bore 3 1/2"', []],
    ['dimension bore 3"}', []],
    ['dimension bore 3"..3.1"', []],
    ['dimension bore ¾" # a remark', []],
  ])('%s', (text, expected) => {
    expect(texts(text)).toEqual(expected);
  });

  test('an inch mark is said, and where it stands', () => {
    expect(faultsOf('part a { dimension bore 3" }').map(({ code, at }) => [code, at])).toEqual([['unit/unknown', 25]]);
  });
});

test('an engine is declared behind a remark that ends in run, and none is by run engine', () => {
  const words = (text: string): readonly (string | undefined)[] => cutSections(text).map(({ word }) => word);
  expect(words('# before the first run\nengine "x" { cylinders 4 }')).toEqual(['engine']);
  expect(words('part a { } run # a remark\n engine "x"')).toEqual(['part']);
});

test('a text that is not closed is the same one with any line ends', () => {
  const text = 'part a {\n  note "x\n  y"\n  note "z }\n  note "v"\n}\n';
  const culprits = (of: string): readonly string[] => faultsOf(of).map(({ text: quoted }) => quoted);
  expect(culprits(text.replace(/\n/g, '\r\n'))).toEqual(culprits(text));
});
