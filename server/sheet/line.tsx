// A line of a step: an action with its box and what belongs to it, a note, or a point where the work stops.

import type { ComponentChildren } from 'preact';
import { useContext } from 'preact/hooks';
import { spoken } from '../../grammar/spoken.ts';
import type { Statement } from '../../grammar/tree.ts';
import type { Thing, View } from '../model/view.ts';
import { valueText } from './action-text.ts';
import { DriveMarks } from './fitting-notes.tsx';
import { Bounds, Fields, Otherwise } from './limit-lines.tsx';
import { degreedOf, partNotes } from './part-notes.ts';
import { Blank, Boxes, Field, Filled, InStep, placeLabels, spaced } from './pieces.tsx';
import { named, plainAction, seeText } from './plain-words.ts';
import type { TightenedBefore } from './tightened-before.ts';
import { Stages, Tightening } from './tightening.tsx';
import type { Tightened } from './tightening-said.ts';

export interface LineProps {
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
    const events = degreedOf(statement, thing, view);
    return (
      <>
        <DriveMarks drive={thing} byLinks={byLinks} view={view} />
        {events.length === 0 ? null : <p class="mind">{events.join('; ')}</p>}
      </>
    );
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
  const notes = partNotes(statement, thing, view);
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
        <Field label={spoken`from`} />
        <Field label={spoken`until`} />
      </p>,
    ];
  if (statement.kind !== 'action') return [];
  const supply = statement.with === undefined ? undefined : view.things.get(statement.with.owner.text);
  const cure =
    supply?.kind === 'supply' && supply.cure !== undefined
      ? [
          <p class="fields cure" key="cure">
            <Field label={spoken`put on at`} /> <span class="figure">{spoken`sets in ${valueText(supply.cure)}`}</span>
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

/** More boxes than these take the whole width. */
const MOST_BESIDE = 4;

/** A point where the work stops, with who looked. */
function Hold({ text }: { text: string }) {
  const filled = useContext(Filled);
  const looked = filled?.looked(useContext(InStep)) ?? [];
  return (
    <li class="hold">
      <strong>{spoken`Stop here until someone has looked.`}</strong> {text}{' '}
      <Blank label={spoken`looked at by`} wide value={looked.join('; ')} />
    </li>
  );
}

/** A line of a step: an action with its box, a note, or a point where the work stops. */
export function Line({ statement, labels, view, tight, isEach }: LineProps) {
  if (statement.kind === 'text' && statement.word === 'note') return <li class="note">{statement.text.value}</li>;
  if (statement.kind === 'see') return <li class="note">{seeText(statement)}</li>;
  if (statement.kind === 'text' && statement.word === 'hold-point') return <Hold text={statement.text.value} />;
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
  const isLong = own.length > MOST_BESIDE;
  const size = figures.length > 0 ? ' wide' : isLong ? ' long' : own.length > 1 ? ' row' : '';
  return (
    <li class={`action${size}`}>
      {boxes}
      <div class="what">
        <span class="do">{text}</span>
        {details}
      </div>
      {figures.length === 0 ? null : <div class="figures">{figures}</div>}
    </li>
  );
}
