// Where the findings of a spec that is built on another stand: in the file whose text is at fault, once. What of the base is as it was
// is not said again; what comes of a change stands at the change and points at the base.
import { describe, expect, test } from 'vitest';
import { analyseText, disagreements, lineAndColumn } from '../annotated.ts';
import { BASE } from './derived.ts';

const files = { 'brindle-four.fettle': BASE };
const lineIn = (text: string, of: string): number => lineAndColumn(text, text.indexOf(of)).line;

/** Marked texts: see annotated.ts. */
const MARKED: readonly (readonly [string, string])[] = [
  [
    'no base of that name',
    `use "brindle-four.fettle"
spec own extends brindle-for {
#                ^^^^^^^^^^^ name/unknown
  change part piston { mass 3 g }
}
`,
  ],
  [
    'the file of the base is not there: that alone is said',
    `use "brindle-for.fettle"
#   ^^^^^^^^^^^^^^^^^^^^ name/import-not-found
spec own extends brindle-four {
  change part piston { mass 3 g }
}
`,
  ],
  [
    'things that the base does not have, or has as another kind',
    `use "brindle-four.fettle"
spec own extends brindle-four {
  change part pistn { mass 3 g }
#             ^^^^^ name/unknown
  change part head-bolt { mass 3 g }
#             ^^^^^^^^^ name/wrong-kind
  drop step fit-cam-plat
#           ^^^^^^^^^^^^ name/unknown
  insert step look after fit-hed { inspect cylinder-head }
#                        ^^^^^^^ name/unknown
  change part camshaft { drop mark dowl }
#                             ^^^^^^^^^ name/unknown
  change fastener sump-bolt { drop reuse }
#                                  ^^^^^ name/unknown
}
`,
  ],
  [
    'steps that are inserted beside each other',
    `use "brindle-four.fettle"
spec own extends brindle-four {
  insert step a after b { wait 3 min }
  insert step b after fit-head { wait 3 min }
  insert step c after d { wait 3 min }
#                     ^ name/unknown
  insert step d before c { wait 3 min }
#                      ^ name/unknown
}
`,
  ],
  [
    'twice',
    `use "brindle-four.fettle"
spec own extends brindle-four {
  change part piston { mass 300 g }
  change part piston { mass 310 g }
#             ^^^^^^ name/duplicate
  insert step fit-head after fit-sump { inspect cylinder-head }
#             ^^^^^^^^ name/duplicate
}

part sump {
#    ^^^^ name/duplicate
  mass 3 kg
}

  engine {
# ^^^^^^ name/duplicate
  cylinders 4 inline
}
`,
  ],
  [
    'changes of the same thing for other variants are no duplicates',
    `use "brindle-four.fettle"
spec own extends brindle-four {
  when van { change part piston { mass 300 g } }
  when saloon { change part piston { mass 310 g } }
}
`,
  ],
  [
    'a figure that is wrong stands where it is written',
    `use "brindle-four.fettle"
spec own extends brindle-four {
  change fastener sump-bolt {
    torque 900 N.m
#          ^^^^^^^ torque/over-proof
  }
  change part piston { dimension skirt 78.370..78.360 mm }
#                                      ^^^^^^^^^^^^^^^^^ unit/range-reversed
  change limit piston-clearance within 0.090..0.100 mm
#                                      ^^^^^^^^^^^^^^^ limit/outside
  change step fit-sump { fit sump onto blok tighten sump-bolt }
#                                      ^^^^ name/unknown
}
`,
  ],
  [
    'what a change brings about elsewhere stands at the change',
    `use "brindle-four.fettle"
spec own extends brindle-four {
  change part piston { dimension skirt 78.150..78.160 mm }
#             ^^^^^^ limit/outside
  drop step fit-cam-plate
#           ^^^^^^^^^^^^^ sequence/never-fitted
}
`,
  ],
  [
    'of two changes the one that is spoken of',
    `use "brindle-four.fettle"
spec own extends brindle-four {
  change part block { mass 50 kg }
  change engine { chamber 60.0 cc }
#        ^^^^^^ limit/outside
}
`,
  ],
  [
    'a change that can not be read spoils itself alone',
    `use "brindle-four.fettle"
spec own extends brindle-four {
  change part piston { dimension skirt 78.1 qx }
#                                           ^^ unit/unknown
  change fastener sump-bolt {
#                           ^ syntax/unclosed
    torque 900 N.m
  change part pistn { mass 3 g }
#             ^^^^^ name/unknown
}
`,
  ],
  [
    'an allow in a change covers what comes of it',
    `use "brindle-four.fettle"
spec own extends brindle-four {
  change part piston {
    dimension skirt 78.150..78.160 mm
    allow limit/outside because "Run in on the bench."
  }
}
`,
  ],
];

describe('marked', () => {
  test.each(MARKED)('%s', (_what, text) => {
    expect(disagreements(text, analyseText(text, files, 'own.fettle'))).toEqual([]);
  });
});

describe('a finding that comes of a change', () => {
  const text = `use "brindle-four.fettle"
spec own extends brindle-four {
  change part piston { dimension skirt 78.150..78.160 mm }
}
`;
  const found = analyseText(text, files, 'own.fettle').findings;

  test('names the base with its line, and points at it', () => {
    const [finding] = found;
    const line = lineIn(BASE, 'within 0.030..0.060 mm');
    expect(finding?.message).toContain(`It stands in brindle-four.fettle, line ${line}.`);
    const [there] = finding?.related ?? [];
    expect(there?.file).toBe('brindle-four.fettle');
    expect(lineAndColumn(BASE, there?.start ?? 0).line).toBe(line);
  });

  test('has no way out that would write in the base', () => {
    for (const [, marked] of MARKED)
      for (const finding of analyseText(marked, files, 'own.fettle').findings)
        for (const edit of finding.fixes.flatMap((fix) => fix.edits)) expect(edit.file).toBe('own.fettle');
  });

  test('stands at extends where no change is at hand', () => {
    // The base is clean in both of its variants, and says a torque for a bolt that a file beside it has.
    const spec = analyseText(
      'use "base.fettle"\nspec own extends base {\n  variants other\n}\n',
      {
        'base.fettle':
          'spec base {\n  variants one, two\n}\nwhen one, two {\n  part a {\n    dimension d 3 mm\n  }\n}\nlimit l = a.d within 2..4 mm\n',
      },
      'own.fettle',
    );
    expect(spec.findings.map(({ code, start, end }) => [code, start, end])).toEqual([['name/unknown', 35, 39]]);
  });
});

describe('what the base has too', () => {
  const faulty = BASE.replace('within 0.030..0.060 mm', 'within 0.090..0.100 mm').replace(
    'torque 9 N.m',
    'torque 900 N.m',
  );
  const base = { 'brindle-four.fettle': faulty };

  test('is not said again', () => {
    expect(
      analyseText(faulty)
        .findings.map((each) => each.code)
        .sort(),
    ).toEqual(['limit/outside', 'torque/over-proof']);
    const own = 'use "brindle-four.fettle"\nspec own extends brindle-four {\n  change part sump { mass 3 kg }\n}\n';
    expect(analyseText(own, base, 'own.fettle').findings).toEqual([]);
  });

  test('is gone where a change mends it, and said where a change makes it otherwise', () => {
    const own = `use "brindle-four.fettle"
spec own extends brindle-four {
  change fastener sump-bolt { torque 9 N.m }
  change part piston { dimension skirt 78.100..78.110 mm }
#             ^^^^^^ limit/outside
}
`;
    expect(disagreements(own, analyseText(own, base, 'own.fettle'))).toEqual([]);
  });

  test('is silent where the base allows it', () => {
    const allowed = faulty.replace('torque 900 N.m', 'torque 900 N.m\n  allow torque/over-proof because "A trial."');
    const own =
      'use "brindle-four.fettle"\nspec own extends brindle-four {\n  change fastener sump-bolt { class 9.8 }\n}\n';
    const codes = analyseText(own, { 'brindle-four.fettle': allowed }, 'own.fettle').findings.map((each) => each.code);
    expect(codes).not.toContain('torque/over-proof');
  });

  test('a chain says each thing once, in the file that brings it about', () => {
    const middle =
      'use "brindle-four.fettle"\nspec middle extends brindle-four {\n  change part piston { dimension skirt 78.150..78.160 mm }\n}\n';
    const top = 'use "middle.fettle"\nspec top extends middle {\n  change fastener sump-bolt { torque 900 N.m }\n}\n';
    const all = { ...files, 'middle.fettle': middle };
    expect(analyseText(middle, files, 'middle.fettle').findings.map((each) => each.code)).toEqual(['limit/outside']);
    expect(analyseText(top, all, 'top.fettle').findings.map((each) => each.code)).toEqual(['torque/over-proof']);
  });
});
