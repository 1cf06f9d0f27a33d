// What the editor offers where work is left undone: taken, the finding is gone, and nothing else is wrong that was not before.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { actions } from '../../server/features/actions.ts';
import { analyseText } from '../annotated.ts';
import { edited } from './marked.ts';

const samples = join(import.meta.dirname, '../../samples');
const read = (name: string): string => readFileSync(join(samples, name), 'utf8');
const common = { 'common-fasteners.fettle': read('common-fasteners.fettle') };

interface Mended {
  readonly title: string;
  readonly text: string;
  readonly before: readonly string[];
  readonly after: readonly string[];
}

/** Takes the offers at each finding of a code until there is none, the one that is preferred; or the one with a title. */
function mend(text: string, code: string, titled = ''): Mended {
  const first = analyseText(text, common);
  const faults = (analysis: typeof first): readonly string[] =>
    analysis.findings.filter((each) => each.severity !== 'information').map((each) => each.code);
  let [now, title] = [text, ''];
  for (let times = 0; times < 10; times += 1) {
    const analysis = analyseText(now, common);
    const finding = analysis.findings.find((each) => each.code === code);
    if (finding === undefined) break;
    const offered = actions(analysis, finding.start, finding.end).find(
      (each) => each.finding?.code === code && (titled === '' ? each.preferred : each.told.text.includes(titled)),
    );
    if (offered === undefined) break;
    title ||= offered.told.text;
    now = edited(now, offered.edits);
  }
  return { title, text: now, before: faults(first), after: faults(analyseText(now, common)) };
}

describe('in the samples of single mistakes', () => {
  test.each([
    ['never-fitted', '', 'Write fit oil-pump in step fit-sump'],
    ['never-fitted', 'starts with', 'Say that close-up starts with oil-pump'],
    ['never-tightened', '', 'Write tighten sump-bolt in step fit-sump'],
    [
      'timing-not-proved',
      '',
      'Prove the timing after step fit-timing-set: rotate crankshaft 2 turns, confirm cam-drive by marks',
    ],
    ['still-held-back', '', 'Write release chain-tensioner in step fit-timing-set'],
    ['stage-left', '', ''],
  ])('%s %s', (name, titled, said) => {
    const code = `sequence/${name}`;
    const mended = mend(read(`faults/${name}.fettle`), code, titled);
    expect(mended.before).toContain(code);
    expect(mended.title).toContain(said);
    const rest = mended.before.filter((each) => each !== code);
    // The proof of the timing is asked for once the tensioner is let go.
    expect(mended.after.filter((each) => !rest.includes(each) && each !== 'sequence/timing-not-proved')).toEqual([]);
    expect(mended.after).not.toContain(code);
  });
});

describe('a whole engine from which a line was taken is whole again', () => {
  const whole = read('inline-four.fettle');
  const clean = mend(whole, '').before;
  const lines = whole.split('\n');
  const taken = lines.flatMap((line, at) => {
    const match = /^ +(tighten|release|confirm) ([\w-]+)(?: by marks)?$/.exec(line);
    return match === null ? [] : [[`${match[1]} ${match[2]}, line ${at + 1}`, at] as const];
  });

  test.each(taken)('%s', (_what, at) => {
    const text = lines.filter((_line, i) => i !== at).join('\n');
    const analysis = analyseText(text, common);
    const codes = ['sequence/never-tightened', 'sequence/still-held-back', 'sequence/timing-not-proved'];
    const code = codes.find((each) => analysis.findings.some((finding) => finding.code === each));
    if (code === undefined) return;
    const mended = mend(text, code);
    expect(mended.after).toEqual(clean);
  });

  test('which is so for many lines', () => expect(taken.length).toBeGreaterThan(15));
});

test('a part that nothing needs gets a step of its own, at the end of the assembly', () => {
  const text =
    'part block\n\npart lid\n\nsequence s {\n  phase assemble\n  starts-with block\n  step one {\n    clean block\n  }\n}\n';
  const mended = mend(text, 'sequence/never-fitted');
  expect(mended.title).toBe('Add a step that fits lid, after one');
  expect(mended.text).toContain('  }\n  step fit-lid {\n    fit lid\n  }\n}');
  expect(mended.after).not.toContain('sequence/never-fitted');
});

test('a head that is forgotten goes on where its bolts are tightened, not where its valves go in on the bench', () => {
  const whole = read('inline-four.fettle');
  const without = whole.replace('    fit cylinder-head onto block\n    tighten head-bolt', '    tighten head-bolt');
  expect(without).not.toBe(whole);
  const mended = mend(without, 'sequence/never-fitted');
  expect(mended.title).toBe('Write fit cylinder-head onto block in step fit-head');
  expect(mended.text).toBe(whole);
  expect(mended.after).toEqual([]);
});
