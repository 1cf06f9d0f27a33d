// The usual caution of the trade for what a step does. Common practice, no source; the maker's own cautions stand in the spec.

import { lookUp } from '../../grammar/look-up.ts';
import { speak } from '../../grammar/spoken.ts';
import { type Told, told } from '../../grammar/told.ts';
import type { Statement } from '../../grammar/tree.ts';
import type { Step, View } from '../model/view.ts';

const SPRING = told`A spring under load: eye protection, and nothing in its way when it lets go.`;
const HANGING = told`What hangs can fall: look at hook and sling first, and keep everyone from under it.`;
const SCALDS = told`Oil and coolant scald: let it cool, catch what runs out.`;
const BY_HAND = told`Turn by hand, slowly: at any resistance stop and find out why.`;

const EXHAUST = told`Exhaust gas kills indoors: lead it outside. Keep sleeves, hair and leads from what turns.`;
const HEAT = told`Hot metal burns: gloves.`;
const PRESS = told`What is pressed can shatter or fly: eye protection, hands clear.`;

const BY_ACTION: Readonly<Record<string, Told>> = {
  'hold-back': SPRING,
  release: SPRING,
  lift: HANGING,
  support: HANGING,
  drain: SCALDS,
  rotate: BY_HAND,
  run: EXHAUST,
};

const BY_METHOD: Readonly<Record<string, Told>> = {
  heat: HEAT,
  press: PRESS,
};

const SOLVENT = told`Solvents: gloves, eye protection, fresh air, no flame. Chlorinated cleaner near heat makes poison gas.`;

function cautionsOf(statement: Statement, view: View): readonly (Told | undefined)[] {
  if (statement.kind !== 'action') return [lookUp(BY_ACTION, statement.word)];
  const heldBack = statement.targets.some((target) => {
    const thing = view.things.get(target.owner.text);
    return thing?.kind === 'part' && thing.heldBack;
  });
  return [
    lookUp(BY_ACTION, statement.word),
    statement.method === undefined ? undefined : lookUp(BY_METHOD, statement.method.word),
    statement.word === 'clean' ? SOLVENT : undefined,
    heldBack && (statement.word === 'fit' || statement.word === 'remove') ? SPRING : undefined,
  ];
}

/** The usual cautions that a step calls for, each once. */
function usualCautions(step: Step, view: View): readonly Told[] {
  const all = step.statements.flatMap((statement) => cautionsOf(statement, view));
  return [...new Set(all)].filter((caution) => caution !== undefined);
}

/** Words by which a caution of the spec is known to be of the same kind as a usual one. */
const SAME_KIND: readonly (readonly [Told, RegExp])[] = [
  [SPRING, /spring|tension|plunger|fl(?:y|ies)|eye/i],
  [HANGING, /sling|hoist|hang|lift|under (?:an|the) engine|swing/i],
  [SCALDS, /hot|scald|cool|pressure|burn/i],
  [BY_HAND, /resistance|by hand|force|slowly/i],
  [EXHAUST, /exhaust|extraction|gas|sleeve|fan|belt/i],
  [HEAT, /hot|burn|glove/i],
  [PRESS, /press|shatter|fl(?:y|ies)|eye/i],
  [SOLVENT, /solvent|glove|flame|cleaner|fume/i],
];

/** The cautions that a step, and the parts and fasteners that it works on, say themselves; each once. */
function ownCautions(step: Step, view: View): readonly string[] {
  const said = (statements: readonly Statement[]): readonly string[] =>
    statements.flatMap((each) => (each.kind === 'text' && each.word === 'caution' ? [each.text.value] : []));
  const things = step.statements.flatMap((each) => {
    if (each.kind !== 'action' || !CAUTIONED.has(each.word)) return [];
    return each.targets.flatMap((target) => said(view.things.get(target.owner.text)?.statements ?? []));
  });
  return [...new Set([...said(step.statements), ...things])];
}

const CAUTIONED: ReadonlySet<string> = new Set(['fit', 'remove', 'hold-back', 'release', 'tighten', 'loosen', 'snug']);

/** All cautions of a step, its own first; the usual one of a kind only where none of its own is of that kind. */
export function stepCautions(step: Step, view: View): readonly { readonly text: string; readonly isUsual: boolean }[] {
  const own = ownCautions(step, view);
  const isSaid = (usual: Told): boolean => {
    const kind = SAME_KIND.find(([text]) => text === usual)?.[1];
    return kind !== undefined && own.some((text) => kind.test(text));
  };
  return [
    ...own.map((text) => ({ text, isUsual: false })),
    ...usualCautions(step, view)
      .filter((usual) => !isSaid(usual))
      .map((usual) => ({ text: speak(usual), isUsual: true })),
  ];
}
