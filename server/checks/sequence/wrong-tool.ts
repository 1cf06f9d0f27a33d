// Something measured with a tool that reads another quantity: end play with a torque wrench, a gap with a thermometer. A heavy part that goes in
// or comes off with nothing that lifts it. Common practice, no source.
import { told } from '../../../grammar/told.ts';
import { toNumber } from '../../mechanics/exact.ts';
import { factorOf, kindOf, type UnitKind, unitOf } from '../../mechanics/units.ts';
import { measureOf, plainValues } from '../../model/measure.ts';
import type { Limit, Part, Step, View } from '../../model/view.ts';
import { stepsCalled } from '../../rehearsal/step-work.ts';
import type { Report, ThingCheck } from '../check.ts';
import { figure } from '../figures.ts';
import page from './wrong-tool.md';

/** What a tool reads, by words of its name; one that is in none may read anything. */
const READS: readonly (readonly [RegExp, readonly UnitKind[]])[] = [
  [/torque[ -]?(?:wrench|gauge|meter)/i, ['torque']],
  [/thermometer|pyrometer/i, ['temperature']],
  [/stop[ -]?watch/i, ['time']],
  [/(?:pressure|vacuum|boost) gauge|manometer/i, ['pressure']],
  [
    /(?:feeler|dial|bore|depth|height|stretch|telescop\w*|thickness) gauge|micrometer|callipers?|calipers?/i,
    ['length'],
  ],
  [/degree wheel|protractor|angle gauge/i, ['angle']],
  [/spring (?:tester|balance|scale)/i, ['force', 'spring-rate', 'length', 'torque']],
  [/\bscales?\b/i, ['mass', 'force', 'torque']],
];

/** What such a quantity is usually read with, the likeliest first. Common practice, no source. */
const USUAL: readonly (readonly [UnitKind, readonly string[]])[] = [
  ['length', ['dial gauge', 'micrometer']],
  ['torque', ['torque wrench']],
  ['mass', ['scale']],
  ['force', ['spring tester']],
  ['pressure', ['pressure gauge']],
  ['angle', ['degree wheel']],
  ['temperature', ['thermometer']],
  ['time', ['stop watch']],
];

/** Gaps that a blade goes into, and nothing else. */
const BY_BLADE: ReadonlySet<string> = new Set(['ring-gap', 'ring-side-clearance', 'side-clearance', 'valve-lash']);

/** The tools that read what a limit is of. */
export function toolsFor(limit: Limit): readonly string[] {
  if (limit.sort !== undefined && BY_BLADE.has(limit.sort)) return ['feeler gauge'];
  return USUAL.find(([kind]) => kind === kindOfLimit(limit))?.[1] ?? [];
}

const BLADE = /^feeler (?:gauges?|blades?)$/i;
const NO_GAP: ReadonlySet<string> = new Set(['oil-clearance', 'press-fit', 'pin-clearance', 'out-of-round', 'taper']);

/** Nothing that a blade could go into. */
const hasNoGap = ({ name, sort }: Limit): boolean =>
  NO_GAP.has(sort ?? '') || /stretch|elongation|diameter/i.test(name);

/** The kind of quantity that the bounds of a limit have. */
function kindOfLimit(limit: Limit): UnitKind | undefined {
  const [value] = plainValues(limit.within ?? limit.wearLimit);
  const edge = value?.kind === 'open' ? (value.value.kind === 'quantity' ? value.value : undefined) : value;
  const measure = edge === undefined ? undefined : measureOf(edge);
  return measure === undefined || measure.unit.length === 0 ? undefined : kindOf(measure.unit);
}

/** In kilograms: so much nobody sets into an engine by hand, and two hardly. Judgement; no source. */
const BY_HOIST = 60;
/** Words of a step that tell what lifts it, or how many do. */
const LIFTED = /hoist|crane|sling|lift|jack|gantry|tackle|winch|trolley|two (?:people|men|persons)|kran|flaschenzug/i;

/** What a part weighs, the least of it, in kilograms; undefined where it does not say. */
function massOf(part: Part): number | undefined {
  const statement = part.statements.find((each) => each.word === 'mass');
  const measure =
    statement?.kind === 'value' && statement.value.kind !== 'by-place' ? measureOf(statement.value) : undefined;
  return measure === undefined || kindOf(measure.unit) !== 'mass'
    ? undefined
    : toNumber(measure.interval.low) / toNumber(factorOf(unitOf('kg')));
}

/** Whether a step lifts a part, or one before it in its sequence does. */
function isLifted(step: Step, name: string, view: View): boolean {
  const own = stepsCalled(view, step.name).find((each) => each.step === step)?.sequence.steps ?? [step];
  return own
    .slice(0, own.indexOf(step) + 1)
    .some(({ statements }) =>
      statements.some(
        (each) =>
          each.kind === 'action' &&
          (each.word === 'lift' || each.word === 'support') &&
          each.targets.some(({ owner }) => owner.text === name),
      ),
    );
}

/** A heavy part that is fitted or taken off in a step that lifts nothing, and says nothing of what does. */
function sayUnlifted(step: Step, view: View, report: Report): void {
  for (const each of step.statements) {
    if (each.kind !== 'action' || (each.word !== 'fit' && each.word !== 'remove')) continue;
    for (const { owner } of each.targets) {
      const part = view.things.get(owner.text);
      const mass = part?.kind === 'part' ? massOf(part) : undefined;
      if (part?.kind !== 'part' || mass === undefined || mass < BY_HOIST) continue;
      if (isLifted(step, owner.text, view)) continue;
      const said = step.placed.section.text.slice(step.declaration.start, step.declaration.end);
      if (LIFTED.test(said)) return;
      report(
        step.placed,
        owner,
        told`${told.thing(part)} weighs ${figure(mass.toPrecision(2), 'kg')}, and the step tells of nothing that lifts it. Say lift ${told.thing(part)} with "hoist and sling", or what you use.`,
        { severity: 'information', missing: true },
      );
      return;
    }
  }
}

export const wrongTool: ThingCheck<'step'> = {
  code: 'sequence/wrong-tool',
  severity: 'warning',
  scope: 'thing',
  of: ['step'],
  page,
  run(thing, view, report) {
    sayUnlifted(thing, view, report);
    for (const each of thing.statements) {
      if (each.kind !== 'action' || each.word !== 'measure' || each.withText === undefined) continue;
      const tool = each.withText.value;
      const reads = READS.filter(([words]) => words.test(tool)).flatMap(([, kinds]) => kinds);
      if (reads.length === 0) continue;
      for (const { owner } of each.targets) {
        const limit = view.things.get(owner.text);
        const kind = limit?.kind === 'limit' && !limit.broken ? kindOfLimit(limit) : undefined;
        // What is read as a way may stand for a volume or an angle.
        const isBlade = BLADE.test(tool.trim());
        if (limit?.kind !== 'limit' || kind === undefined || (reads.includes(kind) && !(isBlade && hasNoGap(limit))))
          continue;
        if (reads.includes('length') && (kind === 'angle' || kind === 'volume' || kind === 'force')) continue;
        report(
          thing.placed,
          each.withText,
          told`${told.thing(limit)} is measured here with ${tool}, which reads something else. See which of the two is meant.`,
        );
        break;
      }
    }
  },
};
