// Ways out that may be right for a finding: the work moved, an action written before it, the line taken out, the figure that the message
// names put in. Whether one is right is tried before it is offered (see tried-actions.ts of the protocol).
import { type Told, told } from '../../grammar/told.ts';
import { namesPutIn, putBehind } from '../../grammar/told-arguments.ts';
import type { Statement } from '../../grammar/tree.ts';
import { UNDONE_BY } from '../../grammar/vocabulary.ts';
import type { Analysis } from '../model/analysis.ts';
import type { Finding } from '../model/finding.ts';
import { type Placed, placeOf } from '../model/placed.ts';
import { blockOf } from '../model/statements.ts';
import { textOf } from '../model/text-of.ts';
import { placedAt, statementBefore, toOwn } from './place-in-tree.ts';
import { asOneLine, endOf, type PossibleWay, type StatementAt, wholeLines } from './way-pieces.ts';
import { waysByCode } from './ways-by-code.ts';

/** Steps that work is moved to at most, nearest first. */
const MOST_MOVES = 10;

/** The actions that a finding asks for, written before its own. */
const ASKED: ReadonlyMap<string, readonly string[]> = new Map([
  ['sequence/not-renewed', ['renew']],
  ['sequence/not-held-back', ['hold-back']],
  ['sequence/still-fastened', ['loosen']],
  ['sequence/covered', ['remove']],
  ['sequence/nothing-to-undo', [...UNDONE_BY.keys()]],
  ['sequence/rotated-while-held-back', ['release']],
  ['sequence/rotated-while-pinned', ['unpin']],
  ['sequence/still-masked', ['unmask']],
  ['sequence/left-open', ['unplug']],
  ['sequence/tightened-early', ['fit']],
  ['sequence/not-fitted-yet', ['fit']],
  ['sequence/measured-early', ['tighten']],
]);

const TAKEN_OUT: ReadonlySet<string> = new Set([
  'sequence/fitted-twice',
  'sequence/filled-twice',
  'sequence/nothing-to-undo',
  'sequence/circle',
  'orientation/conflict',
]);
const MOVED: ReadonlySet<string> = new Set([
  'sequence/covered',
  'sequence/measured-early',
  'sequence/measured-late',
  'sequence/mark-hidden',
  'sequence/not-fitted-yet',
  'sequence/tightened-early',
  'sequence/still-fastened',
  'sequence/ran-dry',
  'sequence/rotated-while-held-back',
  'sequence/rotated-while-pinned',
]);

function moves(analysis: Analysis, placed: Placed, statement: Statement): readonly PossibleWay[] {
  const file = analysis.file.file;
  const sequence = analysis.file.declarations.find((each) => each.steps.includes(placed));
  const steps = (sequence?.steps ?? []).filter((each) => each !== undefined);
  const here = steps.indexOf(placed);
  const place = placeOf(placed, statement);
  const text = textOf(analysis.file, place.start, place.end);
  const others = steps
    .map((step, i) => ({ step, away: Math.abs(i - here) }))
    .filter(({ away }) => away > 0)
    .sort((a, b) => a.away - b.away)
    .slice(0, MOST_MOVES);
  const within = placed.declaration.body?.statements.filter((each) => each !== statement) ?? [];
  const targets = [
    ...within.map((each) => ({
      at: placeOf(placed, each).end,
      told: told`Move ${asOneLine(text)} behind ${asOneLine(placed.section.text.slice(each.start, each.end))}`,
    })),
    ...others.flatMap(({ step }) => {
      const at = endOf(step);
      const name = step.declaration.name?.text ?? '';
      return at === undefined ? [] : [{ at, told: told`Move ${asOneLine(text)} into step ${name}` }];
    }),
  ];
  return targets.map(({ at, told: said }) => ({
    told: said,
    edits: [
      { file, ...wholeLines(analysis, place.start, place.end), text: '' },
      { file, start: at, end: at, text: `\n    ${text}` },
    ],
  }));
}

/** A step behind each of the others of its sequence. */
function stepMoves(analysis: Analysis, placed: Placed): readonly PossibleWay[] {
  const file = analysis.file.file;
  const sequence = analysis.file.declarations.find((each) => each.steps.includes(placed));
  const whole = placeOf(placed, placed.declaration);
  const text = textOf(analysis.file, whole.start, whole.end);
  return (sequence?.steps ?? []).flatMap((step) => {
    if (step === undefined || step === placed) return [];
    const at = placeOf(step, step.declaration).end;
    return [
      {
        told: told`Move step ${placed.declaration.name?.text ?? ''} behind ${step.declaration.name?.text ?? ''}`,
        edits: [
          { file, ...wholeLines(analysis, whole.start, whole.end), text: '' },
          { file, start: at, end: at, text: `\n\n  ${text}` },
        ],
      },
    ];
  });
}

/** Where a figure stands in two units that differ, the one that is told of made what the other says: the second is no less likely right. */
function asRestated(analysis: Analysis, { file, start, end }: Finding): readonly PossibleWay[] {
  const differs = analysis.findings.filter(
    (each) => each.code === 'unit/restated-differs' && each.file === file && each.start >= start && each.end <= end,
  );
  return differs.flatMap((each) => each.fixes.filter((fix) => fix.edits.every((edit) => edit.start < each.start)));
}

function figureNamed(analysis: Analysis, finding: Finding): readonly PossibleWay[] {
  const { file, start, end } = finding;
  const restated = asRestated(analysis, finding);
  const [about] = restated.length > 0 ? [] : putBehind(finding.told, 'About ');
  const meant = lineMeant(finding);
  return [
    ...restated,
    ...(about === undefined ? [] : [{ told: told`Change it to ${about}`, edits: [{ file, start, end, text: about }] }]),
    ...(meant === undefined ? [] : lineInstead(analysis, finding, meant)),
  ];
}

/** The line that the message asks for instead. */
function lineMeant({ told: said }: Finding): string | undefined {
  for (const line of ['tighten', 'variant']) {
    const [name] = putBehind(said, `Write ${line} `);
    if (name !== undefined) return `${line} ${name}`;
  }
  return undefined;
}

function lineInstead(analysis: Analysis, finding: Finding, text: string): readonly PossibleWay[] {
  const at = statementAt(analysis, finding);
  if (at === undefined) return [];
  const place = placeOf(at.placed, at.statement);
  return [{ told: told`Write ${text}`, edits: [{ ...place, text }] }];
}

function statementAt(analysis: Analysis, finding: Finding): StatementAt | undefined {
  const placed = placedAt(analysis, finding.start);
  if (placed === undefined) return undefined;
  const statement = statementBefore(placed.declaration.body?.statements ?? [], toOwn(placed.section, finding.start));
  return statement === undefined || statement.kind === 'hole' ? undefined : { placed, statement };
}

/** Lines put behind the last statement of each step, for work that no step does. */
function atTheEndOfSteps(analysis: Analysis, line: string): readonly PossibleWay[] {
  const { file } = analysis.file;
  return analysis.file.declarations
    .flatMap((sequence) => sequence.steps)
    .flatMap((step) => {
      const at = step === undefined ? undefined : endOf(step);
      return at === undefined
        ? []
        : [
            {
              told: told`Write ${line} in step ${step?.declaration.name?.text ?? ''}`,
              edits: [{ file, start: at, end: at, text: `\n    ${line}` }],
            },
          ];
    });
}

/** `unmask block.deck` for the `mask block.deck` that is never undone. */
function undoing(analysis: Analysis, finding: Finding): string | undefined {
  const at = statementAt(analysis, finding);
  const word = at?.statement.kind === 'action' ? UNDONE_BY.get(at.statement.word) : undefined;
  if (at?.statement.kind !== 'action' || word === undefined) return undefined;
  const targets = at.statement.targets.map((target) => {
    const place = placeOf(at.placed, target);
    return textOf(analysis.file, place.start, place.end);
  });
  return `${word} ${targets.join(', ')}`;
}

/** A stage and the one before it, each in the other's place. */
function stagesSwapped(analysis: Analysis, { file, start, end, related }: Finding): readonly PossibleWay[] {
  const one = related.find((each) => each.file === file && each.end <= start);
  if (one === undefined) return [];
  const [before, stage] = [textOf(analysis.file, one.start, one.end), textOf(analysis.file, start, end)];
  return [
    {
      told: told`Put ${asOneLine(stage)} before ${asOneLine(before)}`,
      edits: [
        { file, start: one.start, end: one.end, text: stage },
        { file, start, end, text: before },
      ],
    },
  ];
}

/** The line that a message asks for, where it says itself what to write. */
function asAsked(analysis: Analysis, finding: Finding): readonly PossibleWay[] {
  const { code, told: said, file, start } = finding;
  const before = (text: string, said: Told): PossibleWay => ({
    told: said,
    edits: [{ file, start, end: start, text }],
  });
  switch (code) {
    case 'torque/angle-first':
      return [before('hand-tight, ', told`Write ${'hand-tight'} before it`)];
    case 'torque/stages-not-rising':
      return [...stagesSwapped(analysis, finding), before('slacken, ', told`Write ${'slacken'} before it`)];
    case 'sequence/not-measured': {
      const [limit] = putBehind(said, 'Say measure ');
      return limit === undefined ? [] : atTheEndOfSteps(analysis, `measure ${limit}`);
    }
    case 'sequence/still-masked':
    case 'sequence/left-open': {
      const line = undoing(analysis, finding);
      return line === undefined ? [] : atTheEndOfSteps(analysis, line);
    }
    default:
      return [];
  }
}

/** What may mend a finding, the likeliest first. */
export function possibleWays(
  analysis: Analysis,
  finding: Finding,
  files?: () => readonly string[],
): readonly PossibleWay[] {
  const { code, file } = finding;
  const placed = placedAt(analysis, finding.start);
  if (placed === undefined || file !== analysis.file.file) return [];
  const stands = statementAt(analysis, finding);
  const figures = [
    ...figureNamed(analysis, finding),
    ...asAsked(analysis, finding),
    ...waysByCode({
      analysis,
      finding,
      ...(stands === undefined ? {} : { at: stands }),
      ...(files === undefined ? {} : { files }),
    }),
  ];
  if (code === 'name/unused' || code === 'name/duplicate') {
    const whole = placeOf(placed, placed.declaration);
    const name = placed.declaration.name?.text ?? '';
    return [
      { told: told`Take ${name} out`, edits: [{ file, ...wholeLines(analysis, whole.start, whole.end), text: '' }] },
    ];
  }
  if (code === 'sequence/order' && blockOf(placed.declaration) === 'step')
    return [...figures, ...stepMoves(analysis, placed)];
  const at = stands;
  if (at === undefined) return figures;
  const place = placeOf(at.placed, at.statement);
  const text = textOf(analysis.file, place.start, place.end);
  const named = new Set(namesPutIn(finding.told).map((each) => each.text));
  const things = [...(analysis.views[0]?.things.keys() ?? [])].filter((name) => named.has(name));
  const asked = (ASKED.get(code) ?? []).flatMap((word) =>
    things.slice(0, 4).map((name) => ({
      told: told`Write ${`${word} ${name}`} before it`,
      edits: [{ file, start: place.start, end: place.start, text: `${word} ${name}\n    ` }],
    })),
  );
  const taken = TAKEN_OUT.has(code)
    ? [
        {
          told: told`Take out ${asOneLine(text)}`,
          edits: [{ file, ...wholeLines(analysis, place.start, place.end), text: '' }],
        },
      ]
    : [];
  const moved = MOVED.has(code) && blockOf(placed.declaration) === 'step' ? moves(analysis, placed, at.statement) : [];
  return [...figures, ...asked, ...moved, ...taken];
}
