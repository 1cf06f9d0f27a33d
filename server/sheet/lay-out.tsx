// What to lay out before a job: tools, supplies, what must be new, what is sent out, what has not come yet.

import { listsOf } from '../model/job-lists.ts';
import { sendText, toolTexts } from '../model/job-lists-text.ts';
import type { Sequence, View } from '../model/view.ts';
import { Boxes, spaced } from './pieces.tsx';

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

/** What the sequences of a job need on the bench, in words. */
export function toLayOut(
  sequences: readonly Sequence[],
  view: View,
): readonly { readonly title: string; readonly items: readonly string[] }[] {
  const lists = listsOf(sequences, view);
  const called = (item: { readonly name: string; readonly title?: string | undefined }): string =>
    item.title ?? spaced(item.name);
  const all = [
    { title: 'Tools', items: toolTexts(lists) },
    {
      title: 'Supplies',
      items: lists.buy
        .filter((item) => item.why === 'used up')
        .map((item) => `${called(item)}${item.amount === undefined ? '' : `: ${item.amount}`}`),
    },
    {
      title: 'Must be new',
      items: lists.buy
        .filter((item) => item.why === 'single-use' || (item.why === 'renewed' && item.onOrder === undefined))
        .map((item) => `${item.count} × ${called(item)}${item.number === undefined ? '' : `, ${item.number}`}`),
    },
    { title: 'To send out', items: lists.send.map(sendText) },
    {
      title: 'On order, not here yet',
      items: lists.buy.flatMap((item) => (item.onOrder === undefined ? [] : [`${called(item)}: ${item.onOrder}`])),
    },
  ];
  return all.filter((list) => list.items.length > 0);
}

/** What the sequences of a job need on the bench. */
export function LayOut({ sequences, view }: { sequences: readonly Sequence[]; view: View }) {
  const lists = listsOf(sequences, view);
  const fresh = lists.buy.filter(
    (item) => item.why === 'single-use' || (item.why === 'renewed' && item.onOrder === undefined),
  );
  const missing = lists.buy.filter((item) => item.onOrder !== undefined);
  return (
    <section class="lay-out">
      <h3>To lay out</h3>
      <div class="columns">
        <List title="Tools" items={toolTexts(lists)} />
        <List
          title="Supplies"
          items={lists.buy
            .filter((item) => item.why === 'used up')
            .map((item) => (
              <>
                {item.title ?? spaced(item.name)}
                {item.amount === undefined ? '' : `: ${item.amount}`}
                {item.number === undefined ? '' : `, ${item.number}`}
              </>
            ))}
        />
        <List
          title="Must be new"
          items={fresh.map((item) => (
            <>
              {item.count} × {item.title ?? spaced(item.name)}
              {item.number === undefined ? '' : `, ${item.number}`}
            </>
          ))}
        />
        <List title="To send out" items={lists.send.map(sendText)} />
        <List
          title="On order, not here yet"
          items={missing.map((item) => (
            <>
              {item.title ?? spaced(item.name)}
              {`: ${item.onOrder}`}
            </>
          ))}
        />
      </div>
    </section>
  );
}
