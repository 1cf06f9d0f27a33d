// What a spec leaves unsaid, thing by thing, and what saying it would make checkable. On request only: none of it is wrong, and where it
// is not known or does not matter it may stay as it is. Nothing is told here that a finding tells.

import { leavesOf } from '../../grammar/terms.ts';
import { type Argument, type Rows, type Told, textOf, told } from '../../grammar/told.ts';
import type { Expression, Statement } from '../../grammar/tree.ts';
import { placesToMeasure } from '../model/action-places.ts';
import type { Analysis } from '../model/analysis.ts';
import type { BuiltView } from '../model/build-view.ts';
import { ENGINE_FIGURES } from '../model/engine-figures.ts';
import { engineFigure, neededFor } from '../model/engine-sums.ts';
import type { FilePlace } from '../model/finding.ts';
import { plainValues, takesIn } from '../model/measure.ts';
import { type Placed, placeOf } from '../model/placed.ts';
import type { Drive, Fastener, Limit, Part, Supply, View } from '../model/view.ts';

/** One thing that is left unsaid. */
export interface Unsaid {
  /** Whose: `engine`, `part crankshaft`. */
  readonly thing: string;
  /** What is not said, as the statement that would say it: `covers`, `thread, class`. */
  readonly unsaid: Argument;
  /** What Fettle could tell if it were. */
  readonly tells: Told;
  readonly place: FilePlace;
}

type Say = (unsaid: Argument, tells: Told) => void;

function hasWord(statements: readonly Statement[], ...words: readonly string[]): boolean {
  return statements.some((each) => words.includes(each.word));
}

/** What is asked of many things at once, gathered once. */
interface Known {
  readonly fitted: ReadonlySet<string>;
  readonly clamped: ReadonlySet<string>;
  readonly clampedTo: ReadonlySet<string>;
  /** `part.feature` of all sums, and `part` of what is measured at it. */
  readonly used: ReadonlySet<string>;
  readonly wheels: ReadonlySet<string>;
  readonly loops: ReadonlySet<string>;
}

function expressionsOf(limit: Limit): readonly (Expression | undefined)[] {
  const bounds = [...plainValues(limit.within), ...plainValues(limit.wearLimit)];
  return [limit.expression, ...bounds.map((value) => (value.kind === 'open' ? value.value : undefined))];
}

function knownOf(view: View): Known {
  const steps = view.sequences.flatMap((sequence) => sequence.steps);
  const fitted = steps.flatMap((step) =>
    step.statements.flatMap((each) =>
      each.kind === 'action' && each.word === 'fit' ? each.targets.map((target) => target.owner.text) : [],
    ),
  );
  const used = view.limits.flatMap((limit) => [
    ...expressionsOf(limit)
      .flatMap(leavesOf)
      .flatMap((leaf) =>
        leaf.kind === 'reference' ? [`${leaf.reference.owner.text}.${leaf.reference.feature?.text ?? ''}`] : [],
      ),
    ...[limit.each, limit.of].flatMap((each) =>
      each === undefined ? [] : [`${each.owner.text}.${each.feature?.text ?? ''}`],
    ),
  ]);
  return {
    fitted: new Set(fitted),
    clamped: new Set(view.fasteners.flatMap((each) => each.clamps.map((clamp) => clamp.part))),
    clampedTo: new Set(view.fasteners.flatMap((each) => each.to?.part ?? [])),
    used: new Set(used),
    wheels: new Set(
      view.drives.flatMap((drive) => [
        ...drive.wraps.flatMap((wrap) => wrap.wheels.map((wheel) => wheel.part)),
        ...drive.meshes.flatMap((mesh) => [mesh.first, mesh.second]),
      ]),
    ),
    loops: new Set(view.drives.flatMap((drive) => drive.wraps.map((wrap) => wrap.part))),
  };
}

/** What a part is, by the last word of its name: what seals by being crushed or pressed, what goes over others, what has a right way round. */
const SEALS = /^(gasket|gaskets|seal|seals|o-ring|packing)$/;
const LIDS = /^(cover|cap|caps|lid|sump|pan|housing|carrier|manifold|case|plate|head|heads|pulley|flywheel)$/;
const ONE_WAY = /^(piston|pistons|rod|rods|conrod|cap|caps|shell|shells|seal|seals|retainer)$/;
const WEARS =
  /^(crankshaft|camshaft|shaft|block|liner|liners|rod|rods|valve|valves|guide|guides|piston|pistons|gear|rocker|rockers)$/;

function lastWord(name: string): string {
  return /(o-ring|[^-_]+)$/.exec(name.toLowerCase())?.[0] ?? name;
}

function ofPart(part: Part, known: Known, say: Say): void {
  const { statements, name } = part;
  const isFitted = known.fitted.has(name);
  const word = lastWord(name);
  if (isFitted && LIDS.test(word) && part.covers.length === 0)
    say('covers', told`what can no longer be reached or seen once it is on`);
  if (
    isFitted &&
    LIDS.test(name) &&
    !known.clamped.has(name) &&
    !known.clampedTo.has(name) &&
    part.fixedTo === undefined
  )
    say(told`a fastener that clamps it`, told`that its bolts are tightened, and loosened before it comes off`);
  if (isFitted && SEALS.test(word) && !part.singleUse) say('single-use', told`that it is new whenever it goes back`);
  const wayRound = hasWord(statements, 'orient', 'mark');
  if (isFitted && part.matched && !wayRound) say(told`orient, or a mark`, told`which way round it goes`);
  else if (isFitted && ONE_WAY.test(word) && !wayRound) say('orient', told`that it goes in the right way round`);
  const loose = [...part.dimensions.values()].filter(({ name: dimension }) => !known.used.has(`${name}.${dimension}`));
  if (loose.length > 0)
    say(
      told`a limit with ${told.list(
        loose.map((each) => told.named(each.name)),
        ',',
        4,
      )}`,
      told`whether it fits what it goes with`,
    );
  const unworn = [...part.dimensions.values()].filter(({ wearLimit }) => wearLimit === undefined);
  if (WEARS.test(word) && unworn.length > 0 && unworn.length === part.dimensions.size)
    say('wear-limit', told`whether a used one may go back`);
  if (known.wheels.has(name)) {
    if (part.teeth === undefined) say('teeth', told`the ratio, and when the marks are back`);
    if (part.fixedTo === undefined && part.teeth !== undefined) say('fixed-to', told`which shaft turns with it`);
    if (part.marks.size === 0 && part.fixedTo !== undefined) say('mark', told`that the timing is proved by it`);
  }
  if (known.loops.has(name)) {
    if (part.links === undefined && part.teeth === undefined)
      say(told`links, or teeth`, told`whether it fits its wheels, and when marked links are back`);
    if (part.pitch === undefined) say('pitch', told`whether it is long enough for its wheels`);
  }
}

function ofFastener(fastener: Fastener, say: Say): void {
  const { statements } = fastener;
  if (fastener.like === undefined) {
    if (fastener.thread === undefined) say('thread', told`what the torque does to it`);
    if (fastener.strengthClass === undefined && !hasWord(statements, 'tensile') && fastener.joint !== 'plug')
      say('class', told`what share of its proof load it carries`);
  }
  if (
    fastener.fitted === undefined &&
    !hasWord(statements, 'friction', 'nut-factor') &&
    fastener.stages.some((stage) => stage.kind === 'torque')
  )
    say('fitted', told`the preload: dry or oiled makes half as much again`);
  if (fastener.joint === undefined) say('joint', told`whether the torque is enough for what it holds`);
  if (fastener.clamps.length === 0 && fastener.joint !== 'plug' && fastener.joint !== 'stud')
    say('clamps', told`that it is tightened when all is there, and loosened before that comes off`);
  if (fastener.joint === 'structural' && fastener.into === undefined)
    say('into', told`whether there is thread and preload enough`);
  if (fastener.count >= 6 && fastener.joint === 'structural' && !hasWord(statements, 'tightening-order'))
    say('tightening-order', told`that each has its turn`);
  if (hasWord(statements, 'stretch') && !(hasWord(statements, 'shank') && hasWord(statements, 'thread-length')))
    say('shank, thread-length', told`the preload from its stretch, and no band of it`);
}

function ofLimit(limit: Limit, view: View, say: Say): void {
  const leaves = leavesOf(limit.expression);
  const isOfEngine =
    leaves.length > 0 && leaves.every((leaf) => leaf.kind === 'reference' && leaf.reference.owner.text === 'engine');
  if (limit.sort === undefined && !isOfEngine) say('kind', told`whether it is far from what the trade holds usual`);
  if (limit.within === undefined && limit.wearLimit === undefined) say('within', told`whether it is right`);
  if (limit.measured && limit.of === undefined && limit.each === undefined)
    say(told`of, or each`, told`that it is measured while it can be reached`);
  const { within } = limit;
  if (within?.kind !== 'by-place') return;
  const open = placesToMeasure(limit, view).filter(
    (place) => !within.entries.some((entry) => entry.places.some((written) => takesIn(written, place))),
  );
  const places = open.map((place) => [place.name, place.number].filter((each) => each !== undefined).join(' '));
  if (places.length > 0) say(told`within, for ${places.slice(0, 6).join(', ')}`, told`whether it is right there`);
}

function ofDrive(drive: Drive, say: Say): void {
  if (drive.marksAgree === undefined)
    say('marks-agree', told`on which stroke the marks agree, and that the timing is set by it`);
  if (drive.ratios.length === 0) say('ratio', told`that the teeth give what the source says`);
  if (drive.wraps.length === 0) return;
  if (!hasWord(drive.statements, 'centre-distance'))
    say('centre-distance', told`whether the chain or belt fits, and where marked links must stand`);
  if (drive.tensioners.length === 0) say('tensioner', told`that what keeps it tight is held back, and let go`);
}

function ofSupply(supply: Supply, say: Say): void {
  const { statements, sort } = supply;
  if (sort === undefined) say('kind', told`that it goes where such a thing goes`);
  if ((sort === 'oil' || sort === 'coolant') && !hasWord(statements, 'amount'))
    say('amount', told`that as much goes in as must`);
  if (sort === 'sealant' && !hasWord(statements, 'close-within'))
    say('close-within', told`that the joint is closed in time`);
  if (sort === 'sealant' && !hasWord(statements, 'cure'))
    say('cure', told`that it has cured before it is filled or run`);
}

function ofEngine(view: View, say: Say): void {
  const { engine } = view;
  if (engine === undefined) return;
  const { statements, cylinders = 1 } = engine;
  if (engine.cycle === undefined) say('cycle', told`how far the camshaft turns, and when each cylinder fires`);
  if (engine.rotation === undefined)
    say('rotation', told`turning it the wrong way, and the thrust side of the pistons`);
  if (cylinders > 1 && !hasWord(statements, 'crankpin'))
    say('crankpin', told`where each piston stands, and whether the order fits the crank`);
  if (cylinders > 1 && !hasWord(statements, 'firing-order'))
    say('firing-order', told`whether it fits the crank, and on which stroke each cylinder is`);
  if (!engine.interference && view.valveTimings.length > 0)
    say(told`interference, if they do`, told`where valves would meet pistons`);
  for (const figure of ['compression-ratio', 'squish', 'piston-speed']) {
    if (engineFigure(figure, view) !== undefined || !Object.hasOwn(ENGINE_FIGURES, figure)) continue;
    const missing = neededFor(figure, view).filter((word) => !hasWord(statements, word));
    if (missing.length > 0) say(missing.join(', '), told.asIs(`engine.${figure}`));
  }
}

function ofSpec(placed: Placed, view: BuiltView, say: Say): void {
  const statements = placed.declaration.body?.statements ?? [];
  if (!hasWord(statements, 'revision')) say('revision', told`which state of it a record was worked to`);
  if (!hasWord(statements, 'source')) say('source', told`where each figure comes from`);
  if (view.engine === undefined && view.drives.length > 0)
    say(told`an engine`, told`strokes, firing order, where pistons stand`);
}

function unsaidIn(
  view: BuiltView,
  file: string,
): { readonly rows: readonly Unsaid[]; readonly things: ReadonlySet<string> } {
  const rows: Unsaid[] = [];
  const things = new Set<string>();
  const known = knownOf(view);
  const about = (thing: string, placed: Placed, broken: boolean, ask: (say: Say) => void): void => {
    if (placed.file !== file || broken) return;
    things.add(thing);
    const span = placed.declaration.name ?? placed.declaration.wordSpan;
    ask((unsaid, tells) => rows.push({ thing, unsaid, tells, place: placeOf(placed, span) }));
  };
  for (const spec of view.specs)
    about(`spec ${spec.declaration.name?.text ?? ''}`, spec, false, (say) => ofSpec(spec, view, say));
  if (view.engine !== undefined) about('engine', view.engine.placed, view.engine.broken, (say) => ofEngine(view, say));
  for (const each of view.parts)
    about(`part ${each.name}`, each.placed, each.broken, (say) => ofPart(each, known, say));
  for (const each of view.fasteners)
    about(`fastener ${each.name}`, each.placed, each.broken, (say) => ofFastener(each, say));
  for (const each of view.supplies)
    about(`supply ${each.name}`, each.placed, each.broken, (say) => ofSupply(each, say));
  for (const each of view.drives) about(`drive ${each.name}`, each.placed, each.broken, (say) => ofDrive(each, say));
  for (const each of view.limits)
    about(`limit ${each.name}`, each.placed, each.broken, (say) => ofLimit(each, view, say));
  return { rows, things };
}

const keyOf = ({ thing, unsaid }: Unsaid): string => `${thing}\n${textOf(unsaid)}`;

/** What a file leaves unsaid, in the order of its declarations; of a spec with variants what is unsaid in all that have the thing. */
export function unsaidOf({ file, views }: Analysis): readonly Unsaid[] {
  const all = views.map((view) => unsaidIn(view, file.file));
  const found = new Map<string, Unsaid>();
  for (const { rows } of all) for (const row of rows) found.set(keyOf(row), row);
  const kept = [...found].filter(([key, { thing }]) =>
    all.every(({ rows, things }) => !things.has(thing) || rows.some((row) => keyOf(row) === key)),
  );
  return kept.map(([, row]) => row).sort((one, other) => one.place.start - other.place.start);
}

/** The same in the words of a language. */
export interface SaidUnsaid {
  readonly thing: string;
  readonly unsaid: string;
  readonly tells: string;
}

export function inWords({ thing, unsaid, tells }: Unsaid, rows: Rows): SaidUnsaid {
  return { thing, unsaid: textOf(unsaid, rows), tells: tells.in(rows) };
}

/** As text: each thing with what it leaves unsaid under it. */
export function unsaidText(rows: readonly SaidUnsaid[]): Told {
  if (rows.length === 0) return told`${told`Nothing that Fettle could look at is left unsaid.`}\n`;
  const width = Math.min(36, Math.max(...rows.map(({ unsaid }) => unsaid.length)));
  return told.row(
    rows.flatMap(({ thing, unsaid, tells }, i) => [
      ...(rows[i - 1]?.thing === thing ? [] : [`${i === 0 ? '' : '\n'}${thing}\n`]),
      `  ${unsaid.padEnd(width)}  `,
      told`would tell: ${tells}`,
      '\n',
    ]),
  );
}
