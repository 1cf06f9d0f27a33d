// One step of the work: cautions first, then each action with its box, what belongs to it, and where it is signed.
import type { Statement } from '../../grammar/tree.ts';
import { workOutDrive } from '../model/drive-sums.ts';
import { heldBackWith } from '../model/job-lists.ts';
import type { Drive, Limit, Part, Step, Thing, View } from '../model/view.ts';
import { actionText, boundsText, placesText, positionText, referenceText, valueText } from './action-text.ts';
import { sourceText } from './figures.ts';
import { Blank, Boxes, From, placeLabels, spaced } from './pieces.tsx';
import { Tightening } from './tightening.tsx';
import { usualCautions } from './usual-cautions.ts';

/** How a part goes in, as the bench says it. */
const FITTED: ReadonlyMap<string, string> = new Map([
  ['dry', 'clean and dry'],
  ['sealant', 'with sealant'],
  ['threadlocker', 'with threadlocker'],
]);

/** Which way round a part goes, and what else to mind when it goes on. */
function fittingNotes(part: Part): readonly string[] {
  const rules = part.statements.flatMap((each) =>
    each.kind !== 'orient'
      ? []
      : each.rules.map((rule) => {
          const toward = rule.direction?.word ?? (rule.target === undefined ? undefined : referenceText(rule.target));
          const places = rule.places.length === 0 ? '' : ` (${placesText(rule.places)})`;
          return `${spaced(rule.feature.text).toLowerCase()} ${toward === undefined ? `at ${valueText(rule.at)}${rule.from === undefined ? '' : ` from ${referenceText(rule.from)}`}` : `toward ${toward}`}${places}`;
        }),
  );
  return [
    ...rules,
    ...(part.fitted === undefined ? [] : [FITTED.get(part.fitted) ?? part.fitted]),
    ...(part.timed === undefined ? [] : [`with the crankshaft at ${positionText(part.timed)}`]),
    ...(part.matched ? ['back in its own place'] : []),
    ...(part.singleUse ? ['a new one'] : []),
    ...(part.onOrder ? ['ON ORDER'] : []),
  ];
}

/**
 * Where the marks of a drive stand when they agree. Its marked links only where the chain is put on by them: after a turn they have
 * moved on, and the marks on the wheels alone count.
 */
function DriveMarks({ drive, byLinks, view }: { drive: Drive; byLinks: boolean; view: View }) {
  const wheels = new Set([
    ...drive.wraps.flatMap((wrap) => wrap.wheels.map((wheel) => wheel.part)),
    ...drive.meshes.flatMap((mesh) => [mesh.first, mesh.second]),
  ]);
  const marks = [...wheels].flatMap((name) => {
    const part = view.things.get(name);
    return part?.kind !== 'part'
      ? []
      : [...part.marks.values()].map(
          (mark) =>
            `${name} ${mark.name} ${mark.against === undefined ? `at ${valueText(mark.at)}` : `against ${referenceText(mark.against)}`}`,
        );
  });
  const links = drive.markedLinks.map(
    (each) =>
      `link ${each.links.join(' and ')} ${each.eitherSide ? 'either side of' : 'at'} ${each.part}${each.mark === undefined ? '' : ` ${each.mark}`}`,
  );
  const agree = drive.marksAgree;
  const when =
    agree === undefined
      ? ''
      : `With cylinder ${agree.cylinder} at top dead centre${agree.stroke === undefined ? '' : ` on ${agree.stroke}`}: `;
  const back = workOutDrive(drive, view).linksReturn;
  const said = byLinks ? [...marks, ...links] : marks;
  return (
    <>
      {said.length === 0 ? null : <p class="mind">{`${when}${said.join('; ')}.`}</p>}
      {byLinks || links.length === 0 ? null : (
        <p class="mind">
          The marked links have moved on{back === undefined ? '' : ` and are back only after ${back} turns`}: the marks
          on the wheels count.
        </p>
      )}
    </>
  );
}

/** More readings at one place than this have no room on a sheet. */
const MOST_READINGS = 12;

interface LimitBlanksProps {
  readonly limit: Limit;
  /** The places that the step is done for. */
  readonly labels: readonly string[];
  readonly view: View;
  /** Whether the value is written down here, or is only to be come to. */
  readonly write: boolean;
}

/** Blanks for the measured values, beside their limits. */
function LimitBlanks({ limit, labels, view, write }: LimitBlanksProps) {
  const own = placeLabels(limit.each, view);
  const places = own.length > 0 ? own : labels.length > 0 ? labels : ['measured'];
  const source = sourceText(limit.placed.declaration.per);
  return (
    <div class="measure">
      <p>
        {limit.title ?? spaced(limit.name)}:{' '}
        <strong>{limit.within === undefined ? 'no bounds are said' : boundsText(limit)}</strong>
        {limit.wearLimit === undefined ? '' : `, wear limit ${valueText(limit.wearLimit)}`}
        {source === '' ? null : <span class="label"> ({source})</span>}
        {limit.within === undefined ? null : <From placed={limit.placed} span={limit.within} changed />}
      </p>
      {write ? (
        <p>
          {places.flatMap((place) =>
            Array.from({ length: Math.min(limit.readings, MOST_READINGS) }, (_, i) => (
              <Blank label={limit.readings === 1 ? place : `${place}, reading ${i + 1}`} key={`${place} ${i}`} />
            )),
          )}
        </p>
      ) : null}
      {limit.otherwise.map((text, i) => (
        <p class="mind" key={text.start}>
          {i === 0 ? 'If outside' : 'If still outside'}: {text.value}
        </p>
      ))}
    </div>
  );
}

function Details({
  statement,
  thing,
  labels,
  view,
}: {
  statement: Statement;
  thing: Thing | undefined;
  labels: readonly string[];
  view: View;
}) {
  if (thing?.kind === 'limit')
    return <LimitBlanks limit={thing} labels={labels} view={view} write={statement.word !== 'adjust'} />;
  if (thing?.kind === 'drive') {
    const byLinks = statement.kind !== 'confirm' || statement.by?.word === 'links';
    return <DriveMarks drive={thing} byLinks={byLinks} view={view} />;
  }
  if (statement.kind !== 'action') return null;
  if (thing?.kind === 'fastener' && statement.word === 'tighten')
    return (
      <Tightening
        fastener={thing}
        stage={statement.stage?.value}
        again={statement.again === true}
        labels={labels}
        view={view}
      />
    );
  if (thing?.kind !== 'part') return null;
  const notes =
    statement.word === 'fit'
      ? fittingNotes(thing)
      : statement.word === 'hold-back' && statement.withText === undefined
        ? heldBackWith(view, thing.name).map((text) => `with ${text}`)
        : statement.word === 'secure' && thing.securedBy !== undefined
          ? [`by ${thing.securedBy.replace('-', ' ')}`]
          : [];
  return notes.length === 0 ? null : (
    <p class="mind">
      {statement.kind === 'action' && statement.targets.length > 1 ? `${thing.name}: ` : ''}
      {notes.join('; ')}
    </p>
  );
}

function namesIn(statement: Statement): readonly string[] {
  if (statement.kind === 'action') return statement.targets.map((target) => target.owner.text);
  return statement.kind === 'confirm' && statement.target.feature === undefined ? [statement.target.owner.text] : [];
}

/** A line of a step: an action with its box, a note, or a point where the work stops. */
function Line({ statement, labels, view }: { statement: Statement; labels: readonly string[]; view: View }) {
  if (statement.kind === 'text' && statement.word === 'note') return <li class="note">{statement.text.value}</li>;
  if (statement.kind === 'see')
    return (
      <li class="note">{`See ${statement.source.text}${statement.place === undefined ? '' : ` ${statement.place.value}`}.`}</li>
    );
  if (statement.kind === 'text' && statement.word === 'hold-point')
    return (
      <li class="hold">
        <strong>Stop here until someone has looked.</strong> {statement.text.value} <Blank label="looked at by" wide />
      </li>
    );
  const text = actionText(statement);
  if (text === undefined) return null;
  return (
    <li class="action">
      <Boxes labels={labels} />
      <div>
        {text}
        {namesIn(statement).map((name) => (
          <Details statement={statement} thing={view.things.get(name)} labels={labels} view={view} key={name} />
        ))}
      </div>
    </li>
  );
}

/** The cautions of a step: its own, and those of the parts that it works on. */
function ownCautions(step: Step, view: View): readonly string[] {
  const said = (statements: readonly Statement[]): readonly string[] =>
    statements.flatMap((each) => (each.kind === 'text' && each.word === 'caution' ? [each.text.value] : []));
  const parts = step.statements.flatMap((each) => {
    if (each.kind !== 'action' || !['fit', 'remove', 'hold-back'].includes(each.word)) return [];
    return each.targets.flatMap((target) => said(view.things.get(target.owner.text)?.statements ?? []));
  });
  return [...new Set([...said(step.statements), ...parts])];
}

/** One step with its number. */
export function StepBlock({ step, number, view }: { step: Step; number: string; view: View }) {
  const labels = placeLabels(step.each, view);
  const tools = step.statements.flatMap((each) =>
    each.kind === 'text' && each.word === 'tool' ? [each.text.value] : [],
  );
  const usual = usualCautions(step, view);
  return (
    <section class="step">
      <h4>
        <span class="number">{number}</span> {step.title ?? spaced(step.name)}
        {step.each === undefined ? '' : `, for each ${referenceText(step.each)}`}
        {step.trial ? ' (for trial: comes off again)' : ''}
        <From placed={step.placed} span={step.declaration.body} changed />
      </h4>
      {ownCautions(step, view).map((text) => (
        <p class="caution" key={text}>
          <strong>Caution.</strong> {text}
        </p>
      ))}
      {usual.length === 0 ? null : (
        <p class="caution usual">
          <strong>Usual caution.</strong> {usual.join(' ')}
        </p>
      )}
      {tools.length === 0 ? null : <p class="tools">Tools: {tools.join('; ')}</p>}
      <ul class="lines">
        {step.statements.map((statement) => (
          <Line statement={statement} labels={labels} view={view} key={statement.start} />
        ))}
      </ul>
      <p class="sign">
        <Blank label="done by" />
        <Blank label="date" />
      </p>
    </section>
  );
}
