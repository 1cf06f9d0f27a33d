// A supply that is for something else than what an action does with it: sealant where something is lubricated, oil where it is sealed.
import { type Told, told } from '../../../grammar/told.ts';
import type { Action } from '../../../grammar/tree.ts';
import type { ActionWord } from '../../../grammar/vocabulary.ts';
import { type Entry, keyed } from '../../model/keyed.ts';
import { isA, type TradeKind } from '../../model/trade-names.ts';
import type { Sequence, Step, Supply, View } from '../../model/view.ts';
import { stepsFilling } from '../../rehearsal/foresight.ts';
import { workOf } from '../../rehearsal/step-work.ts';
import type { Report, ThingCheck } from '../check.ts';
import page from './wrong-supply.md';

/** For each action with a supply: the kinds that are surely not for it, and what would be. Common practice, no source. */
const NOT_FOR = new Map<ActionWord, readonly [kinds: readonly string[], right: Told]>([
  [
    'lubricate',
    [['coolant', 'fuel', 'sealant', 'threadlocker', 'cleaner', 'abrasive'], told`oil, assembly lubricant or grease`],
  ],
  ['seal', [['oil', 'lubricant', 'coolant', 'fuel', 'cleaner', 'abrasive'], told`sealant or threadlocker`]],
  ['clean', [['oil', 'lubricant', 'grease', 'coolant', 'sealant', 'threadlocker', 'abrasive'], told`a cleaner`]],
  ['fill', [['sealant', 'threadlocker', 'cleaner', 'abrasive'], told`oil, coolant, fuel or grease`]],
  ['prime', [['coolant', 'sealant', 'threadlocker', 'cleaner', 'abrasive'], told`oil, grease or fuel`]],
]);

const A_KIND = new Map([
  ['oil', told`oil`],
  ['lubricant', told`an assembly lubricant`],
  ['grease', told`grease`],
  ['coolant', told`coolant`],
  ['fuel', told`fuel`],
  ['sealant', told`sealant`],
  ['threadlocker', told`threadlocker`],
  ['cleaner', told`a cleaner`],
  ['abrasive', told`a lapping or honing compound`],
]);

/** What is said of one thing that is done with it, and of several. */
const DONE = new Map<ActionWord, { readonly one: Told; readonly several: Told }>([
  ['lubricate', { one: told`is lubricated`, several: told`are lubricated` }],
  ['seal', { one: told`is sealed`, several: told`are sealed` }],
  ['clean', { one: told`is cleaned`, several: told`are cleaned` }],
  ['fill', { one: told`is filled`, several: told`are filled` }],
  ['prime', { one: told`is primed`, several: told`are primed` }],
]);

const FLUIDS = ['oil', 'coolant', 'fuel'];

/** The kind of fluid that a supply is; undefined for any other. */
function fluidOf(view: View, used: Action['with']): string | undefined {
  const supply = used === undefined ? undefined : view.things.get(used.owner.text);
  return supply?.kind === 'supply' && FLUIDS.includes(supply.sort ?? '') ? supply.sort : undefined;
}

/** By place: the kinds of fluid that the spec fills in there. */
const fluidsIn = (view: View, place: string): readonly string[] =>
  stepsFilling(view, place).flatMap(({ action }) => fluidOf(view, action.with) ?? []);

/** The places that the spec fills, each as often as it is filled. */
const placesFilled = keyed(
  (view) => view.sequences,
  (view, { steps }: Sequence) =>
    steps.flatMap((step) =>
      workOf(view, step).filled.flatMap(({ targets }) => targets.map(({ owner }): Entry<string> => ['', owner.text])),
    ),
);

/** A place that is filled with another fluid everywhere else, and this fluid goes elsewhere: water into the sump, oil into the radiator. */
function sayIfOtherFluid(
  step: Step,
  targets: Action['targets'],
  used: NonNullable<Action['with']>,
  supply: Supply,
  view: View,
  report: Report,
): void {
  const { sort } = supply;
  if (sort === undefined || !FLUIDS.includes(sort)) return;
  for (const { owner } of targets) {
    const here = fluidsIn(view, owner.text);
    const others = here.filter((each) => each !== sort);
    if (others.length === 0 || here.length - others.length > 1) continue;
    const elsewhere = placesFilled(view, '').find(
      (place) => place !== owner.text && fluidsIn(view, place).some((each) => each === sort),
    );
    if (elsewhere === undefined || new Set(others).size > 1) continue;
    report(
      step.placed,
      used,
      told`${told.named(owner.text)} is filled with ${told.thing(supply)} here, which is ${A_KIND.get(sort) ?? ''}: everywhere else ${A_KIND.get(others[0] ?? '') ?? ''} goes into it, and ${A_KIND.get(sort) ?? ''} into ${told.named(elsewhere)}.`,
    );
  }
}

/** What no fuel is filled into. Common practice, no source. */
const NO_FUEL: readonly TradeKind[] = [
  'sump',
  'block',
  'case',
  'head',
  'radiator',
  'water-joint',
  'exchanger',
  'oil-filter',
];

/** Fuel where oil or coolant belongs. */
function sayIfFuel(
  step: Step,
  { targets }: Action,
  used: NonNullable<Action['with']>,
  supply: Supply,
  report: Report,
): boolean {
  const target = supply.sort === 'fuel' ? targets.find(({ owner }) => isA(owner.text, ...NO_FUEL)) : undefined;
  if (target === undefined) return false;
  report(
    step.placed,
    used,
    told`${told.named(target.owner.text)} is filled with ${told.thing(supply)} here, which is fuel: none goes there. See which of the two is meant.`,
  );
  return true;
}

export const wrongSupply: ThingCheck<'step'> = {
  code: 'sequence/wrong-supply',
  severity: 'warning',
  scope: 'thing',
  of: ['step'],
  page,
  run(step, view, report) {
    const actions = step.statements.filter((each): each is Action => each.kind === 'action');
    for (const action of actions) {
      const { word, with: used, targets } = action;
      const rule = NOT_FOR.get(word);
      const supply = used === undefined ? undefined : view.things.get(used.owner.text);
      if (rule === undefined || used === undefined || supply?.kind !== 'supply' || supply.sort === undefined) continue;
      if (word === 'fill' && !sayIfFuel(step, action, used, supply, report))
        sayIfOtherFluid(step, targets, used, supply, view, report);
      const [kinds, right] = rule;
      if (!kinds.includes(supply.sort)) continue;
      const what = told.list(
        targets.map(({ owner }) => told.named(owner.text)),
        ',',
      );
      const done = DONE.get(word);
      const is = (targets.length === 1 ? done?.one : done?.several) ?? told.nothing;
      report(
        step.placed,
        used,
        told`${what} ${is} with ${told.thing(supply)} here, which is ${A_KIND.get(supply.sort) ?? ''}. What is wanted is ${right}.`,
        {
          related: [
            {
              placed: supply.placed,
              span: supply.declaration.name ?? supply.declaration.wordSpan,
              message: told`its kind stands here`,
            },
          ],
        },
      );
    }
  },
};
