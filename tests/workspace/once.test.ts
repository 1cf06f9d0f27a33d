// A file that is looked at once, without notes of what was read, is found to be as one whose answers are kept for edits; and what is kept
// for edits is none the worse for it.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { IN_ENGLISH } from '../../grammar/told.ts';
import { ask, invalidate, newCell, newQuestion, once, track } from '../../server/model/questions.ts';
import { analyse } from '../../server/workspace/analyse.ts';
import type { Analysis } from '../../server/workspace/api.ts';
import { memoryHost } from '../annotated.ts';

const samples = join(import.meta.dirname, '../../samples');

/** The specs of a folder, by their names. */
function specsIn(folder: string): Readonly<Record<string, string>> {
  const names = readdirSync(folder).filter((name) => name.endsWith('.fettle'));
  return Object.fromEntries(names.map((name) => [name, readFileSync(join(folder, name), 'utf8')]));
}

const told = ({ findings }: Analysis): unknown =>
  findings.map(({ told: sentence, fixes, related, ...rest }) => [
    { ...rest, message: sentence.in(IN_ENGLISH) },
    related.map((each) => [each.file, each.start, each.end, each.told.in(IN_ENGLISH)]),
    fixes.map((each) => [each.told.in(IN_ENGLISH), each.edits]),
  ]);

describe('all samples and faults', () => {
  const whole = specsIn(samples);
  const faults = specsIn(join(samples, 'faults'));
  expect(Object.keys(faults).length).toBeGreaterThan(20);
  test.each(Object.entries({ ...whole, ...faults }))('%s', (name, text) => {
    const host = memoryHost(faults[name] === undefined ? whole : faults);
    const kept = told(analyse(name, text, host));
    expect(once(() => told(analyse(name, text, host)))).toEqual(kept);
    expect(told(analyse(name, text, host))).toEqual(kept);
  });
});

describe('what only one variant has, or has otherwise', () => {
  const text = readFileSync(join(samples, 'review/brindle-pony-2.fettle'), 'utf8');
  expect(text).toContain('variants road, marine');
  const host = memoryHost({});
  let files = 0;
  const isSame = (changed: string): void => {
    const kept = told(analyse('pony.fettle', changed, host));
    expect(once(() => told(analyse('pony.fettle', changed, host)))).toEqual(kept);
    // Read for the first time, too, and not after an edit.
    files += 1;
    expect(told(analyse(`${files}.fettle`, changed, host))).toEqual(
      once(() => told(analyse(`${files}.fettle`, changed, host))),
    );
  };
  const STATEMENT = /^ +(?!step |when |}|revision|variants|source)[a-z-]+ [^{}\n]*$/gm;
  const statements = [...text.matchAll(STATEMENT)];
  test(`each third of ${statements.length} statements`, () => {
    expect(statements.length).toBeGreaterThan(60);
    for (const { 0: line, index } of statements.filter((_, i) => i % 3 === 0))
      isSame(`${text.slice(0, index)}  when marine {\n${line}\n}\n${text.slice(index + line.length)}`);
  });
  const DECLARATION = /^(?:part|fastener|drive|limit|supply|sequence) [^{\n]*(?:\{$[\s\S]*?^\}$|$(?:\n +.*$)*)/gm;
  const declarations = [...text.matchAll(DECLARATION)];
  test(`each of ${declarations.length} declarations`, () => {
    expect(declarations.length).toBeGreaterThan(20);
    for (const { 0: declared, index } of declarations)
      isSame(`${text.slice(0, index)}when road {\n${declared}\n}\n${text.slice(index + declared.length)}`);
  });
  test('a part that is another for each variant', () => {
    const [own = ''] = /^part piston x2 \{[\s\S]*?^\}$/m.exec(text) ?? [];
    expect(own).not.toBe('');
    const other = own.replace('part piston x2', 'part piston x3').replace('70.362..70.370', '70.462..70.470');
    isSame(text.replace(own, `when road {\n${own}\n}\nwhen marine {\n${other}\n}`));
  });
});

test('findings that are cached from edit to edit are so, too, where they are first asked for while something is looked at once', () => {
  const whole = specsIn(samples);
  const host = { ...memoryHost(whole), supersedes: true };
  for (const name of ['inline-four.fettle', 'launch-eight.fettle']) {
    const text = `${whole[name] ?? ''}\n`;
    const fresh = once(() => told(analyse(name, text, host)));
    const analysis = analyse(name, text, host);
    expect(once(() => told(analysis))).toEqual(fresh);
    const edited = text.replace('torque 2', 'torque 3');
    expect(edited).not.toBe(text);
    expect(told(analyse(name, edited, host))).toEqual(once(() => told(analyse(name, edited, host))));
  }
});

test('a torque for one variant alone is missing for the other, read for the first time, after an edit and looked at once', () => {
  const text = `spec pony "Pony" {
  variants road, marine
}
part sump
part block
fastener sump-bolt x4 {
  thread M6
  clamps sump to block
  when road {
    torque 10 N.m
  }
}
`;
  const host = memoryHost({});
  const codes = ({ findings }: Analysis): readonly string[] => findings.map(({ code }) => code);
  const kept = codes(analyse('first.fettle', text, host));
  expect(kept).toContain('torque/missing');
  expect(codes(analyse('first.fettle', text.replace('10 N.m', '11 N.m'), host))).toEqual(kept);
  expect(once(() => codes(analyse('first.fettle', text, host)))).toEqual(kept);
});

describe('a step that is inserted for one variant is in the views of that one alone, also where nothing is cached', () => {
  const base = readFileSync(join(samples, 'review/brindle-pony-1.fettle'), 'utf8');
  const built = `use "pony.fettle"

spec ours "Ours" extends brindle-pony {
  when marine {
    insert step wash-again "Wash it again" before lay-crankshaft {
      clean block with degreaser
    }
  }
}
`;
  const host = memoryHost({ 'pony.fettle': base });
  test.each([
    ['as it should be', built],
    ['where a brace is missing', built.replace(/}\n$/, '')],
  ])('%s', (name, text) => {
    const analysis = analyse(`${name}.fettle`, text, host);
    const seenIn = (views: Analysis['views']): unknown =>
      views.flatMap(({ variant, steps }) => (steps.some(({ name }) => name === 'wash-again') ? [variant] : []));
    expect(analysis.variants.length).toBe(2);
    expect(seenIn(analysis.views)).toEqual(['marine']);
    expect(seenIn(analysis.recordedViews())).toEqual(['marine']);
  });
});

test('what a change leads to in the spec below stands at the same change both ways', () => {
  const shops = specsIn(join(samples, 'two-shops'));
  const host = memoryHost(shops);
  const whole = shops['quarry-lane.fettle'] ?? '';
  const text = whole.replace('  change limit piston-clearance\n', '');
  expect(text).not.toBe(whole);
  const kept = told(analyse('quarry-lane.fettle', text, host));
  expect(kept).not.toEqual([]);
  expect(once(() => told(analyse('quarry-lane.fettle', text, host)))).toEqual(kept);
});

test('within, a question is answered once, and one that asks for itself goes in a circle', () => {
  let answered = 0;
  once(() => {
    const inner = newQuestion(() => {
      answered += 1;
      return 7;
    });
    const outer = newQuestion(() => [ask(inner), ask(inner)]);
    expect(ask(outer)).toEqual([7, 7]);
    expect(ask(outer)).toEqual([7, 7]);
    expect(answered).toBe(1);
    const circle: { readonly of: ReturnType<typeof newQuestion> } = {
      of: newQuestion((): unknown => [ask(circle.of)]),
    };
    expect(ask(circle.of)).toEqual([undefined]);
    const failing = newQuestion(() => {
      answered += 1;
      throw new Error('no');
    });
    expect(() => ask(failing)).toThrow('no');
    expect(() => ask(failing)).toThrow('no');
    expect(answered).toBe(3);
  });
});

test('outside of it, and behind one that failed, all is noted as ever', () => {
  let value = 1;
  const cell = newCell();
  const question = newQuestion(() => {
    track(cell);
    return value;
  });
  expect(() =>
    once(() => {
      throw new Error('no');
    }),
  ).toThrow('no');
  expect(ask(question)).toBe(1);
  value = 2;
  invalidate(cell);
  expect(ask(question)).toBe(2);
});
