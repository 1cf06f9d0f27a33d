// The usual caution of the trade for what a step does. Common practice, no source; the maker's own cautions stand in the spec.
import { lookUp } from '../../grammar/look-up.ts';
import type { Statement } from '../../grammar/tree.ts';
import type { Step, View } from '../model/view.ts';

const SPRING = 'A spring under load: eye protection, and nothing in its way when it lets go.';
const HANGING = 'What hangs can fall: look at hook and sling first, and keep everyone from under it.';
const SCALDS = 'Oil and coolant scald: let it cool, catch what runs out.';
const BY_HAND = 'Turn by hand, slowly: at any resistance stop and find out why.';

const BY_ACTION: Readonly<Record<string, string>> = {
  'hold-back': SPRING,
  release: SPRING,
  lift: HANGING,
  support: HANGING,
  drain: SCALDS,
  rotate: BY_HAND,
  run: 'Exhaust gas kills indoors: lead it outside. Keep sleeves, hair and leads from what turns.',
};

const BY_METHOD: Readonly<Record<string, string>> = {
  heat: 'Hot metal burns: gloves.',
  press: 'What is pressed can shatter or fly: eye protection, hands clear.',
};

const SOLVENT =
  'Solvents: gloves, eye protection, fresh air, no flame. Chlorinated cleaner near heat makes poison gas.';

function cautionsOf(statement: Statement, view: View): readonly (string | undefined)[] {
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
export function usualCautions(step: Step, view: View): readonly string[] {
  const all = step.statements.flatMap((statement) => cautionsOf(statement, view));
  return [...new Set(all)].filter((caution) => caution !== undefined);
}
