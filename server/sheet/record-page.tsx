// The sheet of a record: what was measured and fitted, what does not hold, what is open, what was done otherwise, who signed. For the customer
// without the inner notes. Built from elements, so that no text of a record can be anything but text.

import { render } from 'preact-render-to-string';
import { nothingMoved } from '../../grammar/characters.ts';
import type { DateText, Reference, Statement, Text } from '../../grammar/tree.ts';
import type { BuiltView } from '../model/build-view.ts';
import type { Finding } from '../model/finding.ts';
import { type Placed, statementsFor } from '../model/placed.ts';
import type { Step } from '../model/view.ts';
import { plansOf } from '../rehearsal/plan.ts';
import { placesText, valueText } from './action-text.ts';
import { spaced } from './pieces.tsx';
import { named } from './plain-words.ts';
import { printedMargins } from './printed-margins.ts';
import { MeasuredTable, measuredInShort } from './record-measured.tsx';
import { STYLE } from './style.ts';

export interface RecordQuestion {
  readonly record: Placed;
  readonly view: BuiltView;
  readonly findings: readonly Finding[];
  /** Without the inner notes, and without who did each step. */
  readonly isForCustomer: boolean;
}

/** A limit, a step or a part by what it is called. */
function calledIn(view: BuiltView, { owner, places }: Reference): string {
  const step = view.steps.find((each) => each.name === owner.text);
  const title = step === undefined ? spaced(named(owner.text, view)) : (step.title ?? spaced(step.name));
  const where = placesText(places);
  return where === '' ? title : `${title} ${where}`;
}

function signedBy({ on, by }: { readonly on?: DateText; readonly by?: Text }): string {
  return [on?.text, by === undefined ? undefined : `by ${by.value}`].filter((each) => each !== undefined).join(' ');
}

/** The steps of the job that the record is of and that it says nothing about: of the job with the most of them done. */
function openSteps(record: Placed, view: BuiltView): readonly Step[] {
  const said = statementsFor(record.declaration.body?.statements, view.variant);
  const touched = new Set(said.flatMap((each) => (each.kind === 'done' ? [each.step.owner.text] : [])));
  const plans = plansOf(view, view.specs[0]?.file ?? record.file).map((plan) =>
    plan.sequences.flatMap((sequence) => sequence.steps),
  );
  const [own = []] = plans.sort(
    (one, other) =>
      other.filter((step) => touched.has(step.name)).length - one.filter((step) => touched.has(step.name)).length,
  );
  return own.filter((step) => !touched.has(step.name));
}

function List({ title, items }: { title: string; items: readonly string[] }) {
  if (items.length === 0) return null;
  return (
    <section>
      <h3>{title}</h3>
      <ul class="actions">
        {items.map((item, i) => (
          <li key={i}>{item}</li>
        ))}
      </ul>
    </section>
  );
}

function Table({
  title,
  columns,
  rows,
}: {
  title: string;
  columns: readonly string[];
  rows: readonly (readonly string[])[];
}) {
  if (rows.length === 0) return null;
  return (
    <section>
      <h3>{title}</h3>
      <table>
        <thead>
          <tr>
            {columns.map((column) => (
              <th scope="col" key={column}>
                {column}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((row, i) => (
            <tr key={i}>{row.map((text, j) => (j === 0 ? <th scope="row">{text}</th> : <td key={j}>{text}</td>))}</tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

/** What is said in words at the head: whose it is, what it came with, what was agreed. */
function headLines(said: readonly Statement[]): readonly string[] {
  return said.flatMap((each) => {
    if (each.kind === 'agreed')
      return [`Agreed: ${[each.text.value, signedBy(each)].filter((text) => text !== '').join(', ')}`];
    if (each.kind === 'text' && ['customer', 'complaint', 'engine-number'].includes(each.word))
      return [`${spaced(each.word)}: ${each.text.value}`];
    return each.kind === 'value' && ['distance', 'running-hours'].includes(each.word)
      ? [`${spaced(each.word)}: ${valueText(each.value)}`]
      : [];
  });
}

/** The page of a record, as HTML that needs nothing else. */
export function recordPage(question: RecordQuestion): string {
  const { record, view, findings, isForCustomer } = question;
  const { declaration } = record;
  const said = statementsFor(declaration.body?.statements, view.variant);
  const spec = view.specs[0]?.declaration;
  const title = spec?.title?.value ?? spaced(spec?.name?.text ?? declaration.of?.owner.text ?? 'Record');
  const facts = [
    declaration.name?.text ?? '',
    declaration.revision === undefined ? '' : `revision ${declaration.revision.value}`,
    view.variant ?? '',
  ].filter((each) => each !== '');
  const wrong = findings
    .filter((each) => each.file === record.file && each.severity !== 'information')
    .map((each) => each.message);
  const open = openSteps(record, view).map((step) => step.title ?? spaced(step.name));
  const of = (word: 'done' | 'deviation'): readonly Extract<Statement, { kind: 'done' }>[] =>
    said.flatMap((each) => (each.kind === 'done' && each.word === word ? [each] : []));
  const signed = said.flatMap((each) => (each.kind === 'signed' ? [each] : []));
  const notes = said.flatMap((each) => (each.kind === 'text' && each.word === 'note' ? [each.text.value] : []));
  const witnessed = said.flatMap((each) =>
    each.kind === 'witnessed' ? [`${calledIn(view, each.step)}: ${signedBy(each)}`] : [],
  );
  const page = (
    <html lang="en">
      <head>
        <meta charset="utf-8" />
        <meta
          http-equiv="Content-Security-Policy"
          content="default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'"
        />
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <title>{`Record: ${title}`}</title>
        <style
          dangerouslySetInnerHTML={{ __html: `${STYLE}${printedMargins([title, ...facts, 'record'].join(', '))}` }}
        />
      </head>
      <body>
        <header>
          <p class="kind">{isForCustomer ? 'Record of the work' : 'Record'}</p>
          <h1>{title}</h1>
          <p>{facts.join(' · ')}</p>
          {headLines(said).map((text) => (
            <p key={text}>{text}</p>
          ))}
        </header>
        <main>
          <h2>How it stands</h2>
          <p class="figure">
            {signed.length === 0
              ? 'Not signed'
              : signed.map((each) => `Signed ${each.on?.text ?? ''} by ${each.by.value}`).join('; ')}
          </p>
          <p>
            {[measuredInShort(record, view), open.length === 0 ? 'All steps are done.' : '']
              .filter((each) => each !== '')
              .join(' ')}
          </p>
          <List title={`Still open: ${open.length}`} items={open} />
          <List title="What does not hold" items={wrong} />
          <Table
            title="Done otherwise"
            columns={['Step', 'What was done']}
            rows={of('deviation').map((each) => [calledIn(view, each.step), each.text?.value ?? ''])}
          />
          <MeasuredTable
            record={record}
            view={view}
            said={said}
            title={(each) => calledIn(view, each.limit)}
            how={(each) =>
              [each.with?.value, isForCustomer ? each.on?.text : signedBy(each)]
                .filter((text) => text !== undefined && text !== '')
                .join(', ')
            }
          />
          <Table
            title="Fitted and found"
            columns={['What', 'Which', 'How']}
            rows={said.flatMap((each): string[][] => {
              if (each.kind === 'record-fitted')
                return [
                  [
                    calledIn(view, each.part),
                    [each.size?.text, each.grade?.text, each.text?.value]
                      .filter((text) => text !== undefined)
                      .join(', '),
                    'fitted',
                  ],
                ];
              return each.kind === 'found'
                ? [
                    [
                      calledIn(view, each.part),
                      each.text?.value ?? '',
                      each.verdict?.word.replace(/-/g, ' ') ?? 'found',
                    ],
                  ]
                : [];
            })}
          />
          <Table
            title="Read off"
            columns={['When', 'What']}
            rows={said.flatMap((each) =>
              each.kind === 'log'
                ? [
                    [
                      `${each.on?.text ?? ''}${each.time === undefined ? '' : ` ${each.time.hour}:${String(each.time.minute).padStart(2, '0')}`}`,
                      [
                        ...each.readings.map(
                          ({ name, value }) => `${spaced(name.text).toLowerCase()} ${valueText(value)}`,
                        ),
                        ...(each.text === undefined ? [] : [each.text.value]),
                      ].join(', '),
                    ],
                  ]
                : [],
            )}
          />
          <List title="Looked at" items={witnessed} />
          <Table
            title="Done"
            columns={isForCustomer ? ['Step', 'When'] : ['Step', 'When and by whom']}
            rows={of('done').map((each) => [
              `${calledIn(view, each.step)}${each.again === true ? `, again: ${each.text?.value ?? ''}` : ''}`,
              isForCustomer ? (each.on?.text ?? '') : signedBy(each),
            ])}
          />
          {isForCustomer ? null : <List title="Notes" items={notes} />}
        </main>
      </body>
    </html>
  );
  return `<!DOCTYPE html>\n${nothingMoved(render(page))}\n`;
}
