// How changes of a base are read and laid out: each is a section in its spec, so that a fault spoils one change alone. What they mean
// is not looked at here.
import { describe, expect, test } from 'vitest';
import { parseSection } from '../../grammar/parse.ts';
import { formatText } from '../../grammar/printer.ts';
import { cutSections } from '../../grammar/sections.ts';
import type { Declaration } from '../../grammar/tree.ts';
import { everySection, faultsOf, treesOf } from './trees.ts';

const text = `use "brindle-four.fettle"

# Ours.
spec quarry-four "As Quarry Lane builds it" extends brindle-four {
  revision 1
  # the piston
  change part piston "Our piston" x4 {
    dimension skirt 78.350..78.360 mm  # tighter
    drop mark dot
    drop single-use
  }  # behind the piston
  change fastener head-bolt {
    torque 30 N.m, 60 N.m, 90 deg
      per manual "2-16"
  }
  # about the limit
  change limit main-oil-clearance
    within 0.025..0.055 mm
  change step fit-head {
    fit head-gasket onto block
  }
  change engine {
    redline 6400 rpm
  }
  drop step fit-cam-plate
  note "After the plate."
  when van {
    drop part sump
    change sequence long-block "Ours"
  }
  insert step look "Look" each piston after fit-pistons {
    inspect piston
  }
  # the last remark
}

part guard
`;

const declarations = (of: string): readonly Declaration[] =>
  everySection(of).flatMap(({ section, inSequence }) => parseSection(section, inSequence).declaration ?? []);

/** The words that each change begins with. */
const heads = (of: string): readonly string[] =>
  declarations(of).flatMap((each) =>
    each.changed === undefined ? [] : [`${each.word} ${each.changed.word} ${each.name?.text ?? ''}`.trim()],
  );

describe('a spec with changes', () => {
  test('reads without a fault, each change by itself', () => {
    expect(faultsOf(text)).toEqual([]);
    expect(heads(text)).toEqual([
      'change part piston',
      'change fastener head-bolt',
      'change limit main-oil-clearance',
      'change step fit-head',
      'change engine',
      'drop step fit-cam-plate',
      'drop part sump',
      'change sequence long-block',
      'insert step look',
    ]);
    const spec = declarations(text).find((each) => each.word === 'spec');
    expect(spec?.extends?.text).toBe('brindle-four');
    expect(spec?.body?.statements.map((each) => each.kind)).toEqual([
      ...['number', 'hole', 'hole', 'hole', 'hole', 'hole', 'hole', 'text', 'when', 'hole'],
    ]);
    expect(declarations(text).find((each) => each.word === 'insert')).toMatchObject({
      title: { value: 'Look' },
      each: { owner: { text: 'piston' } },
      beside: { word: 'after', step: { text: 'fit-pistons' } },
    });
  });

  test('what is dropped in a change has its word and its name', () => {
    const piston = declarations(text).find((each) => each.changed?.word === 'part');
    expect(piston?.body?.statements).toMatchObject([
      { kind: 'dimension' },
      { kind: 'drop', what: { word: 'mark' }, name: { text: 'dot' } },
      { kind: 'drop', what: { word: 'single-use' } },
    ]);
    const grades = declarations('spec s extends b { change grades shim { drop thin thick 2.1 mm drop note } }');
    expect(grades[1]?.body?.statements).toMatchObject([
      { kind: 'drop', what: { word: 'grade' }, name: { text: 'thin' } },
      { kind: 'grade', name: { text: 'thick' } },
      { kind: 'drop', what: { word: 'note' } },
    ]);
  });

  test('stands in the canonical layout, and comes back to it from one line and with every remark', () => {
    expect(formatText(text)).toEqual({ kind: 'formatted', text });
    const plain = text.replace(/^[ \t]*#.*\n/gm, '').replace(/[ \t]+#.*$/gm, '');
    expect(formatText(plain.replace(/\s+/g, ' '))).toEqual({ kind: 'formatted', text: plain });
    expect(treesOf(plain.replace(/\s+/g, ' '))).toEqual(treesOf(plain));
  });

  test('words of a change are names elsewhere', () => {
    const names =
      'part insert\n\npart drop {\n  mark change\n  feature drop\n}\n\nlimit x of insert\n  measured\n  within 3 mm\n';
    expect(faultsOf(names)).toEqual([]);
    expect(cutSections(names).map((section) => section.word)).toEqual(['part', 'part', 'limit']);
    expect(formatText(names)).toEqual({ kind: 'formatted', text: names });
    const bare = 'part insert part b { mass 3 kg }';
    expect(cutSections(bare).map((section) => section.word)).toEqual(['part', 'part']);
  });

  test('capitals and remarks between the words of a change', () => {
    const odd = 'spec s extends b {\n  CHANGE # what\n  Part piston { mass 3 g }\n  Drop Step x\n}\n';
    expect(faultsOf(odd)).toEqual([]);
    expect(heads(odd)).toEqual(['change part piston', 'drop step x']);
  });
});

describe('a fault in one change', () => {
  const readings = (of: string): readonly string[] =>
    everySection(of).map(({ section, inSequence }) => {
      const { declaration, faults } = parseSection(section, inSequence);
      return JSON.stringify([section.text.trim(), declaration, faults]);
    });
  const changes = everySection(text).filter(({ section }) => section.word === 'change' || section.word === 'insert');
  const withBraces = changes.filter(({ section }) => section.text.includes('{'));

  test.each(
    withBraces.map(({ section }) => [section.text.slice(0, section.text.indexOf('{')).trim(), section] as const),
  )('%s: a missing closing brace is one fault, and the other changes are read', (_head, section) => {
    const at = section.start + section.text.trimEnd().length - 1;
    const spoilt = `${text.slice(0, at)} ${text.slice(at + 1)}`;
    const faults = faultsOf(spoilt);
    expect(faults.map((each) => each.code)).toEqual(['syntax/unclosed']);
    expect(heads(spoilt)).toEqual(heads(text));
    const same = readings(spoilt).filter((each) => readings(text).includes(each));
    // The change itself, the spec round it, and for the last change what came after it.
    expect(readings(text).length - same.length).toBeLessThanOrEqual(2);
    for (const { start, end, text: put } of faults[0]?.fixes[0]?.edits ?? [])
      expect([start, put]).toEqual([end, '\n}']);
  });

  test.each(
    withBraces.map(({ section }) => [section.text.slice(0, section.text.indexOf('{')).trim(), section] as const),
  )('%s: a word that means nothing spoils nothing else', (_head, section) => {
    const at = section.start + section.text.indexOf('{') + 1;
    const spoilt = `${text.slice(0, at)} ,, ${text.slice(at)}`;
    expect(faultsOf(spoilt).length).toBeGreaterThan(0);
    const before = readings(text);
    const after = readings(spoilt);
    expect(after.length).toBe(before.length);
    expect(after.filter((each, i) => each !== before[i]).length).toBe(1);
  });

  test('the brace of the spec that is missing is one fault', () => {
    const spoilt = text.replace('  # the last remark\n}\n', '  # the last remark\n');
    expect(faultsOf(spoilt).map((each) => [each.code, each.text])).toEqual([['syntax/unclosed', '{']]);
    expect(heads(spoilt)).toEqual(heads(text));
    expect(declarations(spoilt).find((each) => each.word === 'part')?.name?.text).toBe('guard');
  });

  test('the opening brace of the spec that is missing is one fault', () => {
    const whole = text.replace(/ {2}when van \{[\s\S]*?\n {2}\}\n/, '');
    const spoilt = whole.replace('extends brindle-four {', 'extends brindle-four');
    expect(faultsOf(spoilt).map((each) => String(each.message))).toEqual([
      'A { is missing before revision: what is said of a declaration stands in braces.',
    ]);
    expect(heads(spoilt)).toEqual(heads(whole));
  });
});

describe('what is said', () => {
  test.each([
    ['spec s { change part p { mass 3 g } }', 's', 'This spec has changes and names no base.'],
    ['spec s extends b { change piston { mass 3 g } }', 'change', 'Say what kind of thing it is: change part'],
    ['spec s extends b { change limit l within 3 mm revision 3 }', 'revision', 'revision is said of the spec itself'],
    ['spec s extends b { change part piston }', 'piston', 'Nothing is said of what differs.'],
    ['spec s extends b { change part { mass 3 g } }', 'change part', 'A name is missing after change part'],
    ['spec s extends b { insert step x { wait 3 min } }', 'x', 'Say where x goes'],
    ['spec s extends b { insert part x }', 'part', 'Only a step is inserted.'],
    ['spec s extends b { change part p { drop thred } }', 'thred', 'Nothing called thred stands in a part'],
    ['spec s extends b { change fastener p { drop torqe } }', 'torqe', 'Did you mean torque?'],
    ['part p { drop = }', 'drop', 'drop takes out what a base says, in the braces of change.'],
    ['spec s extends b { } change part p { mass 3 g }', '\ufffc', 'A change stands in the braces of the spec'],
    ['spec s extends b { change part p { torque 3 N.m } }', 'torque', 'torque'],
  ])('%s', (written, at, message) => {
    const [fault, ...more] = faultsOf(written);
    expect(more).toEqual([]);
    expect(fault?.text).toBe(at);
    expect(String(fault?.message)).toContain(message);
  });
});
