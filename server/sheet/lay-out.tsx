// What to lay out before a job: tools, supplies, what must be new, what is sent out, what has not come yet.

import { speak, spoken } from '../../grammar/spoken.ts';
import { listsOf, type ToBuy } from '../model/job-lists.ts';
import { gradesText, sendText, toolTexts } from '../model/job-lists-text.ts';
import type { Sequence, View } from '../model/view.ts';
import { Boxes, spaced } from './pieces.tsx';
import { named, several } from './plain-words.ts';

function List({ title, items }: { title: string; items: readonly string[] }) {
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

/** `the bore of the cylinder block` of `block.bore`. */
function machined(what: string, view: View): string {
  const [owner = what, feature] = what.split('.');
  const part = named(owner, view);
  return spaced(feature === undefined ? part : spoken`${feature.replace(/[-_]/g, ' ')} of the ${part}`);
}

/** What the sequences of a job need on the bench, in words. */
export function toLayOut(
  sequences: readonly Sequence[],
  view: View,
): readonly { readonly title: string; readonly items: readonly string[] }[] {
  const lists = listsOf(sequences, view);
  const called = (item: { readonly name: string; readonly title?: string | undefined }): string =>
    item.title ?? spaced(item.name);
  const numbered = ({ number }: ToBuy): string => (number === undefined ? '' : `, ${number}`);
  const all = [
    { title: spoken`Tools`, items: toolTexts(lists, (name) => several(named(name, view))).map((each) => speak(each)) },
    {
      title: spoken`Supplies`,
      items: lists.buy
        .filter((item) => item.why === 'used up')
        .map((item) => `${called(item)}${item.amount === undefined ? '' : `: ${item.amount}`}${numbered(item)}`),
    },
    {
      title: spoken`Must be new`,
      items: lists.buy
        .filter((item) => item.why === 'single-use' || (item.why === 'renewed' && item.onOrder === undefined))
        .map((item) => `${item.count} × ${called(item)}${numbered(item)}`),
    },
    {
      title: spoken`Chosen by measurement`,
      items: lists.buy.flatMap((item) =>
        item.grades === undefined
          ? []
          : [`${called(item)}, ${speak(gradesText(item, (name) => named(name, view)) ?? '')}`],
      ),
    },
    {
      title: spoken`To send out`,
      items: lists.send.map((item) => speak(sendText({ ...item, what: machined(item.what, view) }))),
    },
    {
      title: spoken`On order, not here yet`,
      items: lists.buy.flatMap((item) => (item.onOrder === undefined ? [] : [`${called(item)}: ${item.onOrder}`])),
    },
  ];
  return all.filter((list) => list.items.length > 0);
}

/** What the sequences of a job need on the bench; nothing where they need nothing. */
export function LayOut({ sequences, view }: { sequences: readonly Sequence[]; view: View }) {
  const lists = toLayOut(sequences, view);
  if (lists.length === 0) return null;
  return (
    <section class="lay-out">
      <h3>{spoken`To lay out`}</h3>
      <div class="columns">
        {lists.map(({ title, items }) => (
          <List title={title} items={items} key={title} />
        ))}
      </div>
    </section>
  );
}
