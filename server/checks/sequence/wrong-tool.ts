// Something measured with a tool that reads another quantity: end play with a torque wrench, a gap with a thermometer. Common practice, no source.
import { told } from '../../../grammar/told.ts';
import { kindOf, type UnitKind } from '../../mechanics/units.ts';
import { measureOf, plainValues } from '../../model/measure.ts';
import type { Limit } from '../../model/view.ts';
import type { ThingCheck } from '../check.ts';
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

export const wrongTool: ThingCheck<'step'> = {
  code: 'sequence/wrong-tool',
  severity: 'warning',
  scope: 'thing',
  of: ['step'],
  page,
  run(thing, view, report) {
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
