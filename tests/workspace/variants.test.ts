// What is found for each variant of a spec, edit upon edit, where the variants share what does not differ, is what is found for it in a view of
// its own that shares nothing: whatever is said for some variants only, for one otherwise than for another, or for all again.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { atOnce } from '../../grammar/give-way.ts';
import { IN_ENGLISH } from '../../grammar/told.ts';
import { buildView } from '../../server/model/build-view.ts';
import { allIn } from '../../server/model/changed-declarations.ts';
import { newIndex } from '../../server/model/declaration-index.ts';
import { isSeen, type Placed, placeOf, type ReadFile } from '../../server/model/placed.ts';
import { once } from '../../server/model/questions.ts';
import { readFile } from '../../server/model/read-file.ts';
import { LIST_OF, type Thing } from '../../server/model/view.ts';
import { cacheAnswers } from '../../server/model/view-questions.ts';
import { newChecking } from '../../server/workspace/checking.ts';
import { checkDeclaration, checkSpec, type Raw, SPEC_CHECKS } from '../../server/workspace/run-checks.ts';
import { dice, type Roll } from '../dice.ts';

const folder = join(import.meta.dirname, '../../samples');
const read = (name: string): string => readFileSync(join(folder, name), 'utf8');

const linesOf = (text: string, such: RegExp): readonly number[] =>
  text.split('\n').flatMap((line, at) => (such.test(line) ? [at] : []));

/** The text with one of the lines of a sort replaced. */
function withLine(text: string, such: RegExp, roll: Roll, change: (line: string) => string): string {
  const lines = text.split('\n');
  const all = linesOf(text, such);
  const at = all[roll(all.length)];
  if (at === undefined) return text;
  lines[at] = change(lines[at] ?? '');
  return lines.join('\n');
}

const STATEMENT = /^ +(?!step |when |\}|revision|variants|source|sequences)[a-z-]+ [^{}\n]*$/;
const IN_WHEN = /^ *when [a-z]+ \{ .* \}$/;

/** What a builder does to a spec of which something holds for some variants only. */
const EDITS: readonly ((text: string, variants: readonly string[], roll: Roll) => string)[] = [
  // A statement holds for one variant.
  (text, variants, roll) =>
    withLine(text, STATEMENT, roll, (line) =>
      line.replace(/^( *)(.*)$/, `$1when ${variants[roll(variants.length)]} { $2 }`),
    ),
  // One that does so holds for all again.
  (text, _variants, roll) => withLine(text, IN_WHEN, roll, (line) => line.replace(/when [a-z]+ \{ (.*) \}$/, '$1')),
  // It is said for the others, too, and says something else.
  (text, variants, roll) =>
    withLine(text, IN_WHEN, roll, (line) => {
      const of = / when ([a-z]+) /.exec(` ${line.trimStart()}`)?.[1] ?? '';
      const other = variants.find((each) => each !== of) ?? of;
      return `${line}\n${line.replace(`when ${of}`, `when ${other}`).replace(/\d(?=[^\d]*\}$)/, (digit) => String((Number(digit) + 1) % 10))}`;
    }),
  // A figure is another, in what holds for one variant or for all.
  (text, _variants, roll) =>
    withLine(text, roll(2) === 0 ? IN_WHEN : /\d/, roll, (line) =>
      line.replace(/\d(?=[^\d]*$)/, (digit) => String((Number(digit) + 1 + roll(8)) % 10)),
    ),
  // A declaration stands in a when as a whole, or no longer.
  (text, variants, roll) => {
    const all = [
      ...text.matchAll(/^(?:part|fastener|drive|limit|supply|sequence) [^{\n]*(?:\{$[\s\S]*?^\}$|$(?:\n +.*$)*)/gm),
    ];
    const one = all[roll(all.length)];
    if (one === undefined) return text;
    const [own] = one;
    const variant = variants[roll(variants.length)];
    const put =
      roll(3) === 0
        ? `when ${variant} {\n${own}\n}\n\nwhen ${variants.find((each) => each !== variant)} {\n${own.replace(/\d(?=\D)/, '7')}\n}`
        : `when ${variant} {\n${own}\n}`;
    return text.slice(0, one.index) + put + text.slice(one.index + own.length);
  },
  (text) => text.replace(/^when [a-z]+ \{\n((?:part|fastener|drive|limit|supply|sequence) [\s\S]*?^\}?)\n\}$/m, '$1'),
  // A name is misspelt, or right again.
  (text, _variants, roll) =>
    text.includes('-wrong')
      ? text.replaceAll('-wrong', '')
      : withLine(text, /^ {4}[a-z]+ [a-z]+-[a-z]+/, roll, (line) =>
          line.replace(/^( +[a-z]+ [a-z]+-[a-z]+)/, '$1-wrong'),
        ),
];

interface Told {
  readonly code: string;
  readonly at: unknown;
  readonly message: string;
  readonly related: unknown;
  readonly fixes: unknown;
}

const toldOf = (raws: readonly Raw[]): readonly Told[] =>
  raws.map(({ code, placed, span, told, extra }) => ({
    code,
    at: placeOf(placed, span),
    message: told.in(IN_ENGLISH),
    related: extra.related?.map((each) => [placeOf(each.placed, each.span), each.message.in(IN_ENGLISH)]),
    fixes: extra.fixes?.map((fix) => [
      fix.title.in(IN_ENGLISH),
      fix.edits.map((edit) => [placeOf(edit.placed, edit.span), edit.text]),
    ]),
  }));

/** What is found for one variant in a view of its own. */
function foundAlone(files: readonly ReadFile[], variant: string): readonly Told[] {
  const [own] = files;
  if (own === undefined) return [];
  return once(() => {
    const view = buildView(files, variant, false);
    cacheAnswers(view);
    const things = new Map<Placed, Thing>();
    for (const list of Object.values(LIST_OF)) for (const thing of view[list]) things.set(thing.placed, thing);
    const index = newIndex();
    index.update(own);
    const raws = own.sections
      .flatMap(allIn)
      .flatMap((placed) => (isSeen(placed, variant) ? checkDeclaration(view, placed, things.get(placed)) : []));
    const ofSpec = SPEC_CHECKS.flatMap((check) => checkSpec(check, { view, file: own, index: index.index }).raws);
    return toldOf([...raws, ...ofSpec]);
  });
}

const inSomeOrder = (all: readonly Told[]): readonly string[] => all.map((each) => JSON.stringify(each)).sort();

test.each([
  ['review/brindle-pony-2.fettle', ['road', 'marine'], 220],
  ['inline-four.fettle', ['tourer', 'delivery'], 70],
  ['launch-eight.fettle', undefined, 40],
  ['vee-six.fettle', undefined, 40],
] as const)(
  '%s',
  (name, known, count) => {
    const first = read(name);
    const variants: readonly string[] = known ?? /^ {2}variants (.*)$/m.exec(first)?.[1]?.split(', ') ?? [];
    expect(variants.length).toBeGreaterThan(1);
    const used = [...first.matchAll(/^use "([a-z-]+\.fettle)"/gm)].map(([, path]) =>
      readFile(`file:///made/${path}`, read(path ?? ''), true),
    );
    const roll = dice(name.length * 101);
    const checking = newChecking();
    let text = first;
    let differed = 0;
    for (let i = 0; i < count; i += 1) {
      const change = EDITS[roll(EDITS.length)];
      // From time to time all is as it was, at one stroke.
      text = i % 23 === 22 ? first : (change?.(text, variants, roll) ?? text);
      const files = [readFile(`file:///made/${name}`, text, true), ...used];
      const found = atOnce(checking.check(files, variants, false));
      const own = found.map(({ raws }) => inSomeOrder(toldOf(raws)));
      if (JSON.stringify(own[0]) !== JSON.stringify(own[1])) differed += 1;
      for (const [at, variant] of variants.entries())
        expect(own[at], `${variant} after edit ${i}`).toEqual(inSomeOrder(foundAlone(files, variant)));
    }
    expect(differed).toBeGreaterThan(count / 4);
  },
  240_000,
);
