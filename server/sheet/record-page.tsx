// The sheet of a record: what was measured and fitted, what does not hold, what is open, what was done otherwise, who signed. For the customer
// without the inner notes. Built from elements, so that no text of a record can be anything but text.

import { render } from 'preact-render-to-string';
import { nothingMoved } from '../../grammar/characters.ts';
import { speak, spoken } from '../../grammar/spoken.ts';
import { type Told, told } from '../../grammar/told.ts';
import type { DateText, Reference, Statement, Text } from '../../grammar/tree.ts';
import type { BuiltView } from '../model/build-view.ts';
import type { Finding } from '../model/finding.ts';
import { type Placed, statementsFor } from '../model/placed.ts';
import type { Step } from '../model/view.ts';
import { plansOf } from '../rehearsal/plan.ts';
import { placesText, valueText } from './action-text.ts';
import { spaced } from './pieces.tsx';
import { inText, named } from './plain-words.ts';
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
  return [on?.text, by === undefined ? undefined : spoken`by ${by.value}`]
    .filter((each) => each !== undefined)
    .join(' ');
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

const HEAD_WORDS: ReadonlyMap<string, Told> = new Map([
  ['customer', told`Customer`],
  ['complaint', told`Complaint`],
  ['engine-number', told`Engine number`],
  ['distance', told`Distance`],
  ['running-hours', told`Running hours`],
]);

function headWord(word: string): string {
  return speak(HEAD_WORDS.get(word) ?? spaced(word));
}

/** What is said in words at the head: whose it is, what it came with, what was agreed. */
function headLines(said: readonly Statement[]): readonly string[] {
  return said.flatMap((each) => {
    if (each.kind === 'agreed')
      return [spoken`Agreed: ${[each.text.value, signedBy(each)].filter((text) => text !== '').join(', ')}`];
    if (each.kind === 'text' && HEAD_WORDS.has(each.word)) return [`${headWord(each.word)}: ${each.text.value}`];
    return each.kind === 'value' && HEAD_WORDS.has(each.word)
      ? [`${headWord(each.word)}: ${valueText(each.value)}`]
      : [];
  });
}

/** The page of a record, as HTML that needs nothing else. */
export function recordPage(question: RecordQuestion): string {
  const { record, view, findings, isForCustomer } = question;
  const { declaration } = record;
  const said = statementsFor(declaration.body?.statements, view.variant);
  const spec = view.specs[0]?.declaration;
  const title = spec?.title?.value ?? spaced(spec?.name?.text ?? declaration.of?.owner.text ?? spoken`Record`);
  const facts = [
    declaration.name?.text ?? '',
    declaration.revision === undefined ? '' : spoken`revision ${declaration.revision.value}`,
    view.variant ?? '',
  ].filter((each) => each !== '');
  const wrong = findings
    .filter((each) => each.file === record.file && each.severity !== 'information')
    .map((each) => speak(each.told));
  const open = openSteps(record, view).map((step) => step.title ?? spaced(step.name));
  const of = (word: 'done' | 'deviation'): readonly Extract<Statement, { kind: 'done' }>[] =>
    said.flatMap((each) => (each.kind === 'done' && each.word === word ? [each] : []));
  const signed = said.flatMap((each) => (each.kind === 'signed' ? [each] : []));
  const notes = said.flatMap((each) => (each.kind === 'text' && each.word === 'note' ? [each.text.value] : []));
  const witnessed = said.flatMap((each) =>
    each.kind === 'witnessed' ? [`${calledIn(view, each.step)}: ${signedBy(each)}`] : [],
  );
  const page = (
    <html lang={spoken`en`}>
      <head>
        <meta charset="utf-8" />
        <meta
          http-equiv="Content-Security-Policy"
          content="default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'"
        />
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <title>{spoken`Record: ${title}`}</title>
        <style
          dangerouslySetInnerHTML={{
            __html: `${STYLE}${printedMargins([title, ...facts, spoken`record`].join(', '))}`,
          }}
        />
      </head>
      <body>
        <header>
          <p class="kind">{isForCustomer ? spoken`Record of the work` : spoken`Record`}</p>
          <h1>{title}</h1>
          <p>{facts.join(' · ')}</p>
          {headLines(said).map((text) => (
            <p key={text}>{text}</p>
          ))}
        </header>
        <main>
          <h2>{spoken`How it stands`}</h2>
          <p class="figure">
            {signed.length === 0
              ? spoken`Not signed`
              : signed.map((each) => spoken`Signed ${each.on?.text ?? ''} by ${each.by.value}`).join('; ')}
          </p>
          <p>
            {[measuredInShort(record, view), open.length === 0 ? spoken`All steps are done.` : '']
              .filter((each) => each !== '')
              .join(' ')}
          </p>
          <List title={spoken`Still open: ${open.length}`} items={open} />
          <List title={spoken`What does not hold`} items={wrong} />
          <Table
            title={spoken`Done otherwise`}
            columns={[spoken`Step`, spoken`What was done`]}
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
            title={spoken`Fitted and found`}
            columns={[spoken`What`, spoken`Which`, spoken`How`]}
            rows={said.flatMap((each): string[][] => {
              if (each.kind === 'record-fitted')
                return [
                  [
                    calledIn(view, each.part),
                    [each.size?.text, each.grade?.text, each.text?.value]
                      .filter((text) => text !== undefined)
                      .join(', '),
                    spoken`fitted`,
                  ],
                ];
              return each.kind === 'found'
                ? [
                    [
                      calledIn(view, each.part),
                      each.text?.value ?? '',
                      speak(told.term(each.verdict?.word.replace(/-/g, ' ') ?? 'found')),
                    ],
                  ]
                : [];
            })}
          />
          <Table
            title={spoken`Read off`}
            columns={[spoken`When`, spoken`What`]}
            rows={said.flatMap((each) =>
              each.kind === 'log'
                ? [
                    [
                      `${each.on?.text ?? ''}${each.time === undefined ? '' : ` ${each.time.hour}:${String(each.time.minute).padStart(2, '0')}`}`,
                      [
                        ...each.readings.map(({ name, value }) => `${inText(name.text)} ${valueText(value)}`),
                        ...(each.text === undefined ? [] : [each.text.value]),
                      ].join(', '),
                    ],
                  ]
                : [],
            )}
          />
          <List title={spoken`Looked at`} items={witnessed} />
          <Table
            title={spoken`Done`}
            columns={[spoken`Step`, isForCustomer ? spoken`When` : spoken`When and by whom`]}
            rows={of('done').map((each) => [
              `${calledIn(view, each.step)}${each.again === true ? spoken`, again: ${each.text?.value ?? ''}` : ''}`,
              isForCustomer ? (each.on?.text ?? '') : signedBy(each),
            ])}
          />
          {isForCustomer ? null : <List title={spoken`Notes`} items={notes} />}
        </main>
      </body>
    </html>
  );
  return `<!DOCTYPE html>\n${nothingMoved(render(page))}\n`;
}
