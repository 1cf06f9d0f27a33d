// The bench sheet: one page that holds everything, to print and to write on. Built from elements, so that no text of a spec can be
// anything but text. There is no script on it.
import { render } from 'preact-render-to-string';
import type { Statement } from '../../grammar/tree.ts';
import { unitText } from '../mechanics/units.ts';
import type { BuiltView } from '../model/build-view.ts';
import { torqueOf, workOutFastener } from '../model/fastener-sums.ts';
import { shownNumber, shownUnit, workOutLimit } from '../model/limit-sums.ts';
import { statementsFor } from '../model/placed.ts';
import type { Fastener, Limit, Part, Sequence, Step, View } from '../model/view.ts';
import { actionText, placesText, referenceText, valueText } from './action-text.ts';
import { STYLE } from './style.ts';

const PHASES = ['teardown', 'inspect', 'clean', 'machine', 'assemble', 'install', 'run-in', 'store'];

/** Sequences in the order of the work: by phase, then as written. */
function inOrder(sequences: readonly Sequence[]): readonly Sequence[] {
  const rank = (sequence: Sequence): number =>
    sequence.phase === undefined ? PHASES.indexOf('assemble') : PHASES.indexOf(sequence.phase);
  return [...sequences].sort((a, b) => rank(a) - rank(b));
}

/** Pound-feet beside newton metres and the other way round, to a tenth. */
function otherTorque(value: Parameters<typeof torqueOf>[0], written: string): string {
  const torque = torqueOf(value);
  if (torque === undefined || written.includes('(')) return '';
  const metric = /N\.m|kgf|N\.cm/.test(written);
  const scale = metric ? 0.737562149277265 : 1;
  const shown = (number: number): string => (number * scale).toFixed(number * scale < 10 ? 1 : 0);
  const text = torque.low === torque.high ? shown(torque.nominal) : `${shown(torque.low)} to ${shown(torque.high)}`;
  return ` (${text} ${metric ? 'lbf.ft' : 'N.m'})`;
}

function stagesText(fastener: Fastener): readonly string[] {
  return fastener.stages.map((stage) => {
    if (stage.kind === 'slacken') return 'slacken again';
    if (stage.kind === 'hand-tight') return 'hand-tight';
    if (stage.kind === 'contact') return 'until it touches';
    const written = valueText(stage.value);
    return stage.kind === 'angle' ? `${written} further` : `${written}${otherTorque(stage.value, written)}`;
  });
}

function OrderDrawing({ fastener }: { fastener: Fastener }) {
  const order = fastener.statements.find((each) => each.kind === 'tightening-order');
  if (order?.kind !== 'tightening-order') return null;
  return (
    <figure class="order">
      <figcaption>Order of {fastener.name}, as the bolts lie, front to the left</figcaption>
      <table>
        <tbody>
          {order.rows.map((row) => (
            <tr>
              {row.map((each) => (
                <td>{each.value}</td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </figure>
  );
}

function Tightening({ fastener }: { fastener: Fastener }) {
  const extra = [
    fastener.thread,
    fastener.fitted === undefined ? undefined : `fitted ${fastener.fitted}`,
    fastener.singleUse ? 'use new ones' : undefined,
    fastener.thread?.includes('left-hand') === true ? 'LEFT-HAND THREAD: tightens anticlockwise' : undefined,
  ];
  return (
    <div class="torque">
      <strong>
        {fastener.count} × {fastener.title ?? fastener.name}
      </strong>
      :{' '}
      {stagesText(fastener).map((stage, i) => (
        <span class="stage">
          {i + 1}. {stage}{' '}
        </span>
      ))}
      <span class="small">{extra.filter((each) => each !== undefined).join(', ')}</span>
      <OrderDrawing fastener={fastener} />
    </div>
  );
}

function orientText(part: Part): readonly string[] {
  return part.statements.flatMap((each) =>
    each.kind !== 'orient'
      ? []
      : each.rules.map((rule) => {
          const where = rule.direction?.word ?? (rule.target === undefined ? undefined : referenceText(rule.target));
          const places = rule.places.length === 0 ? '' : ` (${placesText(rule.places)})`;
          return `${rule.feature.text} ${where === undefined ? `at ${valueText(rule.at)}` : `toward ${where}`}${places}`;
        }),
  );
}

function Blank({ label }: { label: string }) {
  return (
    <span class="blank">
      <span class="small">{label}</span>
      <span class="line" />
    </span>
  );
}

function LimitBlank({ limit }: { limit: Limit }) {
  return (
    <div class="measure">
      {limit.title ?? limit.name}: {limit.within === undefined ? 'no bounds said' : valueText(limit.within)}
      {limit.wearLimit === undefined ? '' : `, wear limit ${valueText(limit.wearLimit)}`} <Blank label="measured" />
    </div>
  );
}

function ActionRow({ statement, view }: { statement: Statement; view: View }) {
  const text = actionText(statement);
  if (text === undefined) return null;
  const things =
    statement.kind === 'action' ? statement.targets.map((target) => view.things.get(target.owner.text)) : [];
  return (
    <li>
      <span class="box" aria-hidden="true" /> {text}
      {statement.kind === 'action' && (statement.word === 'tighten' || statement.word === 'snug')
        ? things.map((thing) =>
            thing?.kind === 'fastener' && statement.word === 'tighten' ? <Tightening fastener={thing} /> : null,
          )
        : null}
      {statement.kind === 'action' && statement.word === 'fit'
        ? things.map((thing) => {
            if (thing?.kind !== 'part') return null;
            const rules = orientText(thing);
            const notes = [
              ...rules,
              ...(thing.singleUse ? ['use a new one'] : []),
              ...(thing.matched ? ['back in its own place'] : []),
              ...(thing.onOrder ? ['ON ORDER'] : []),
            ];
            return notes.length === 0 ? null : (
              <div class="rule">
                {thing.name}: {notes.join('; ')}
              </div>
            );
          })
        : null}
      {things.map((thing) => (thing?.kind === 'limit' ? <LimitBlank limit={thing} /> : null))}
    </li>
  );
}

function StepBlock({ step, number, view }: { step: Step; number: string; view: View }) {
  const texts = (word: string): readonly string[] =>
    step.statements.flatMap((each) => (each.kind === 'text' && each.word === word ? [each.text.value] : []));
  const tools = texts('tool');
  return (
    <section class="step">
      <h3>
        {number} {step.title ?? step.name}
        {step.each === undefined ? '' : `, for each ${referenceText(step.each)}`}
        {step.trial ? ' (trial: comes off again)' : ''}
      </h3>
      {texts('caution').map((text) => (
        <p class="caution">
          <strong>Caution.</strong> {text}
        </p>
      ))}
      {tools.length === 0 ? null : <p class="small">Tools: {tools.join(', ')}</p>}
      <ul class="actions">
        {step.statements.map((statement) => (
          <ActionRow statement={statement} view={view} />
        ))}
      </ul>
      {texts('note').map((text) => (
        <p class="note">{text}</p>
      ))}
      {texts('hold-point').map((text) => (
        <p class="hold">
          <strong>Stop here.</strong> {text} <Blank label="looked at by" />
        </p>
      ))}
      <p class="sign">
        <Blank label="done by" /> <Blank label="date" />
      </p>
    </section>
  );
}

function LayOut({ view }: { view: View }) {
  const steps = view.sequences.flatMap((sequence) => sequence.steps);
  const tools = new Set<string>();
  for (const step of steps)
    for (const each of step.statements) {
      if (each.kind === 'text' && each.word === 'tool') tools.add(each.text.value);
      if (each.kind === 'action' && each.withText !== undefined) tools.add(each.withText.value);
    }
  const fresh = [...view.parts, ...view.fasteners].filter((thing) => thing.singleUse);
  const missing = [...view.parts, ...view.fasteners].filter((thing) => thing.onOrder);
  const amount = (statements: readonly Statement[]): string =>
    statements
      .flatMap((each) => (each.kind === 'value' && each.word === 'amount' ? [`, ${valueText(each.value)}`] : []))
      .join('');
  const list = (title: string, items: readonly string[]) =>
    items.length === 0 ? null : (
      <div>
        <h3>{title}</h3>
        <ul class="actions">
          {items.map((item) => (
            <li>
              <span class="box" aria-hidden="true" /> {item}
            </li>
          ))}
        </ul>
      </div>
    );
  return (
    <section>
      <h2>To lay out</h2>
      <div class="columns">
        {list('Tools', [...tools].sort())}
        {list(
          'Supplies',
          view.supplies.map((supply) => `${supply.title ?? supply.name}${amount(supply.statements)}`),
        )}
        {list(
          'New, never used before',
          fresh.map((thing) => `${thing.title ?? thing.name} × ${thing.count}`),
        )}
        {list(
          'On order',
          missing.map((thing) => thing.title ?? thing.name),
        )}
      </div>
    </section>
  );
}

function LimitTable({ view }: { view: View }) {
  if (view.limits.length === 0) return null;
  return (
    <section>
      <h2>Table of limits</h2>
      <table class="wide">
        <thead>
          <tr>
            <th scope="col">What</th>
            <th scope="col">Within</th>
            <th scope="col">Wear limit</th>
            <th scope="col">Worked out from the parts</th>
            <th scope="col">Measured</th>
          </tr>
        </thead>
        <tbody>
          {view.limits.map((limit) => {
            const results = workOutLimit(limit, view);
            const worked = results.map((result) => {
              const unit = shownUnit(result);
              const places = result.bounds?.places ?? 3;
              const { low, high } = result.worked.stack.interval;
              return `${result.place === undefined ? '' : `${result.place.index}: `}${shownNumber(low, unit, places)} to ${shownNumber(high, unit, places)} ${unitText(unit)}`;
            });
            return (
              <tr>
                <th scope="row">{limit.title ?? limit.name}</th>
                <td>{valueText(limit.within)}</td>
                <td>{valueText(limit.wearLimit)}</td>
                <td>{worked.join('; ')}</td>
                <td class="write" />
              </tr>
            );
          })}
        </tbody>
      </table>
    </section>
  );
}

function FastenerTable({ view }: { view: View }) {
  if (view.fasteners.length === 0) return null;
  return (
    <section>
      <h2>Fasteners</h2>
      <table class="wide">
        <thead>
          <tr>
            <th scope="col">Which</th>
            <th scope="col">How many</th>
            <th scope="col">Thread, class</th>
            <th scope="col">Fitted</th>
            <th scope="col">Stages</th>
            <th scope="col">Clamp load at the last torque</th>
          </tr>
        </thead>
        <tbody>
          {view.fasteners.map((fastener) => {
            const stages = workOutFastener(fastener).stages;
            const last = stages.filter((stage) => stage.preload !== undefined).at(-1);
            const load =
              last?.preload === undefined
                ? ''
                : `${(last.preload.low / 1000).toFixed(0)} to ${(last.preload.high / 1000).toFixed(0)} kN${last.share === undefined ? '' : `, about ${Math.round(last.share.nominal * 100)} % of proof`}`;
            return (
              <tr>
                <th scope="row">{fastener.title ?? fastener.name}</th>
                <td>{fastener.count}</td>
                <td>{[fastener.thread, fastener.strengthClass].filter((each) => each !== undefined).join(', ')}</td>
                <td>{fastener.fitted ?? ''}</td>
                <td>{stagesText(fastener).join(', then ')}</td>
                <td>{load}</td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </section>
  );
}

/** The page of one variant. `errors` is how many contradictions the checker still finds. */
export function sheetPage(view: BuiltView, errors: number): string {
  const spec = view.specs[0]?.declaration;
  const said = statementsFor(spec?.body?.statements, view.variant);
  const revision = said.find((each) => each.word === 'revision');
  const sources = said.flatMap((each) =>
    each.kind === 'source' ? [`${each.name.text}: ${each.title?.value ?? ''}`] : [],
  );
  const title = spec?.title?.value ?? spec?.name?.text ?? 'Engine build';
  const sequences = inOrder(view.sequences);
  const page = (
    <html lang="en">
      <head>
        <meta charset="utf-8" />
        <meta
          http-equiv="Content-Security-Policy"
          content="default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'"
        />
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <title>{`Bench sheet: ${title}`}</title>
        <style dangerouslySetInnerHTML={{ __html: STYLE }} />
      </head>
      <body>
        <header>
          <h1>{title}</h1>
          <p>
            {[
              view.variant === undefined ? undefined : `For ${view.variant}`,
              revision?.kind === 'number' ? `revision ${revision.number.text}` : undefined,
              view.draft ? 'DRAFT' : undefined,
            ]
              .filter((each) => each !== undefined)
              .join(', ')}
          </p>
          <p class="sign">
            <Blank label="engine number" /> <Blank label="job" /> <Blank label="begun on" />
          </p>
        </header>
        {errors > 0 ? (
          <p class="caution">
            <strong>
              This spec has {errors} {errors === 1 ? 'contradiction' : 'contradictions'}.
            </strong>{' '}
            Have it checked and put right before work begins.
          </p>
        ) : null}
        <p class="first">
          The maker's manual, local rules and licensed practice come first. A figure that was worked out here is a
          check, not an instruction. Wear eye protection; support what is heavy; never run an engine indoors without the
          exhaust led outside.
        </p>
        <LayOut view={view} />
        {sequences.map((sequence, i) => (
          <section>
            <h2>
              {i + 1}. {sequence.title ?? sequence.name}
              {sequence.phase === undefined ? '' : <span class="small"> ({sequence.phase})</span>}
            </h2>
            {sequence.startsWith.length === 0 ? null : (
              <p class="small">
                On the stand before the first step: {sequence.startsWith.map((name) => name.text).join(', ')}
              </p>
            )}
            {sequence.steps.map((step, j) => (
              <StepBlock step={step} number={`${i + 1}.${j + 1}`} view={view} />
            ))}
          </section>
        ))}
        <LimitTable view={view} />
        <FastenerTable view={view} />
        {sources.length === 0 ? null : (
          <section>
            <h2>Sources</h2>
            <ul>
              {sources.map((source) => (
                <li>{source}</li>
              ))}
            </ul>
          </section>
        )}
        <footer>
          <p class="sign">
            <Blank label="finished by" /> <Blank label="signature" /> <Blank label="date" />
          </p>
        </footer>
      </body>
    </html>
  );
  return `<!DOCTYPE html>\n${render(page)}\n`;
}
