// What must hold on the sheet of every job of every sample, in each of its variants, and on the sheets of the records: a line here for each thing
// that a sheet was once seen to get wrong.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import type { Analysis } from '../../server/model/analysis.ts';
import type { BuiltView } from '../../server/model/build-view.ts';
import { plansOf } from '../../server/rehearsal/plan.ts';
import { sheetOf } from '../../server/workspace/sheet-of.ts';
import { analyseText } from '../annotated.ts';

const folder = join(import.meta.dirname, '../../samples');
const names = readdirSync(folder).filter((name) => name.endsWith('.fettle'));
const all = Object.fromEntries(names.map((name) => [name, readFileSync(join(folder, name), 'utf8')]));

interface Sheet {
  readonly called: string;
  readonly name: string;
  readonly analysis: Analysis;
  readonly view: BuiltView;
  readonly job: string | undefined;
  readonly html: string;
  /** As it is read, pictures left out. */
  readonly text: string;
  readonly steps: readonly string[];
}

function readable(html: string): string {
  return html
    .replace(/^.*<body>/s, '')
    .replace(/<svg.*?<\/svg>/gs, ' ')
    .replace(/<[^>]*>/g, ' ')
    .replace(/&#39;|&#x27;/g, "'")
    .replace(/&quot;/g, '"')
    .replace(/&lt;/g, '<')
    .replace(/&amp;/g, '&')
    .replace(/\s+/g, ' ');
}

function sheetsOf(name: string): readonly Sheet[] {
  const analysis = analyseText(all[name] ?? '', all, name);
  return analysis.views.flatMap((view) => {
    const jobs = plansOf(view, analysis.file.file).map((plan) => plan.job?.name);
    return jobs.map((job) => {
      const { html } = sheetOf(analysis, view, { job });
      const steps = (html.match(/<section class="step[^"]*">.*?<\/section>/gs) ?? []).map(readable);
      const called = [name, view.variant, job].filter((each) => each !== undefined).join(' ');
      return { called, name, analysis, view, job, html, text: readable(html), steps };
    });
  });
}

const sheets = names.flatMap(sheetsOf);

test('there are as many as the samples have jobs', () => {
  expect(sheets.length).toBeGreaterThan(20);
});

describe.each(sheets)('$called', ({ analysis, view, job, html, text, steps }) => {
  const [plan] = plansOf(view, analysis.file.file).filter((each) => job === undefined || each.job?.name === job);
  const done = (plan?.sequences ?? []).flatMap((sequence) => sequence.steps);
  const actions = done.flatMap((step) => step.statements.flatMap((each) => (each.kind === 'action' ? [each] : [])));

  test('each of its steps stands on it once, and no other', () => {
    expect(steps).toHaveLength(done.length);
  });

  test('nothing is left of what could not be said', () => {
    expect(text).not.toMatch(/undefined|NaN|\[object|the value worked out|Infinity/);
    // A mark without a position, a place without a name, a list without its last.
    expect(text).not.toMatch(/\b(?:at|of|to|by|with|and|for) [.;)]/);
    expect(text).not.toMatch(/,\s*[.;)]/);
  });

  test('what is done is called by its title, not by its name', () => {
    // Of what has a title, a name with a hyphen in it is a word of the spec and not of the trade, unless the spec's own texts use it.
    const texts = [analysis.file, ...analysis.used].map((file) => file.text).join('\n');
    const spoken = [...texts.matchAll(/"(?:[^"\\]|\\.)*"|#.*/g)].join(' ').toLowerCase();
    const wrong = [...view.things.values()]
      .filter((thing) => 'title' in thing && thing.title !== undefined && thing.name.includes('-'))
      .map((thing) => thing.name)
      .filter((name) => !spoken.includes(name) && new RegExp(`(?<![\\w-])${name}(?![\\w-])`).test(text));
    expect(wrong).toEqual([]);
  });

  test('the caution of each part and each fastener that is worked on stands above its step', () => {
    for (const action of actions.filter((each) =>
      ['fit', 'remove', 'tighten', 'loosen', 'release'].includes(each.word),
    ))
      for (const { owner } of action.targets) {
        const thing = view.things.get(owner.text);
        const cautions = (thing?.statements ?? []).flatMap((each) =>
          each.kind === 'text' && each.word === 'caution' ? [each.text.value.replace(/\s+/g, ' ')] : [],
        );
        for (const caution of cautions) expect(text).toContain(caution);
      }
  });

  test('no caution stands twice in a step', () => {
    for (const step of html.match(/<section class="step[^"]*">.*?<\/section>/gs) ?? []) {
      const cautions = [...step.matchAll(/<p class="caution[^"]*">.*?<\/p>/gs)].map(([each]) => readable(each));
      expect(new Set(cautions).size).toBe(cautions.length);
    }
  });

  test('a bolt tightened again has neither all its stages nor a new bolt', () => {
    for (const [at, step] of done.entries()) {
      const tightened = step.statements.filter((each) => each.kind === 'action' && each.word === 'tighten');
      if (tightened.length === 0 || !tightened.every((each) => each.kind === 'action' && each.again === true)) continue;
      expect(steps[at]).not.toMatch(/use new ones|Stage 1/i);
    }
  });

  test('each torque has its other unit', () => {
    for (const [, torque, after] of text.matchAll(/(\d(?:[\d.]|\sto\s)*) N\.m(.{0,12})/g))
      if (/^\d/.test(torque ?? '')) expect(after).toMatch(/^ ?(?:\(|lbf|,|;| and| or| each| at|\)|\.)/);
  });

  test('what is measured has a box for each of its places, beside its bounds', () => {
    for (const action of actions.filter((each) => each.word === 'measure'))
      for (const { owner } of action.targets) {
        const limit = view.things.get(owner.text);
        if (limit?.kind !== 'limit') continue;
        if (limit.within !== undefined) expect(html).toContain('<p class="figure">');
        expect((html.match(/class="field"/g) ?? []).length).toBeGreaterThan(0);
      }
  });

  test('a wait and a run have a line for the time', () => {
    for (const [at, step] of done.entries())
      if (step.statements.some((each) => each.kind === 'wait' || each.kind === 'run'))
        expect(steps[at]).toMatch(/from|begun|start|until|at /i);
  });

  test('each printed page says which engine, revision, variant and job, and its number', () => {
    const head = /@top-left \{ content: "([^;]*)";/.exec(html)?.[1] ?? '';
    const title = (written: string): string =>
      written.replace(/\\([0-9a-f]+) /g, (_all, code) => String.fromCodePoint(parseInt(code, 16)));
    const said = title(head);
    const spec = view.specs[0]?.declaration;
    expect(said).toContain(spec?.title?.value ?? '');
    if (view.variant !== undefined) expect(said).toContain(view.variant);
    if (plan?.job !== undefined) expect(said).toContain(plan.job.title ?? '');
    expect(html).toContain('counter(page) " of " counter(pages)');
  });

  test('each source that is cited is in its list', () => {
    const listed = new Set([...html.matchAll(/<dt>([^<]*)<\/dt>/g)].map(([, name]) => name));
    const cited = [...html.matchAll(/<span class="label">\(([\w-]+)(?: [^)]*)?\)/g)].map(([, name]) => name ?? '');
    const sources = new Set([...sourcesOf(analysis)]);
    for (const name of cited) if (sources.has(name)) expect(listed).toContain(name);
  });

  test('the tools have a torque wrench where a torque is pulled', () => {
    const isPulled = actions.some(
      (each) =>
        each.word === 'tighten' &&
        each.targets.some((target) =>
          view.things.get(target.owner.text)?.statements?.some((own) => own.kind === 'torque'),
        ),
    );
    if (isPulled) expect(text).toMatch(/torque wrench/i);
  });
});

function sourcesOf(analysis: Analysis): readonly string[] {
  return [analysis.file, ...analysis.used].flatMap((file) =>
    [...file.text.matchAll(/^\s*source ([\w-]+) /gm)].map(([, name]) => name ?? ''),
  );
}

test('boxes are 12 mm, and what is read from a distance is larger than all else but the title', () => {
  const html = sheets[0]?.html ?? '';
  expect(html).toMatch(/\.box \{[^}]*min-width: 12mm; height: 12mm/);
  expect(html).toMatch(/\.field \{[^}]*height: 12mm/);
  const size = (selector: string): number =>
    Number(new RegExp(`\\n${selector} \\{[^}]*font-size: ([\\d.]+)pt`).exec(html)?.[1] ?? 0);
  expect(size('\\.figure')).toBeGreaterThan(size('h4'));
  expect(size('h4')).toBeGreaterThanOrEqual(size('h2'));
  expect(size('\\.figure')).toBeGreaterThanOrEqual(size('h1'));
});
