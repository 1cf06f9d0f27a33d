// One step of the work: cautions first, then each action with its box, what belongs to it, and where it is signed.
import type { ComponentChildren } from 'preact';
import type { Statement } from '../../grammar/tree.ts';
import { workOutDrive } from '../model/drive-sums.ts';
import { heldBackWith } from '../model/job-lists.ts';
import type { Drive, Limit, Part, Step, Thing, View } from '../model/view.ts';
import { type Picture, PictureOf } from '../pictures/drawing.tsx';
import { placesText, positionText, valueText } from './action-text.ts';
import { comesTo, limitText } from './bounds.ts';
import type { JobScope } from './clearances.ts';
import { sourceText } from './figures.ts';
import { Blank, Boxes, Field, From, placeLabels, spaced } from './pieces.tsx';
import { named, plainAction, thingWords } from './plain-words.ts';
import type { TightenedBefore } from './tightened-before.ts';
import { Stages, Tightening } from './tightening.tsx';
import type { Tightened } from './tightening-said.ts';
import { stepCautions } from './usual-cautions.ts';

/** How a part goes in, as the bench says it. */
const FITTED: ReadonlyMap<string, string> = new Map([
  ['dry', 'clean and dry'],
  ['sealant', 'with sealant'],
  ['threadlocker', 'with threadlocker'],
]);

/** Which way round a part goes, and what else to mind when it goes on. */
function fittingNotes(part: Part, view: View): readonly string[] {
  const rules = part.statements.flatMap((each) =>
    each.kind !== 'orient'
      ? []
      : each.rules.map((rule) => {
          const toward =
            rule.direction?.word ?? (rule.target === undefined ? undefined : thingWords(rule.target, view, true));
          const places = rule.places.length === 0 ? '' : ` (${placesText(rule.places)})`;
          return `${spaced(rule.feature.text).toLowerCase()} ${toward === undefined ? `at ${valueText(rule.at)}${rule.from === undefined ? '' : ` from ${thingWords(rule.from, view, true)}`}` : `toward ${toward}`}${places}`;
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
      : [...part.marks.values()].flatMap((mark) => {
          const where =
            mark.against !== undefined
              ? ` against ${thingWords(mark.against, view, true)}`
              : mark.at !== undefined
                ? ` at ${valueText(mark.at)}`
                : undefined;
          return where === undefined ? [] : [`${spaced(mark.name).toLowerCase()} of the ${named(name, view)}${where}`];
        });
  });
  const links = drive.markedLinks.map(
    (each) =>
      `link ${each.links.join(' and ')} ${each.eitherSide ? 'either side of' : 'at'} ${each.mark === undefined ? '' : `the ${each.mark} of `}the ${named(each.part, view)}`,
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

/** The places that a limit is written for. */
function writtenPlaces(limit: Limit, labels: readonly string[], view: View): readonly string[] {
  const own = placeLabels(limit.each, view);
  return own.length > 0 ? own : labels.length > 0 ? labels : ['measured'];
}

/** Boxes for the measured values of a limit. */
function Fields({ limit, labels, view }: { limit: Limit; labels: readonly string[]; view: View }) {
  return (
    <p class="fields">
      {writtenPlaces(limit, labels, view).flatMap((place) =>
        Array.from({ length: Math.min(limit.readings, MOST_READINGS) }, (_, i) => (
          <Field label={limit.readings === 1 ? place : `${place}, reading ${i + 1}`} key={`${place} ${i}`} />
        )),
      )}
    </p>
  );
}

/** The bounds of a limit, in the column of figures. */
function Bounds({ limit, view }: { limit: Limit; view: View }) {
  const source = sourceText(limit.placed.declaration.per);
  const wornSum = comesTo(limit.wearLimit, limit, view);
  return (
    <div>
      <p class="figure">{limitText(limit, view)}</p>
      <p class="with">
        {limit.wearLimit === undefined ? null : (
          <>
            wear limit <strong>{valueText(limit.wearLimit)}</strong>
            {wornSum === undefined ? '' : ` ${wornSum}`}{' '}
          </>
        )}
        {source === '' ? null : <span class="label">({source})</span>}
      </p>
      {limit.within === undefined ? null : <From placed={limit.placed} span={limit.within} changed />}
    </div>
  );
}

function Otherwise({ limit }: { limit: Limit }) {
  return (
    <>
      {limit.otherwise.map((text, i) => (
        <p class="mind" key={text.start}>
          {i === 0 ? 'If outside' : 'If still outside'}: {text.value}
        </p>
      ))}
    </>
  );
}

interface LineProps {
  readonly statement: Statement;
  readonly labels: readonly string[];
  readonly view: View;
  readonly tight: TightenedBefore;
  /** The step is done for each of several. */
  readonly isEach: boolean;
}

function Details({ statement, thing, labels, view, tight }: Omit<LineProps, 'isEach'> & { thing: Thing | undefined }) {
  if (thing?.kind === 'limit')
    return (
      <>
        {statement.kind === 'action' && statement.word === 'measure' ? (
          <Fields limit={thing} labels={labels} view={view} />
        ) : null}
        <Otherwise limit={thing} />
      </>
    );
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
        tightened={tightenedAt(statement, thing.name, tight)}
        labels={labels}
        view={view}
      />
    );
  if (thing?.kind !== 'part') return null;
  const notes =
    statement.word === 'fit'
      ? fittingNotes(thing, view)
      : statement.word === 'hold-back' && statement.withText === undefined
        ? heldBackWith(view, thing.name).map((text) => `with ${text}`)
        : statement.word === 'secure' && thing.securedBy !== undefined
          ? [`by ${thing.securedBy.replace('-', ' ')}`]
          : [];
  return notes.length === 0 ? null : (
    <p class="mind">
      {statement.targets.length > 1 ? `${spaced(named(thing.name, view))}: ` : ''}
      {notes.join('; ')}
    </p>
  );
}

function tightenedAt(statement: Statement, name: string, tight: TightenedBefore): Tightened {
  const isAgain = statement.kind === 'action' && statement.again === true;
  return tight.get(statement)?.get(name) ?? { before: 0, isAgain };
}

function namesIn(statement: Statement): readonly string[] {
  if (statement.kind === 'action') return [...new Set(statement.targets.map((target) => target.owner.text))];
  return statement.kind === 'confirm' && statement.target.feature === undefined ? [statement.target.owner.text] : [];
}

/** What is large beside an action: stages, bounds, how long it takes and room for the times. */
function figuresOf({ statement, labels, view, tight }: Omit<LineProps, 'isEach'>): readonly ComponentChildren[] {
  if (statement.kind === 'wait' || statement.kind === 'run' || statement.kind === 'crank')
    return [
      <p class="fields" key="times">
        <Field label="from" />
        <Field label="until" />
      </p>,
    ];
  if (statement.kind !== 'action') return [];
  const supply = statement.with === undefined ? undefined : view.things.get(statement.with.owner.text);
  const cure =
    supply?.kind === 'supply' && supply.cure !== undefined
      ? [
          <p class="fields" key="cure">
            <span class="figure">sets in {valueText(supply.cure)}</span> <Field label="put on at" />
          </p>,
        ]
      : [];
  return [
    ...namesIn(statement).flatMap((name) => {
      const thing = view.things.get(name);
      if (thing?.kind === 'limit') return [<Bounds limit={thing} view={view} key={name} />];
      if (thing?.kind !== 'fastener' || statement.word !== 'tighten') return [];
      return [
        <Stages
          fastener={thing}
          stage={statement.stage?.value}
          tightened={tightenedAt(statement, name, tight)}
          labels={labels}
          key={name}
        />,
      ];
    }),
    ...cure,
  ];
}

/** The places of an action on one part with several: each has its box, unless the step is done place by place. */
function placesOfAction(statement: Statement, view: View): readonly string[] {
  if (statement.kind !== 'action' || statement.word === 'tighten' || statement.targets.length > 1) return [];
  const [target] = statement.targets;
  return view.things.get(target?.owner.text ?? '')?.kind === 'part' ? placeLabels(target, view) : [];
}

/** More boxes than these stand in a row below the words. */
const MOST_BESIDE = 4;

/** A line of a step: an action with its box, a note, or a point where the work stops. */
function Line({ statement, labels, view, tight, isEach }: LineProps) {
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
  const text = plainAction(statement, view, isEach);
  if (text === undefined) return null;
  const own = isEach ? labels : placesOfAction(statement, view);
  const figures = figuresOf({ statement, labels, view, tight });
  const isTightened =
    statement.kind === 'action' &&
    statement.word === 'tighten' &&
    namesIn(statement).some((name) => view.things.get(name)?.kind === 'fastener');
  const details = namesIn(statement).map((name) => (
    <Details statement={statement} thing={view.things.get(name)} labels={labels} view={view} tight={tight} key={name} />
  ));
  // Stages have boxes of their own.
  const boxes = isTightened ? null : <Boxes labels={own} />;
  const isBelow = own.length > MOST_BESIDE;
  return (
    <li class={figures.length > 0 || isBelow ? 'action wide' : own.length > 1 ? 'action row' : 'action'}>
      {isBelow ? null : boxes}
      <div class="what">
        <span class="do">{text}</span>
        {isBelow ? <p class="below">{boxes}</p> : null}
        {details}
      </div>
      {figures.length === 0 ? null : <div class="figures">{figures}</div>}
    </li>
  );
}

/** A clearance that follows from sizes, to be written where its last part goes on. */
function Clearance({ limit, view }: { limit: Limit; view: View }) {
  return (
    <li class="action wide">
      <div class="what">
        <span class="do">If measured, {named(limit.name, view)}</span>
        <Fields limit={limit} labels={[]} view={view} />
        <Otherwise limit={limit} />
      </div>
      <div class="figures">
        <Bounds limit={limit} view={view} />
      </div>
    </li>
  );
}

/** A step of more lines than these may go on over the end of a page, between two lines. */
const MOST_WHOLE = 6;

export interface StepBlockProps {
  readonly step: Step;
  readonly number: string;
  readonly view: View;
  readonly tight: TightenedBefore;
  readonly scope: JobScope;
  readonly pictures: readonly Picture[];
}

/** One step with its number. */
export function StepBlock({ step, number, view, tight, scope, pictures }: StepBlockProps) {
  const labels = placeLabels(step.each, view);
  const tools = step.statements.flatMap((each) =>
    each.kind === 'text' && each.word === 'tool' ? [each.text.value] : [],
  );
  const cautions = stepCautions(step, view);
  const usual = cautions.filter((each) => each.isUsual).map((each) => each.text);
  return (
    <section class={step.statements.length > MOST_WHOLE ? 'step long' : 'step'}>
      <h4>
        <span class="number">{number}</span> {step.title ?? spaced(step.name)}
        {step.each === undefined
          ? ''
          : `, for each ${step.each.feature === undefined ? '' : `${step.each.feature.text.replace(/[-_]/g, ' ')} of the `}${named(step.each.owner.text, view)}`}
        {step.trial ? ' (for trial: comes off again)' : ''}
        <From placed={step.placed} span={step.declaration.body} changed />
        <span class="sign">
          <Blank label="done by" />
          <Blank label="date" />
        </span>
      </h4>
      {cautions
        .filter((each) => !each.isUsual)
        .map(({ text }) => (
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
          <Line
            statement={statement}
            labels={labels}
            view={view}
            tight={tight}
            isEach={step.each !== undefined}
            key={statement.start}
          />
        ))}
        {(scope.clearances.get(step) ?? []).map((limit) => (
          <Clearance limit={limit} view={view} key={limit.name} />
        ))}
      </ul>
      {pictures.length === 0 ? null : (
        <div class="pictures">
          {pictures.map((picture) => (
            <figure class="picture" key={picture.title}>
              <PictureOf picture={picture} />
            </figure>
          ))}
        </div>
      )}
    </section>
  );
}
