// A part that is told the way round that none of its kind goes: a seal whose lip looks away from the oil, a piston ring with its top mark down,
// a jet that sprays into the sump, a mark called front that points to the rear. Common practice, no source.
import { type Told, told } from '../../../grammar/told.ts';
import type { OrientRule } from '../../../grammar/tree.ts';
import { isA, type TradeKind } from '../../model/trade-names.ts';
import type { Part, View } from '../../model/view.ts';
import { stepsFitting, stepsMating } from '../../rehearsal/foresight.ts';
import type { ThingCheck } from '../check.ts';
import { change } from '../support.ts';
import page from './wrong-way.md';

interface Row {
  readonly kind: TradeKind;
  /** The feature by its name. */
  readonly feature: RegExp;
  /** Where it never points. */
  readonly never: readonly string[];
  /** What it never points to, if it points to a part. */
  readonly neverTo?: readonly TradeKind[];
  readonly why: Told;
  /** Where the common way is not the only one: how it is said then. */
  readonly hint?: true;
  /** Where it holds for engines of one cycle. */
  readonly cycle?: 'four-stroke' | 'two-stroke';
}

const TO_HEAD = told`The close coils of a valve spring lie on the head.`;
const TO_OIL = told`The lip of a seal looks to the oil, which is inside.`;

const ROWS: readonly Row[] = [
  { kind: 'front-seal', feature: /^(?:lip|spring)s?$/, never: ['front'], why: TO_OIL },
  { kind: 'rear-seal', feature: /^(?:lip|spring)s?$/, never: ['rear'], why: TO_OIL },
  {
    kind: 'ring',
    feature: /^(?:top|mark|top-mark|stamp|dot|letter)s?$/,
    never: ['down'],
    why: told`The mark of a piston ring looks up, to the crown.`,
  },
  {
    kind: 'oil-jet',
    feature: /^(?:nozzle|jet|spray|hole)s?$/,
    never: ['down'],
    why: told`A jet sprays up, at the underside of the piston.`,
  },
  {
    kind: 'thrust',
    feature: /groove/,
    never: [],
    neverTo: ['block', 'case', 'cap'],
    why: told`The grooves of a thrust washer look at the cheek of the crankshaft, which rubs on them.`,
  },
  {
    kind: 'valve-spring',
    feature: /^close-(?:coil|wound|end)/,
    // Side valves have them up.
    never: [],
    neverTo: ['spring-retainer', 'rocker-cover', 'rocker', 'collet'],
    why: TO_HEAD,
  },
  {
    kind: 'shell',
    feature: /^(?:tang|nib|lug)s?$/,
    never: [],
    neverTo: ['crankshaft', 'camshaft', 'piston'],
    why: told`The tang of a shell lies in the notch of what the shell sits in, and never on the shaft, which turns.`,
  },
  {
    kind: 'cap',
    feature: /^(?:arrow|front-mark)s?$/,
    never: ['rear'],
    why: told`The arrow of a bearing cap points to the front in nearly every engine.`,
    hint: true,
  },
  {
    kind: 'piston',
    feature: /^arrows?$/,
    never: ['inlet', 'up', 'down'],
    why: told`The arrow of a two-stroke piston points to the exhaust in nearly every engine, so that the ring pegs stay clear of the ports.`,
    hint: true,
    cycle: 'two-stroke',
  },
  {
    kind: 'gasket',
    feature: /^(?:top|stamp|mark|letter|number)s?$/,
    never: ['down'],
    why: told`The stamp of a gasket looks up in nearly every engine, so that it can be read when it lies on its face.`,
    hint: true,
  },
];

/** Whether a seal sits at the flywheel, by its title or because the flywheel goes on over it in the same step. */
function isAtFlywheel(part: Part, view: View): boolean {
  if (/flywheel/i.test(part.title ?? '')) return true;
  return stepsFitting(view, part.name).some(({ step }) => {
    const fitted = step.statements.flatMap((each) => (each.kind === 'action' && each.word === 'fit' ? [each] : []));
    const at = fitted.findIndex(({ targets }) => targets.some(({ owner }) => owner.text === part.name));
    return fitted[at + 1]?.targets.some(({ owner }) => isA(owner.text, 'flywheel')) === true;
  });
}

/** Where the lip of a seal never looks, as its title or what goes on over it tells. */
function awayFromOil(part: Part, view: View): string | undefined {
  if (!isA(part, 'seal') || isA(part, 'stem-seal')) return undefined;
  const isTurned = view.engine?.front === 'flywheel-end';
  if (isA(part, 'crank-seal', 'rear-seal', 'front-seal') && isAtFlywheel(part, view))
    return isTurned ? 'front' : view.engine?.front === 'free-end' ? 'rear' : undefined;
  const title = part.title ?? '';
  const [isFront, isRear] = [/\bfront\b/i.test(title), /\brear\b/i.test(title)];
  return isTurned || isFront === isRear ? undefined : isFront ? 'front' : 'rear';
}

const LIP = /^(?:lip|spring)s?$/;
const CLOSE_COILS = /^close-(?:coil|wound|end)/;

/** Whether a spring stands on a head whose valves hang in it, of cylinders that stand up. */
function standsOnHead(part: Part, view: View): boolean {
  const layout = view.engine?.layout;
  if (!isA(part, 'valve-spring') || (layout !== 'inline' && layout !== 'vee')) return false;
  const mates = stepsMating(view, part.name);
  return mates.length > 0 && mates.every(({ mate }) => isA(mate, 'head'));
}

const OPPOSITE: ReadonlyMap<string, string> = new Map([
  ['front', 'rear'],
  ['rear', 'front'],
  ['up', 'down'],
  ['down', 'up'],
  ['left', 'right'],
  ['right', 'left'],
  ['inlet', 'exhaust'],
  ['exhaust', 'inlet'],
]);

/** Words in the name of a feature that say themselves where it points, and where it then can't. */
const AGAINST: ReadonlyMap<string, string> = new Map([
  ...OPPOSITE,
  ['top', 'down'],
  ['upper', 'down'],
  ['bottom', 'up'],
  ['lower', 'up'],
]);

/** Why a rule can't be meant; undefined for one that may be. */
function whyNot(
  part: Part,
  rule: OrientRule,
  view: View,
): { readonly why: Told; readonly hint?: true | undefined } | undefined {
  const feature = rule.feature.text.toLowerCase();
  const toward = rule.direction?.word;
  // Where the end with the flywheel is called the front, a seal that is called the rear one lies in front.
  const isTurned = view.engine?.front === 'flywheel-end';
  const row = ROWS.find(
    (each) =>
      isA(part, each.kind) &&
      !(each.why === TO_OIL && isTurned) &&
      // Where the end with the flywheel is called the front, an arrow to it may be told as either.
      !(each.hint && isTurned) &&
      (each.cycle === undefined || each.cycle === (view.engine?.cycle ?? 'four-stroke')) &&
      each.feature.test(feature) &&
      ((toward !== undefined && each.never.includes(toward)) ||
        (rule.target !== undefined && (each.neverTo ?? []).some((kind) => isA(rule.target?.owner.text ?? '', kind)))),
  );
  if (row !== undefined) return row;
  if (toward !== undefined && LIP.test(feature) && awayFromOil(part, view) === toward) return { why: TO_OIL };
  if (toward === 'up' && CLOSE_COILS.test(feature) && standsOnHead(part, view)) return { why: TO_HEAD };
  const first = /^(\w+)-(?:side|mark|stamp|arrow|face|dot|end|line)s?$/.exec(feature)?.[1];
  return first !== undefined && toward !== undefined && AGAINST.get(first) === toward
    ? { why: told`By its own name it points the other way.` }
    : undefined;
}

export const wrongWay: ThingCheck<'part'> = {
  code: 'orientation/wrong-way',
  severity: 'warning',
  scope: 'thing',
  of: ['part'],
  page,
  run(thing, view, report) {
    if (thing.broken) return;
    const rules = thing.statements.flatMap((each) => (each.kind === 'orient' ? each.rules : []));
    const isToldTwice = (rule: OrientRule): boolean =>
      rules.some((each) => each !== rule && each.feature.text === rule.feature.text && each.places.length === 0);
    for (const rule of rules) {
      // What is told two ways is said as that.
      if (isToldTwice(rule)) continue;
      const found = whyNot(thing, rule, view);
      const to = rule.direction ?? rule.target;
      if (found === undefined || to === undefined) continue;
      const opposite = rule.direction === undefined ? undefined : OPPOSITE.get(rule.direction.word);
      report(
        thing.placed,
        to,
        found.hint
          ? told`${told.named(rule.feature.text)} of ${told.thing(thing)} points another way here than is usual. ${found.why} See what the source says.`
          : told`${told.named(rule.feature.text)} of ${told.thing(thing)} points the wrong way here. ${found.why} See what the source says.`,
        {
          ...(opposite === undefined ? {} : { fixes: [change(thing.placed, to, opposite)] }),
          ...(found.hint ? { severity: 'information' as const } : {}),
        },
      );
    }
  },
};
