// The bench sheet: what a rebuilder needs is on it, and no text of a spec can be more than text.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { sheetPage } from '../../server/sheet/page.tsx';
import { STYLE } from '../../server/sheet/style.ts';
import { analyseText } from '../annotated.ts';

const root = join(import.meta.dirname, '../..');
const sample = (name: string): string => readFileSync(join(root, 'samples', name), 'utf8');
const COMMON = { 'common-fasteners.fettle': sample('common-fasteners.fettle') };

function pageOf(text: string, files: Readonly<Record<string, string>> = {}, job?: string): string {
  const analysis = analyseText(text, files);
  const [view] = analysis.views;
  if (view === undefined) throw new Error('no view');
  return sheetPage(view, { file: analysis.file.file, errors: 0, ...(job === undefined ? {} : { job }) });
}

/** The text of a page as it is read, tags taken out. */
function readable(page: string): string {
  return page
    .replace(/^.*<body>/s, '')
    .replace(/<\/(?:p|h\d|li|td|th|div|section|desc)>|(?=<(?:p|div|ul|svg)[ >])/g, '\n')
    .replace(/<[^>]*>/g, '')
    .replace(/&#39;|&#x27;/g, "'")
    .replace(/[ \t]+/g, ' ')
    .replace(/[ ]*\n[\s]*/g, '\n');
}

const tallboy = pageOf(sample('inline-four.fettle'), COMMON);
const text = readable(tallboy);

/** What stands in one step of a page, the first of that number. */
function stepText(number: string, page = tallboy): string {
  const steps = page.match(/<section class="step[^"]*">.*?<\/section>/gs) ?? [];
  const step = steps.find((each) => each.includes(`<span class="number">${number}</span>`));
  return step === undefined ? '' : readable(`<body>${step}`);
}

describe('what is on it', () => {
  test('the heading says which spec, revision and variant', () => {
    expect(text).toContain('Brindle Tallboy, 1.9 litre, full rebuild');
    expect(text).toContain('brindle-tallboy · revision 4 · variant tourer');
    expect(text).toContain('firing order 1-2-4-3; turns clockwise');
  });

  test('the phase beside the title of a sequence, where the title does not say it', () => {
    expect(text).toContain('3. Long block putting together');
    expect(text).toMatch(/^ ?5\. Into the vehicle$/m);
    expect(text).toMatch(/^ ?6\. First start and run-in$/m);
  });

  test('a step without a title is called by its name, dead centre in capitals', () => {
    expect(text).toContain('Find TDC');
  });

  test('the usual caution once', () => {
    expect(text.split("The maker's manual, local rules and licensed practice come first.")).toHaveLength(2);
    expect(text).toContain('is a check, not an instruction');
  });

  test('what to lay out: tools, supplies with amounts, what must be new', () => {
    const layOut = text.slice(text.indexOf('To lay out'), text.indexOf('1. Measure and inspect'));
    expect(layOut).toContain('dial gauge');
    expect(layOut).toContain('2.5 mm pin');
    expect(layOut).toMatch(/Coolant, half and half: 6\.8 L/);
    expect(layOut).toContain('10 × Main bearing shell');
    // Two for each of four rods.
    expect(layOut).toContain('8 × Connecting rod bolt');
    expect(layOut).not.toContain('Cylinder block');
  });

  test('each job has its sequences in the order of the job; one alone can be asked for', () => {
    expect(text.indexOf('Job: Bare block to first start')).toBeLessThan(text.indexOf('Job: Camshaft change in place'));
    expect(text.split('Strip to the camshaft')).toHaveLength(2);
    const camshaft = readable(pageOf(sample('inline-four.fettle'), COMMON, 'camshaft-change'));
    expect(camshaft).toContain('Job: Camshaft change in place\nBegins on a whole engine.');
    expect(camshaft).not.toContain('Lay the crankshaft');
    expect(camshaft.indexOf('Strip to the camshaft')).toBeLessThan(camshaft.indexOf('New camshaft in'));
  });

  test('actions in words of the trade, with which way round and what is new', () => {
    const step = stepText('3.2');
    expect(step).toContain('Fit the upper main bearing shells into the cylinder block');
    expect(step).toContain('tang toward the tang slot of the cylinder block; a new one');
    expect(step).toContain('arrow toward the front; back in its own place');
  });

  test('stages in both units, as fitted, with their source', () => {
    const step = stepText('3.2');
    expect(step).toMatch(/Tighten the 10 main cap bolts\nM12x1\.75, class 10\.9, fitted oiled \(manual 2-16\)/);
    expect(step).toMatch(/1\. 30 N\.m \(22 lbf\.ft\)\s+2\. 70 N\.m \(52 lbf\.ft\)\s+3\. 110 N\.m \(81 lbf\.ft\)/);
    // What a foot-pound wrench can't read is said in pound-inches; what the spec restates is said as it is.
    expect(stepText('3.3')).toContain('9 N.m (80 lbf.in)');
    expect(stepText('3.4')).toContain('22 N.m (16 lbf.ft)');
  });

  test('the tightening order is drawn as the bolts lie, and can be read aloud', () => {
    const drawing = /<svg(?:(?!<svg).)*?Tightening order: Main cap bolt.*?<\/svg>/s.exec(tallboy)?.[0] ?? '';
    expect(drawing).toMatch(/<desc>[^<]*1: row 1.*?2: row 2/);
    const circles = [...drawing.matchAll(/<circle cx="([\d.]+)" cy="([\d.]+)"/g)].map(([, x, y]) => [
      Number(x),
      Number(y),
    ]);
    expect(circles).toHaveLength(10);
    expect(new Set(circles.map(([, y]) => y)).size).toBe(2);
    expect(circles[0]?.[0]).toBe(circles[5]?.[0]);
  });

  test('blanks beside the limits, one for each place; an adjustment says what to come to', () => {
    const gaps = stepText('1.2');
    expect(gaps).toMatch(
      /Measure the top ring gap with feeler gauge\n1 2 3 4\n0\.33 to 0\.50 mm\nwear limit 0\.80 mm \(manual 2-20\)/,
    );
    const lash = stepText('4.5');
    expect(lash).toContain('Adjust the inlet lash by screw and locknut');
    expect(lash.match(/0\.25 to 0\.30 mm/g)).toHaveLength(2);
    // Written where it is measured, not where it is adjusted.
    expect(lash.match(/measured/g)).toHaveLength(2);
    expect(text).toMatch(/Limits that no step measures\n.*?If measured, deck clearance/s);
  });

  test('a step for each of several has a box for each', () => {
    const section = /<h4><span class="number">3\.7<\/span>.*?<\/section>/s.exec(tallboy)?.[0] ?? '';
    expect(section).toContain('for each connecting rod');
    expect(section).toMatch(
      /<span class="box">1<\/span><span class="box">2<\/span><span class="box">3<\/span><span class="box">4<\/span>/,
    );
    expect(readable(`<body>${section}`)).toMatch(
      /Tighten the 2 connecting rod bolts\nM8x1, class 12\.9, fitted oiled, 8 in all/,
    );
  });

  test('marked links are shown where the chain goes on, never where the timing is proved', () => {
    expect(stepText('3.9')).toContain(
      'link 1 at the dot of the crank sprocket; link 31 at the dot of the cam sprocket',
    );
    const proof = stepText('3.11');
    expect(proof).toContain("dot of the crank sprocket at 7 o'clock; dot of the cam sprocket at 1 o'clock");
    // The picture shows where the links have got to; the words lead nobody to them.
    const words = proof.split('Timing face:')[0] ?? '';
    expect(words).not.toContain('link 1');
    // 60 links over 21 teeth: lcm(60, 21) / 21 = 20 turns, which is whole cycles.
    expect(proof).toContain('back only after 20 turns');
  });

  test('cautions stand before the actions, the part’s own and the usual ones too; hold points stop the work', () => {
    const timing = stepText('3.9');
    expect(timing.indexOf('The plunger is under spring load')).toBeLessThan(timing.indexOf('Fit the chain tensioner'));
    // One of a kind is enough: the usual one is for where the spec has none.
    expect(timing).not.toContain('Usual caution. A spring under load');
    expect(stepText('3.3')).toContain('Usual caution. What is pressed can shatter');
    expect(stepText('3.11')).toContain('Stop here until someone has looked. A second pair of eyes on both dots.');
  });

  test('a draft and its contradictions are said', () => {
    const analysis = analyseText('spec a "A" {\n  draft\n}\n');
    const [view] = analysis.views;
    const page = view === undefined ? '' : sheetPage(view, { file: analysis.file.file, errors: 2 });
    expect(page).toContain('DRAFT');
    expect(page).toContain('This spec has 2 contradictions.');
  });

  test('every sample makes a sheet with each of its steps', () => {
    for (const name of ['flat-twin.fettle', 'vee-six.fettle', 'vee-six-belt.fettle']) {
      const analysis = analyseText(sample(name), { ...COMMON, 'vee-six.fettle': sample('vee-six.fettle') }, name);
      for (const view of analysis.views) {
        const page = sheetPage(view, { file: analysis.file.file, errors: 0 });
        const own = view.sequences.filter((sequence) => sequence.placed.file === analysis.file.file);
        const steps = own.reduce((sum, sequence) => sum + sequence.steps.length, 0);
        expect(page.match(/<section class="step[ "]/g)?.length ?? 0).toBeGreaterThanOrEqual(steps);
        expect(page).not.toContain('undefined');
        expect(page).not.toContain('[object');
      }
    }
  });
});

describe('anyone can read it', () => {
  test('language, headings in order, table heads', () => {
    expect(tallboy).toContain('<html lang="en">');
    const levels = [...tallboy.matchAll(/<h(\d)/g)].map((found) => Number(found[1]));
    expect(levels[0]).toBe(1);
    for (const [i, level] of levels.entries()) expect(level - (levels[i - 1] ?? 0)).toBeLessThanOrEqual(1);
    expect(tallboy).not.toMatch(/<th(?![^>]*scope=)[ >]/);
  });

  test('every grey on its ground has a contrast of 7 or more, light and dark', () => {
    const luminance = (hex: string): number => {
      const full = hex.length === 4 ? hex.replace(/[0-9a-f]/gi, '$&$&') : hex;
      const [r = 0, g = 0, b = 0] = [1, 3, 5].map((at) => {
        const share = Number.parseInt(full.slice(at, at + 2), 16) / 255;
        return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
      });
      return 0.2126 * r + 0.7152 * g + 0.0722 * b;
    };
    const palettes = [...STYLE.matchAll(/--paper: (#\w+); --ink: (#\w+); --soft: (#\w+); [^}]*?--wash: (#\w+)/g)];
    // Light, on a screen that is dark, and both where an editor says which.
    expect(palettes).toHaveLength(4);
    const contrast = (one: string, other: string): number => {
      const [low = 0, high = 0] = [luminance(one), luminance(other)].sort((a, b) => a - b);
      return (high + 0.05) / (low + 0.05);
    };
    const low = palettes
      .flatMap(([, paper = '', ink = '', soft = '', wash = '']) =>
        [paper, wash].flatMap((ground) => [ink, soft].map((each) => [each, ground])),
      )
      .filter(([each = '', ground = '']) => contrast(each, ground) < 7);
    // No other grey stands beside them.
    expect(STYLE.replace(/--\w+: #\w+/g, '')).not.toMatch(/color: #(?!000)|background: #/);
    expect(low).toEqual([]);
  });

  test('a step is not torn by the end of a page', () => {
    expect(STYLE).toMatch(/\.step \{[^}]*break-inside: avoid/);
  });
});

const NASTY = [
  '<script>alert(1)</script>',
  '<img src=x onerror=alert(1)>',
  "'-alert(1)-'",
  '</style><script>alert(1)</script>',
  '</title><svg onload=alert(1)>',
  '&lt;b&gt;',
  'javascript:alert(1)',
  '{{constructor}}',
];

test.each(NASTY)('text can do nothing: %s', (nasty) => {
  const quoted = nasty.replace(/\\/g, '\\\\').replace(/"/g, '\\"');
  const written = `spec a "${quoted}" {
  revision 1
  source manual "${quoted}"
}

part block "${quoted}" {
  orient arrow toward front
  held-back "${quoted}"
  on-order "${quoted}"
  caution "${quoted}"
  single-use
}

fastener bolt "${quoted}" x2 {
  thread M8
  clamps block
  torque 20 N.m
    per manual "${quoted}"
  retorque 20 N.m after "${quoted}"
}

supply oil "${quoted}"

grades g "${quoted}" by play {
  one 1..2 mm
}

limit play "${quoted}"
  measured
  within 1..2 mm
  per manual "${quoted}"

sequence s "${quoted}" {
  phase assemble
  step t "${quoted}" {
    tool "${quoted}"
    caution "${quoted}"
    note "${quoted}"
    hold-point "${quoted}"
    inspect block for "${quoted}"
    fit block
    hold-back block
    lubricate block with oil
    plug block with "${quoted}"
    adjust play by "${quoted}"
    tighten bolt
    measure play with "${quoted}"
  }
}

job j "${quoted}" {
  sequences s
}
`;
  const page = pageOf(written);
  const plain = pageOf(written.replaceAll(quoted, 'plain'));
  expect(plain.match(/plain/g)?.length).toBeGreaterThan(20);
  const tags = (html: string): readonly string[] => html.match(/<\/?[a-z][^>]*>/gi) ?? [];
  const withoutText = (tag: string): string => tag.replace(/aria-label="[^"]*"/, '');
  expect(tags(page).map(withoutText)).toEqual(tags(plain).map(withoutText));
  expect(page).not.toMatch(/<script|<img|<a |<iframe|<link|<form/i);
  expect(page).not.toMatch(/ (?:on\w+|src|href)=["']/i);
  expect(page).toContain("default-src 'none'");
});
