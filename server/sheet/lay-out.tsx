// What to lay out before a job: tools, supplies, what must be new, what has not come yet.
import type { Action, Statement } from '../../grammar/tree.ts';
import type { Fastener, Part, Sequence, Supply, View } from '../model/view.ts';
import { valueText } from './action-text.ts';
import { Boxes, Called } from './pieces.tsx';
import { countOf } from './tightening.tsx';

function statementsOf(sequences: readonly Sequence[]): readonly Statement[] {
  return sequences.flatMap((sequence) => sequence.steps.flatMap((step) => step.statements));
}

function thingsOf(actions: readonly Action[], view: View): ReadonlySet<Part | Fastener> {
  const things = actions.flatMap((action) => action.targets.map((target) => view.things.get(target.owner.text)));
  return new Set(things.filter((thing) => thing?.kind === 'part' || thing?.kind === 'fastener'));
}

/** A tool is what a step names as one, what something is measured or held with, and the pin of what is held back. */
function toolsOf(statements: readonly Statement[], view: View): readonly string[] {
  const tools = new Set<string>();
  for (const each of statements) {
    if (each.kind === 'text' && each.word === 'tool') tools.add(each.text.value);
    if (each.kind !== 'action') continue;
    if (each.withText !== undefined) tools.add(each.withText.value);
    else if (each.word === 'hold-back')
      for (const text of each.targets.flatMap((target) => heldBackWith(view, target.owner.text))) tools.add(text);
  }
  return [...tools].sort((a, b) => (a < b ? -1 : 1));
}

/** What a part is held back with, as its declaration says. */
export function heldBackWith(view: View, name: string): readonly string[] {
  const part = view.things.get(name);
  return part?.kind !== 'part'
    ? []
    : part.statements.flatMap((each) => (each.kind === 'text' && each.word === 'held-back' ? [each.text.value] : []));
}

interface Used {
  readonly supply: Supply;
  readonly amounts: readonly string[];
}

function suppliesOf(actions: readonly Action[], view: View): readonly Used[] {
  const used = new Map<Supply, Set<string>>();
  for (const { with: reference, amount } of actions) {
    const supply = reference === undefined ? undefined : view.things.get(reference.owner.text);
    if (supply?.kind !== 'supply') continue;
    const amounts = used.get(supply) ?? new Set();
    if (amount !== undefined) amounts.add(valueText(amount));
    used.set(supply, amounts);
  }
  return [...used].map(([supply, amounts]) => {
    const said = supply.statements.flatMap((each) =>
      each.kind === 'value' && each.word === 'amount' ? [valueText(each.value)] : [],
    );
    return { supply, amounts: said.length > 0 ? said : [...amounts] };
  });
}

function List({ title, items }: { title: string; items: readonly preact.ComponentChildren[] }) {
  if (items.length === 0) return null;
  return (
    <div>
      <h4>{title}</h4>
      <ul class="actions">
        {items.map((item, i) => (
          <li key={i}>
            <Boxes /> {item}
          </li>
        ))}
      </ul>
    </div>
  );
}

function orderText(thing: Part | Fastener): string {
  const said = thing.statements.flatMap((each) =>
    each.kind === 'text' && each.word === 'on-order' ? [each.text.value] : [],
  );
  return said.length === 0 ? '' : `: ${said.join(', ')}`;
}

/** What the sequences of a job need on the bench. */
export function LayOut({ sequences, view }: { sequences: readonly Sequence[]; view: View }) {
  const statements = statementsOf(sequences);
  const actions = statements.filter((each) => each.kind === 'action');
  const goingOn = thingsOf(
    actions.filter((each) => ['fit', 'tighten', 'snug', 'renew'].includes(each.word)),
    view,
  );
  const renewed = thingsOf(
    actions.filter((each) => each.word === 'renew'),
    view,
  );
  const fresh = [...goingOn].filter((thing) => thing.singleUse || renewed.has(thing));
  const missing = [...thingsOf(actions, view)].filter((thing) => thing.onOrder);
  return (
    <section class="lay-out">
      <h3>To lay out</h3>
      <div class="columns">
        <List title="Tools" items={toolsOf(statements, view)} />
        <List
          title="Supplies"
          items={suppliesOf(actions, view).map(({ supply, amounts }) => (
            <>
              <Called thing={supply} />
              {amounts.length === 0 ? '' : `: ${amounts.join(', ')}`}
            </>
          ))}
        />
        <List
          title="Must be new"
          items={fresh.map((thing) => (
            <>
              {thing.kind === 'part' ? Math.max(1, thing.count) : countOf(thing, view)} × <Called thing={thing} />
            </>
          ))}
        />
        <List
          title="On order, not here yet"
          items={missing.map((thing) => (
            <>
              <Called thing={thing} />
              {orderText(thing)}
            </>
          ))}
        />
      </div>
    </section>
  );
}
