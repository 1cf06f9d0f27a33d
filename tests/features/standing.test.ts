// How the engine stands after a step or an action, in the hover, and where marks and links stand after each turning.
import { describe, expect, test } from 'vitest';
import { textOf } from '../../grammar/told.ts';
import { hover } from '../../server/features/hover.ts';
import { standingAt, turnHints } from '../../server/features/standing-text.ts';
import { analyseText } from '../annotated.ts';
import { BRINDLE_FOUR, changed } from '../model/brindle-four.ts';
import { timingSide } from '../rehearsal/work.ts';

/** What is told at the first place of some words. */
function after(text: string, words: string): readonly string[] | undefined {
  const at = text.indexOf(words);
  if (at < 0) throw new Error(`not in the text: ${words}`);
  return standingAt(analyseText(text), at + 1)?.map((each) => textOf(each));
}

const hints = (text: string): readonly string[] =>
  turnHints(analyseText(text), 0, text.length).map(
    (hint) => `${text.slice(0, hint.offset).split('\n').pop()?.trim()}: ${hint.text}`,
  );

describe('after an action', () => {
  test('what it changed, and where the crankshaft stands', () => {
    expect(after(BRINDLE_FOUR, 'set crankshaft at tdc 1')).toEqual([
      'crankshaft: at top dead centre 1 on compression',
      'crankshaft at top dead centre 1 on compression',
    ]);
    expect(after(BRINDLE_FOUR, 'tighten main-bolt')?.[0]).toBe('main-bolt: tight');
  });

  test('what lies under a cover from then on', () => {
    const told = after(BRINDLE_FOUR, 'fit oil-pump onto block');
    expect(told).toContain('oil-pump: on');
    expect(told).toContain('under oil-pump: crank-sprocket');
    expect(after(BRINDLE_FOUR, 'rotate crankshaft 2 turns')?.some((line) => line.startsWith('under'))).toBe(false);
  });

  test('where marks and links stand after two turns: the sprocket has moved 36 of the 56 links on', () => {
    expect(after(BRINDLE_FOUR, 'rotate crankshaft 2 turns')).toContain(
      'marks agree; marked links 36 links past their marks, of 56',
    );
    expect(after(BRINDLE_FOUR, 'align cam-drive')).toContain('marks agree; marked links at their marks');
  });

  test('as it is then, whatever the step does after it', () => {
    const text = BRINDLE_FOUR.replace(
      'set crankshaft at tdc 1 on compression',
      'set crankshaft at tdc 1 on compression\n    rotate crankshaft 2 turns\n    rotate crankshaft 90 deg',
    );
    expect(text).not.toBe(BRINDLE_FOUR);
    expect(after(text, 'set crankshaft at tdc 1')).toContain('crankshaft at top dead centre 1 on compression');
    expect(after(text, 'rotate crankshaft 90 deg')).not.toContain('crankshaft at top dead centre 1 on compression');
  });

  test('nothing on a remark, on a name in it, or outside steps', () => {
    expect(after(BRINDLE_FOUR, 'note "Keep it level')).toBeUndefined();
    expect(after(BRINDLE_FOUR, 'main-bolt x10')).toBeUndefined();
    expect(standingAt(analyseText(BRINDLE_FOUR), BRINDLE_FOUR.indexOf('tighten main-bolt') + 12)).toBeUndefined();
  });
});

describe('after a step', () => {
  test('all that it changed, in the hover too', () => {
    const told = after(BRINDLE_FOUR, 'fit-cam-plate {');
    expect(told).toContain('cam-plate: on');
    expect(told).toContain('cam-plate-bolt: tight');
    const at = BRINDLE_FOUR.indexOf('fit-cam-plate {') + 1;
    const markdown = hover(analyseText(BRINDLE_FOUR), at)?.markdown ?? '';
    expect(markdown).toContain('step fit-cam-plate {');
    expect(markdown).toContain('\\-bolt: tight');
  });

  test('of each variant where they differ', () => {
    const told = after(BRINDLE_FOUR, 'fit-sump {');
    expect(told).toContain('saloon:');
    expect(told).toContain('van:');
    expect(told?.filter((line) => line === 'under sump: oil-pump')).toHaveLength(1);
  });

  test('none that is in no job of the file', () => {
    const text = `${BRINDLE_FOUR}\njob short of brindle-four {\n  begins bare\n  sequences other\n}\n\nsequence other {\n  step nothing {\n    wait 1 h\n  }\n}\n`;
    expect(after(text, 'fit-cam-plate {')).toBeUndefined();
    expect(after(text, 'nothing {')).toEqual(['nothing is changed']);
  });
});

describe('behind a turning', () => {
  const chain = { crank: 18, cam: 36, links: 56 };

  test('marks and links', () => {
    expect(hints(changed())).toEqual([
      'rotate crankshaft 2 turns: marks agree; marked links 36 links past their marks, of 56',
    ]);
  });

  test('where each mark stands, as the spec writes it, when they do not agree', () => {
    // A turn and a half: 540 degrees of the crankshaft, 270 of the camshaft, 27 links.
    expect(hints(timingSide(chain, 'rotate crankshaft 540 deg clockwise'))).toEqual([
      "rotate crankshaft 540 deg clockwise: crank-sprocket.dot at 12 o'clock, cam-sprocket.dot at 9 o'clock; marked links 27 links past their marks, of 56",
    ]);
  });

  test('links that are back after 28 turns', () => {
    expect(hints(timingSide(chain, 'rotate crankshaft 28 turns'))).toEqual([
      'rotate crankshaft 28 turns: marks agree; marked links at their marks',
    ]);
  });

  test('only the stretch that is asked for', () => {
    const text = timingSide(chain, 'rotate crankshaft 2 turns');
    expect(turnHints(analyseText(text), 0, text.indexOf('rotate'))).toEqual([]);
  });
});
