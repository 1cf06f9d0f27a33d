// What is offered at the cursor, by place.
import { describe, expect, test } from 'vitest';
import { DECLARATIONS } from '../../grammar/vocabulary.ts';
import { completions } from '../../server/features/completion.ts';
import { marked } from './marked.ts';

const SPEC = `spec s "S" {
  revision 1
  variants saloon, van
  source manual "Workshop manual"
}

part block {
  dimension bore x4 78.400..78.418 mm
  feature face
}

part sump {
  mark dot at 6 o'clock
}

part piston x4 {
  dimension skirt 78.360..78.370 mm
}

supply sealant "Sealant"

fastener sump-bolt x14 {
  thread M6
  clamps sump to block
  torque 9 N.m
}

limit play of block
  kind piston-clearance
  = block.bore - piston.skirt
  within 0.03..0.06 mm

drive cam-drive {
  ratio block to sump 2:1
}

`;

interface Seen {
  readonly labels: readonly string[];
  readonly best: readonly string[];
  readonly replaced: string;
}

/** What is offered in a piece of text after the spec. */
function at(piece: string, spec = SPEC): Seen {
  const { analysis, text, cursor } = marked(spec + piece);
  const { start, completions: found } = completions(analysis, cursor);
  const least = Math.min(...found.map((each) => each.rank));
  return {
    labels: found.map((each) => each.label),
    best: found.filter((each) => each.rank === least).map((each) => each.label),
    replaced: text.slice(start, cursor),
  };
}

const step = (line: string): string => `sequence a {\n  phase assemble\n  step one {\n    ${line}\n  }\n}\n`;

describe('words', () => {
  test('outside all braces begin a declaration; a step does not', () => {
    const { labels } = at('|');
    expect(labels).toEqual(expect.arrayContaining(['part', 'fastener', 'sequence', 'record']));
    expect(labels).not.toContain('step');
    expect(labels).not.toContain('torque');
  });

  test('of the block at hand, those that are said already last', () => {
    const { labels, best } = at('fastener x {\n  thread M8\n  |\n}\n');
    expect(labels).toEqual(expect.arrayContaining(['torque', 'clamps', 'tightening-order']));
    expect(labels).not.toContain('teeth');
    expect(best).toContain('torque');
    expect(best).not.toContain('thread');
  });

  test('take the place of what is typed, its hyphen too', () => {
    expect(at('fastener x {\n  single-u|\n}\n')).toMatchObject({ replaced: 'single-u' });
    expect(at('fastener x {\n  single-u|\n}\n').labels).toContain('single-use');
  });

  test('of a sequence are its own, and step', () => {
    const { labels } = at('sequence a {\n  |\n}\n');
    expect(labels).toEqual(expect.arrayContaining(['step', 'phase', 'starts-with']));
    expect(labels).not.toContain('fit');
  });

  test('of a repair size are those of sizes', () => {
    const { labels } = at('part shell {\n  size under-25 undersize 0.25 mm {\n    |\n  }\n}\n');
    expect(labels).toEqual(expect.arrayContaining(['wall', 'dimension']));
    expect(labels).not.toContain('teeth');
  });

  test('that may still follow in a statement come before the next statement', () => {
    const { labels, best } = at(step('fit sump |'));
    expect(best).toEqual(['into', 'onto', 'together', 'by', 'at', 'part-way']);
    expect(labels).toContain('tighten');
    expect(at(step('fit sump into block |')).best).toEqual(['together', 'by', 'at', 'part-way']);
  });

  test('are not offered in comments and in texts', () => {
    expect(at('part x {\n  # te|\n}\n').labels).toEqual([]);
    expect(at('part x {\n  note "te|"\n}\n').labels).toEqual([]);
  });
});

describe('names', () => {
  test('are parts after fit, those that no step fits first', () => {
    const seen = at(`sequence z {\n  phase assemble\n  step y {\n    fit block\n  }\n}\n${step('fit |')}`);
    expect(seen.labels).toEqual(expect.arrayContaining(['block', 'sump', 'piston']));
    expect(seen.labels).not.toContain('sump-bolt');
    expect(seen.best).toContain('sump');
    expect(seen.best).not.toContain('block');
  });

  test.each([
    ['tighten |', ['sump-bolt']],
    ['measure |', ['play']],
    ['align |', ['cam-drive']],
    ['seal sump with |', ['sealant']],
  ])('%s', (line, wanted) => {
    const { labels } = at(step(line));
    expect(labels).toEqual(expect.arrayContaining(wanted));
    expect(labels).not.toContain(wanted[0] === 'sump-bolt' ? 'block' : 'sump-bolt');
  });

  test('go on after a comma, and no statement begins there', () => {
    const { labels } = at(step('fit sump, |'));
    expect(labels).toContain('piston');
    expect(labels).not.toContain('tighten');
  });

  test('after clamps and its to are parts', () => {
    expect(at('fastener x {\n  clamps |\n}\n').labels).toContain('sump');
    expect(at('fastener x {\n  clamps sump to |\n}\n').labels).toEqual(expect.arrayContaining(['block', 'piston']));
  });

  test('after a dot are the features of the part, sizes first', () => {
    expect(at('limit x = block.|\n').labels).toEqual(expect.arrayContaining(['bore', 'face']));
    expect(at('limit x = block.|\n').best).toEqual(['bore']);
    expect(at('limit x = engine.|\n').labels).toContain('compression-ratio');
    expect(at(step('confirm sump.|')).labels).toEqual(['dot']);
  });

  test('are sources after per, variants after when, codes after allow, kinds after kind', () => {
    expect(at('part x {\n  mass 3 kg per |\n}\n').labels).toEqual(['manual']);
    expect(at('part x {\n  when |\n}\n').labels).toEqual(['saloon', 'van']);
    expect(at('part x {\n  allow |\n}\n').labels).toContain('torque/over-proof');
    expect(at('limit x kind |\n').labels).toContain('oil-clearance');
  });

  test('of files that are used are offered, and those of one variant too', () => {
    const used = { 'b.fettle': 'part lid\n' };
    const { analysis, cursor } = marked(
      `use "b.fettle"\n\nspec s {\n  variants a, b\n}\n\nwhen b {\n  part box\n}\n\n${step('fit |')}`,
      used,
    );
    const labels = completions(analysis, cursor).completions.map((each) => each.label);
    expect(labels).toEqual(expect.arrayContaining(['lid', 'box']));
  });
});

describe('units', () => {
  test('are of the kind that the statement takes', () => {
    const torque = at('fastener x {\n  torque 24 |\n}\n').labels;
    expect(torque).toEqual(expect.arrayContaining(['N.m', 'lbf.ft', 'deg']));
    expect(torque).not.toContain('mm');
    const mass = at('part x {\n  mass 3 |\n}\n').labels;
    expect(mass).toContain('kg');
    expect(mass).not.toContain('N.m');
  });

  test('take the place of a unit that is half typed, signs and all', () => {
    expect(at('fastener x {\n  torque 24 N.|\n}\n')).toMatchObject({ replaced: 'N.' });
    expect(at('fastener x {\n  torque 24 N.|\n}\n').labels).toContain('N.m');
  });

  test("have o'clock where a direction may stand, and none where a bare number does", () => {
    expect(at('part x {\n  mark dot at 6 |\n}\n').labels).toContain("o'clock");
    expect(at('part x {\n  teeth 18 |\n}\n').labels).not.toContain('mm');
  });
});

describe('choices', () => {
  test.each([
    ['fastener x {\n  joint |\n}\n', 'structural'],
    ['sequence x {\n  phase |\n}\n', 'assemble'],
    ['part x {\n  orient arrow toward |\n}\n', 'front'],
    [step('fit sump by |'), 'press'],
    [step('confirm cam-drive by |'), 'marks'],
    ['valve-timing v on sump {\n  inlet opens 12 deg |\n}\n', 'btdc'],
  ])('%j', (piece, wanted) => {
    expect(at(piece).labels).toContain(wanted);
  });
});

describe('a word that is taken', () => {
  const taken = (word: string, piece: string, spec = SPEC): object | undefined => {
    const { analysis, cursor } = marked(spec + piece);
    return completions(analysis, cursor).completions.find((each) => each.label === word);
  };

  test('goes on with the names of this spec', () => {
    expect(taken('tighten', step('|'))).toMatchObject({ goesOn: true });
    expect(taken('fit', step('|'))).toMatchObject({ goesOn: true });
  });

  test('has an example to write over, where no name can stand behind it or there is none yet', () => {
    expect(taken('torque', 'fastener lid-bolt {\n  |\n}\n')).toMatchObject({
      snippet: expect.stringMatching(/^torque \$\{1:30 N\.m/),
    });
    const alone = 'sequence s {\n  step one {\n    |\n  }\n}\n';
    expect(taken('tighten', alone, '')).toMatchObject({ snippet: expect.stringMatching(/^tighten \$\{1:head-bolt/) });
  });

  test('begins a declaration with its braces, and the next gap in them', () => {
    expect(taken('part', '|')).toMatchObject({ snippet: 'part $1 {\n  $0\n}' });
    expect(taken('spec', '|', '')).toMatchObject({ snippet: 'spec $1 "$2" {\n  revision 1\n  $0\n}' });
    for (const { word } of DECLARATIONS.filter((row) => row.word !== 'step'))
      expect(taken(word, '|')).toMatchObject({ snippet: expect.stringContaining(word) });
  });

  test.each([
    ['torque', 'fastener x {\n  torq| 22 N.m\n}\n'],
    ['step', 'sequence a {\n  st| lay-crankshaft "Lay the crankshaft" {\n  }\n}\n'],
    ['part', 'par| head {\n}\n'],
    ['tighten', step('tig| sump-bolt')],
  ])('%s alone, where what belongs to it stands behind it already: %j', (word, piece) => {
    expect(taken(word, piece)).not.toHaveProperty('snippet');
    expect(taken(word, piece)).not.toHaveProperty('goesOn');
  });

  test.each([
    ['torque', 'fastener x { torq| }\n'],
    ['torque', 'fastener x {\n  torq| # as the book says\n}\n'],
  ])('%s with its gap, where only a brace or a comment stands behind it: %j', (word, piece) => {
    expect(taken(word, piece)).toHaveProperty('snippet');
  });
});

describe('the order in which words are offered', () => {
  const ranked = (piece: string, spec = SPEC): readonly string[] => {
    const { analysis, cursor } = marked(spec + piece);
    const { completions: found } = completions(analysis, cursor);
    return [...found]
      .sort((one, next) => one.rank - next.rank || (one.order ?? 0) - (next.order ?? 0))
      .map((each) => each.label);
  };

  test('what a spec begins with comes first', () => {
    expect(ranked('|', '').slice(0, 4)).toEqual(['spec', 'engine', 'part', 'fastener']);
    expect(ranked('engine {\n  |\n}\n')[0]).toBe('cylinders');
    expect(ranked(step('|'))[0]).not.toBe('allow');
  });

  test('what may stand anywhere comes last', () => {
    expect(ranked('engine {\n  |\n}\n').slice(-4).sort()).toEqual(['allow', 'note', 'per', 'when']);
  });
});
