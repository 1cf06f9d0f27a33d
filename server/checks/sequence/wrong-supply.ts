// A supply that is for something else than what an action does with it: sealant where something is lubricated, oil where it is sealed.
import type { Action } from '../../../grammar/tree.ts';
import type { ActionWord } from '../../../grammar/vocabulary.ts';
import type { ThingCheck } from '../check.ts';
import page from './wrong-supply.md';

/** For each action with a supply: the kinds that are surely not for it, and what would be. Common practice, no source. */
const NOT_FOR = new Map<ActionWord, readonly [kinds: readonly string[], right: string]>([
  [
    'lubricate',
    [['coolant', 'fuel', 'sealant', 'threadlocker', 'cleaner', 'abrasive'], 'oil, assembly lubricant or grease'],
  ],
  ['seal', [['oil', 'lubricant', 'coolant', 'fuel', 'cleaner', 'abrasive'], 'sealant or threadlocker']],
  ['clean', [['oil', 'lubricant', 'grease', 'coolant', 'sealant', 'threadlocker', 'abrasive'], 'a cleaner']],
  ['fill', [['sealant', 'threadlocker', 'cleaner', 'abrasive'], 'oil, coolant, fuel or grease']],
  ['prime', [['coolant', 'sealant', 'threadlocker', 'cleaner', 'abrasive'], 'oil, grease or fuel']],
]);

const A_KIND = new Map([
  ['oil', 'oil'],
  ['lubricant', 'an assembly lubricant'],
  ['grease', 'grease'],
  ['coolant', 'coolant'],
  ['fuel', 'fuel'],
  ['sealant', 'sealant'],
  ['threadlocker', 'threadlocker'],
  ['cleaner', 'a cleaner'],
  ['abrasive', 'a lapping or honing compound'],
]);

const DONE = new Map<ActionWord, string>([
  ['lubricate', 'lubricated'],
  ['seal', 'sealed'],
  ['clean', 'cleaned'],
  ['fill', 'filled'],
  ['prime', 'primed'],
]);

export const wrongSupply: ThingCheck = {
  code: 'sequence/wrong-supply',
  severity: 'warning',
  scope: 'thing',
  page,
  run(step, view, report) {
    if (step.kind !== 'step') return;
    const actions = step.statements.filter((each): each is Action => each.kind === 'action');
    for (const { word, with: used, targets } of actions) {
      const rule = NOT_FOR.get(word);
      const supply = used === undefined ? undefined : view.things.get(used.owner.text);
      if (rule === undefined || used === undefined || supply?.kind !== 'supply' || supply.sort === undefined) continue;
      const [kinds, right] = rule;
      if (!kinds.includes(supply.sort)) continue;
      const what = targets.map(({ owner }) => owner.text).join(', ');
      report(
        step.placed,
        used,
        `${what} ${targets.length === 1 ? 'is' : 'are'} ${DONE.get(word)} with ${supply.name} here, which is ${A_KIND.get(supply.sort)}. What is wanted is ${right}.`,
        {
          related: [
            {
              placed: supply.placed,
              span: supply.declaration.name ?? supply.declaration.wordSpan,
              message: 'its kind stands here',
            },
          ],
        },
      );
    }
  },
};
