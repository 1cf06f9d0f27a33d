// What to lay out before a job: tools, supplies, what must be new, what is sent out, what has not come yet.

import { listsOf } from '../model/job-lists.ts';
import { sendText, toolTexts } from '../model/job-lists-text.ts';
import type { Sequence, View } from '../model/view.ts';
import { Boxes, Called } from './pieces.tsx';

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
                <Called thing={item} />
                {item.amount === undefined ? '' : `: ${item.amount}`}
              </>
            ))}
        />
        <List
          title="Must be new"
          items={fresh.map((item) => (
            <>
              {item.count} × <Called thing={item} />
              {item.number === undefined ? '' : `, ${item.number}`}
            </>
          ))}
        />
        <List title="To send out" items={lists.send.map(sendText)} />
        <List
          title="On order, not here yet"
          items={missing.map((item) => (
            <>
              <Called thing={item} />
              {`: ${item.onOrder}`}
            </>
          ))}
        />
      </div>
    </section>
  );
}
