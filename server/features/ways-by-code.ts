// Ways out that a single kind of finding has: the order that the crank allows, the turn that brings the marks back, the work that is
// written further down, the part taken out of a list. Each is tried before it is offered, like those of possible-ways.ts.
import { nearest } from '../../grammar/nearest.ts';
import { textOf as inWords, told } from '../../grammar/told.ts';
import { hasWords, putBehind, textsIn } from '../../grammar/told-arguments.ts';
import { toolsFor } from '../checks/sequence/wrong-tool.ts';
import type { Analysis } from '../model/analysis.ts';
import type { Finding, FixEdit } from '../model/finding.ts';
import { type Placed, placeOf } from '../model/placed.ts';
import { textOf } from '../model/text-of.ts';
import { pathBetween } from './moved-files.ts';
import { asOneLine, endOf, type PossibleWay, type StatementAt, wholeLines } from './way-pieces.ts';

/** What a finding stands at. */
export interface At {
  readonly analysis: Analysis;
  readonly finding: Finding;
  readonly at?: StatementAt;
  /** The files of the folder. */
  readonly files?: () => readonly string[];
}

const here = (finding: Finding, text: string): FixEdit => ({
  file: finding.file,
  start: finding.start,
  end: finding.end,
  text,
});

function changed(finding: Finding, text: string): PossibleWay {
  return { told: told`Change it to ${text}`, edits: [here(finding, text)] };
}

/** The orders that the message names. */
function ordersNamed({ analysis, finding }: At): readonly PossibleWay[] {
  const written = textOf(analysis.file, finding.start, finding.end);
  const named = textsIn(finding.told).filter((each) => /^\d+(?:-\d+){2,}$/.test(each));
  return [...new Set(named)].filter((order) => order !== written).map((order) => changed(finding, order));
}

/** One cylinder that is there twice becomes the one that is missing. */
function orderFilled({ analysis, finding }: At): readonly PossibleWay[] {
  const written = textOf(analysis.file, finding.start, finding.end);
  const numbers = written.split('-').map(Number);
  const missing = numbers.map((_, i) => i + 1).filter((each) => !numbers.includes(each));
  return numbers.flatMap((number, i) =>
    numbers.indexOf(number) === numbers.lastIndexOf(number)
      ? []
      : missing.map((each) => changed(finding, numbers.map((old, j) => (j === i ? each : old)).join('-'))),
  );
}

/** A ratio that the message gives as what the teeth make. */
function ratioNamed({ finding }: At): readonly PossibleWay[] {
  const [named] = putBehind(finding.told, 'The teeth give ');
  return named === undefined ? [] : [changed(finding, named)];
}

/** Ring gaps a third of a turn on, to either side. */
function gapsSpread({ analysis, finding }: At): readonly PossibleWay[] {
  const degrees = /^(\d+(?:\.\d+)?) deg$/.exec(textOf(analysis.file, finding.start, finding.end))?.[1];
  if (degrees === undefined) return [];
  return [120, 240, 180, 90, 270].map((more) => changed(finding, `${(Number(degrees) + more) % 360} deg`));
}

/** The statements of steps that stand before the finding, the last first. */
function before({ analysis, finding }: At): readonly StatementAt[] {
  return inSteps(analysis)
    .filter(({ placed, statement }) => placeOf(placed, statement).start < finding.start)
    .reverse();
}

function inSteps(analysis: Analysis): readonly StatementAt[] {
  return analysis.file.declarations
    .flatMap((each) => each.steps)
    .flatMap((placed) =>
      placed === undefined
        ? []
        : (placed.declaration.body?.statements ?? []).map((statement) => ({ placed, statement })),
    );
}

/** The last turn before it made a whole cycle, or one written. */
function wholeCycle(given: At): readonly PossibleWay[] {
  const turned = before(given).find(({ statement }) => statement.kind === 'rotate');
  const turns = given.analysis.views[0]?.engine?.cycle === 'two-stroke' ? '1 turn' : '2 turns';
  const ways: PossibleWay[] = [];
  if (turned?.statement.kind === 'rotate') {
    const { amount } = turned.statement;
    ways.push({
      told: told`Turn the crankshaft ${turns} instead`,
      edits: [{ ...placeOf(turned.placed, amount), text: turns }],
    });
  }
  return [...ways, ...writtenBefore(given, `rotate crankshaft ${turns}`)];
}

function writtenBefore({ finding, at }: At, line: string): readonly PossibleWay[] {
  if (at === undefined) return [];
  const { start } = placeOf(at.placed, at.statement);
  return [
    {
      told: told`Write ${line} before it`,
      edits: [{ file: finding.file, start, end: start, text: `${line}\n    ` }],
    },
  ];
}

/** The shaft put where the marks agree: the last `set` made to say so, or one written before it. */
function shaftSet(given: At): readonly PossibleWay[] {
  const [cylinder] = putBehind(given.finding.told, 'top dead centre of cylinder ');
  if (cylinder === undefined) return [];
  const place = `tdc ${cylinder}`;
  const set = before(given).find(({ statement }) => statement.kind === 'set');
  const ways: PossibleWay[] = [];
  if (set !== undefined) {
    const whole = placeOf(set.placed, set.statement);
    const text = textOf(given.analysis.file, whole.start, whole.end);
    const meant = text.replace(/\btdc \d+/, place);
    if (meant !== text) ways.push({ told: told`Write ${meant} there`, edits: [{ ...whole, text: meant }] });
  }
  return [
    ...ways,
    ...writtenBefore(given, `set crankshaft at ${place} on compression`),
    ...writtenBefore(given, `set crankshaft at ${place}`),
  ];
}

/** Work that stands further down and is wanted before, with the words that name it. */
const WANTED_BEFORE: ReadonlyMap<string, readonly string[]> = new Map([
  ['sequence/rotated-while-held-back', ['release', 'unpin']],
  ['sequence/rotated-while-pinned', ['unpin', 'release']],
  ['sequence/still-masked', ['unmask']],
  ['sequence/left-open', ['unplug', 'connect']],
  ['sequence/ran-dry', ['fill', 'prime']],
  ['sequence/primed-early', ['fill']],
  ['sequence/run-unready', ['fill', 'prime', 'bleed', 'tighten', 'connect', 'unplug']],
  ['sequence/not-bled', ['bleed']],
  ['sequence/not-renewed', ['renew']],
  ['sequence/still-fastened', ['loosen']],
  ['sequence/covered', ['remove']],
  ['sequence/measured-early', ['tighten', 'fit']],
  ['sequence/not-fitted-yet', ['fit']],
  ['sequence/tightened-early', ['fit']],
  ['sequence/runs-out', ['tighten', 'fit']],
  ['sequence/not-held-back', ['hold-back']],
  ['sequence/not-drained', ['drain']],
]);

/** Further work that is brought forward at most. */
const MOST_BROUGHT = 6;

function broughtForward({ analysis, finding, at }: At): readonly PossibleWay[] {
  const words = WANTED_BEFORE.get(finding.code);
  if (words === undefined || at === undefined) return [];
  const { file } = analysis.file;
  const { start } = placeOf(at.placed, at.statement);
  const found = inSteps(analysis)
    .filter(({ placed, statement }) => words.includes(statement.word) && placeOf(placed, statement).start > finding.end)
    .slice(0, MOST_BROUGHT)
    .map(({ placed, statement }) => {
      const whole = placeOf(placed, statement);
      return {
        text: textOf(analysis.file, whole.start, whole.end),
        taken: { file, ...wholeLines(analysis, whole.start, whole.end), text: '' },
      };
    });
  const way = (some: typeof found): PossibleWay => ({
    told: told`Do it first: ${some.map(({ text }) => asOneLine(text)).join(', ')}`,
    edits: [
      { file, start, end: start, text: some.map(({ text }) => `${text}\n    `).join('') },
      ...some.map(({ taken }) => taken),
    ],
  });
  return [...found.map((each) => way([each])), ...(found.length > 1 ? [way(found)] : [])];
}

/** A part taken out of the list of an action. */
function leftOut({ analysis, finding, at }: At): readonly PossibleWay[] {
  const { statement, placed } = at ?? {};
  if (statement?.kind !== 'action' || placed === undefined || statement.targets.length < 2) return [];
  return statement.targets.flatMap((target, i) => {
    const own = placeOf(placed, target);
    if (finding.start < own.start || finding.start >= own.end) return [];
    const next = statement.targets[i + 1];
    const last = statement.targets[i - 1];
    const stretch =
      next === undefined
        ? { start: last === undefined ? own.start : placeOf(placed, last).end, end: own.end }
        : { start: own.start, end: placeOf(placed, next).start };
    return [
      {
        told: told`Take ${textOf(analysis.file, own.start, own.end)} out of this line`,
        edits: [{ file: finding.file, ...stretch, text: '' }],
      },
    ];
  });
}

/** Parts that go on as one, fitted in one action; those that were fitted alone in the step are taken out there. */
function fittedTogether({ analysis, finding, at }: At): readonly PossibleWay[] {
  const [list] = finding.told.args;
  if (typeof list !== 'object' || !('items' in list) || at === undefined) return [];
  const named = list.items.map((each) => inWords(each));
  const { file } = analysis.file;
  const fits = (at.placed.declaration.body?.statements ?? []).filter(
    (each) =>
      each.kind === 'action' && each.word === 'fit' && each.targets.every((one) => named.includes(one.owner.text)),
  );
  if (fits.length === 0) return [];
  return [
    {
      told: told`Fit them together: ${named.join(', ')}`,
      edits: fits.map((each, i) => {
        const whole = placeOf(at.placed, each);
        return i < fits.length - 1
          ? { file, ...wholeLines(analysis, whole.start, whole.end), text: '' }
          : { ...whole, text: `fit ${named.join(', ')} together` };
      }),
    },
  ];
}

const OPPOSITE: ReadonlyMap<string, string> = new Map([
  ['front', 'rear'],
  ['rear', 'front'],
  ['left', 'right'],
  ['right', 'left'],
]);

/** One of two rods on a pin turned round. */
function rodTurned({ analysis, finding, at }: At): readonly PossibleWay[] {
  const pair = finding.told.args.slice(0, 2).map((each) => inWords(each));
  if (at === undefined) return [];
  const whole = placeOf(at.placed, at.statement);
  const said = /^orient ([\w-]+) toward (\w+)(?: for ([\d, ]+))?$/.exec(
    textOf(analysis.file, whole.start, whole.end).trim(),
  );
  const [feature, direction] = [said?.[1] ?? '', said?.[2] ?? ''];
  const opposite = OPPOSITE.get(direction);
  if (opposite === undefined) return [];
  const count = at.placed.declaration.count?.value ?? 0;
  const all =
    said?.[3]?.split(',').map((each) => each.trim()) ?? Array.from({ length: count }, (_, i) => String(i + 1));
  return pair.map((number) => ({
    told: told`Turn the rod of cylinder ${number} round: toward ${opposite}`,
    edits: [
      {
        ...whole,
        text: `orient ${feature} toward ${direction} for ${all.filter((each) => each !== number).join(', ')}\n  orient ${feature} toward ${opposite} for ${number}`,
      },
    ],
  }));
}

/** A path that is nearly one that is there. */
function pathMeant({ analysis, finding, files }: At): readonly PossibleWay[] {
  const written = textOf(analysis.file, finding.start, finding.end).replace(/^"|"$/g, '');
  const paths = (files?.() ?? []).flatMap((each) =>
    each === analysis.file.file ? [] : (pathBetween(analysis.file.file, each) ?? []),
  );
  const name = (path: string): string => path.split('/').at(-1) ?? path;
  const near = nearest(written, paths) ?? paths.find((path) => name(path) === name(written));
  return near === undefined ? [] : [{ told: told`Change it to ${`"${near}"`}`, edits: [here(finding, `"${near}"`)] }];
}

/** What is drained goes in again at the end of a step, with a supply that the spec has. */
function filledAgain({ analysis, finding }: At): readonly PossibleWay[] {
  const name = textOf(analysis.file, finding.start, finding.end);
  const supplies = [...(analysis.views[0]?.things.values() ?? [])].filter((each) => each.kind === 'supply');
  const lines = hasWords(finding.told, 'is drained here')
    ? [...supplies.map((each) => `fill ${name} with ${each.name}`), `fill ${name}`]
    : [hasWords(finding.told, 'is disconnected here') ? `connect ${name}` : `unplug ${name}`];
  return lines.flatMap((line) => atEnds(analysis, line));
}

/** A line at the end of each step, those of the last sequence first. */
function atEnds(analysis: Analysis, line: string): readonly PossibleWay[] {
  const { file } = analysis.file;
  const steps: Placed[] = analysis.file.declarations.flatMap((each) => each.steps).filter((each) => each !== undefined);
  return steps.reverse().flatMap((step) => {
    const at = endOf(step);
    return at === undefined
      ? []
      : [
          {
            told: told`Write ${asOneLine(line)} in step ${step.declaration.name?.text ?? ''}`,
            edits: [{ file, start: at, end: at, text: `\n    ${line}` }],
          },
        ];
  });
}

/** A bolt that wants another turn after the run: when the engine is cold, where the spec says so. */
function tightenedAgain({ analysis, finding }: At): readonly PossibleWay[] {
  const [name] = putBehind(finding.told, 'say tighten ');
  if (name === undefined) return [];
  const line = `tighten ${name}`;
  const cold = putBehind(finding.told, 'tightened again after ').some((each) => /\bcold\b/.test(each));
  return atEnds(analysis, cold ? `wait 4 h\n    ${line} again` : `${line} again`);
}

function waited(given: At): readonly PossibleWay[] {
  const [time] = putBehind(given.finding.told, ' has not cured: ');
  return time === undefined ? [] : writtenBefore(given, `wait ${time}`);
}

function goneByMarks({ analysis, finding }: At): readonly PossibleWay[] {
  return textOf(analysis.file, finding.start, finding.end) === 'links' ? [changed(finding, 'marks')] : [];
}

/** What steps fit the thing onto that is named twice: one of the two is it. */
function whatItGoesOnto({ analysis, finding }: At): readonly PossibleWay[] {
  const name = textOf(analysis.file, finding.start, finding.end);
  const mates = inSteps(analysis).flatMap(({ statement }) =>
    statement.kind === 'action' && statement.targets.some((each) => each.owner.text === name)
      ? (statement.mate?.reference.owner.text ?? [])
      : [],
  );
  return [...new Set(mates)].filter((each) => each !== name).map((each) => changed(finding, each));
}

/** A figure with the minus that slipped in front of it taken away. */
function withoutMinus({ analysis, finding }: At): readonly PossibleWay[] {
  const written = textOf(analysis.file, finding.start, finding.end);
  const isOne = /^-\s*\d/.test(written) && !written.includes('..');
  return isOne ? [changed(finding, written.replace(/^-\s*/, ''))] : [];
}

const DAY = /^\d{4}-\d{2}-\d{2}$/;

/** The day that a line of a record goes by, where the message names it. */
function dayNamed({ analysis, finding }: At): readonly PossibleWay[] {
  const written = textOf(analysis.file, finding.start, finding.end);
  if (!DAY.test(written)) return [];
  const named = textsIn(finding.told).filter((each) => DAY.test(each) && each !== written);
  // A year or a month slipped: the rest of the day as it is written.
  const slipped = named.flatMap((day) => [day.slice(0, 4) + written.slice(4), day.slice(0, 7) + written.slice(7), day]);
  return [...new Set(slipped)].filter((day) => day !== written).map((day) => changed(finding, day));
}

/** What is said in braces of some variants said for all. */
function saidForAll({ analysis, finding, at }: At): readonly PossibleWay[] {
  const { statement, placed } = at ?? {};
  if (statement === undefined || placed === undefined) return [];
  const when = (placed.declaration.body?.statements ?? []).find(
    (each) => each.kind === 'when' && each.start <= statement.start && statement.end <= each.end,
  );
  if (when?.kind !== 'when') return [];
  const { file } = analysis.file;
  const text = textOf(analysis.file, finding.start, finding.end);
  const whole = placeOf(placed, when);
  const alone = when.body.statements.length === 1;
  return [
    {
      told: told`Say it for all variants: ${asOneLine(text)}`,
      edits: alone
        ? [{ ...whole, text }]
        : [
            { file, start: whole.start, end: whole.start, text: `${text}\n  ` },
            { file, ...wholeLines(analysis, finding.start, finding.end), text: '' },
          ],
    },
  ];
}

/** Quotes with nothing in them taken out, alone or with what they stand in. */
function emptyOut({ analysis, finding, at }: At): readonly PossibleWay[] {
  const { file } = analysis.file;
  const before = /\s*$/.exec(textOf(analysis.file, Math.max(0, finding.start - 80), finding.start))?.[0].length ?? 0;
  const alone: PossibleWay = {
    told: told`Take the empty quotes out`,
    edits: [{ file, start: finding.start - before, end: finding.end, text: '' }],
  };
  if (at === undefined) return [alone];
  const whole = placeOf(at.placed, at.statement);
  const text = textOf(analysis.file, whole.start, whole.end);
  return [
    {
      told: told`Take out ${asOneLine(text)}`,
      edits: [{ file, ...wholeLines(analysis, whole.start, whole.end), text: '' }],
    },
    alone,
  ];
}

/** A tool that reads what the limit is of. */
function toolMeant({ analysis, finding, at }: At): readonly PossibleWay[] {
  if (at?.statement.kind !== 'action') return [];
  const tools = at.statement.targets.flatMap(({ owner }) => {
    const limit = analysis.views[0]?.things.get(owner.text);
    return limit?.kind === 'limit' ? toolsFor(limit) : [];
  });
  return [...new Set(tools)].map((tool) => changed(finding, `"${tool}"`));
}

const BY_CODE: ReadonlyMap<string, (at: At) => readonly PossibleWay[]> = new Map([
  ['engine/firing-order-crank', ordersNamed],
  ['engine/firing-order-incomplete', orderFilled],
  ['timing/ratio', ratioNamed],
  ['orientation/gaps-in-line', gapsSpread],
  ['orientation/rod-pair', rodTurned],
  ['sequence/not-a-cycle', wholeCycle],
  ['sequence/not-in-time', shaftSet],
  ['sequence/links-moved', goneByMarks],
  ['sequence/fitted-twice', leftOut],
  ['sequence/together', fittedTogether],
  ['sequence/left-open', filledAgain],
  ['sequence/not-retorqued', tightenedAgain],
  ['sequence/too-early', waited],
  ['name/import-not-found', pathMeant],
  ['name/itself', whatItGoesOnto],
  ['unit/impossible', withoutMinus],
  ['record/days', dayNamed],
  ['name/some-variants', saidForAll],
  ['name/empty', emptyOut],
  ['sequence/wrong-tool', toolMeant],
]);

/** The ways of a finding's own kind. */
export function waysByCode(at: At): readonly PossibleWay[] {
  return [...(BY_CODE.get(at.finding.code)?.(at) ?? []), ...broughtForward(at)];
}
