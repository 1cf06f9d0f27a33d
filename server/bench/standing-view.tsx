// How the engine stands at a moment of a job, as elements for a view beside the spec: plain words first, then the timing face. The view's
// own frame, its buttons and its policy are the editor's; text of a spec is text in here, and never markup.

import { createContext } from 'preact';
import { useContext } from 'preact/hooks';
import { render } from 'preact-render-to-string';
import { nothingMoved } from '../../grammar/characters.ts';
import { speaking } from '../../grammar/spoken.ts';
import { type Argument, IN_ENGLISH, type Rows, type Told, textOf, told } from '../../grammar/told.ts';
import type { View } from '../model/view.ts';
import { drivesOfStep, pictureOf } from '../pictures/catalog.ts';
import { PictureOf } from '../pictures/drawing.tsx';
import { calledIn } from '../pictures/words.ts';
import type { StandingWord } from '../rehearsal/actions/table.ts';
import type { Moment, StandNow } from '../rehearsal/stand-now.ts';

/** What is shown beside the engine itself. */
export interface Shown {
  /** Which action of the job it is, from 1, and how many there are. */
  readonly number: number;
  readonly of: number;
  /** The action as it is written. */
  readonly written: string | undefined;
}

/** The language that is asked for. */
const Words = createContext<Rows>(IN_ENGLISH);

/** Something of ours, in that language. */
function Said({ said }: { said: Argument }) {
  return <>{textOf(said, useContext(Words))}</>;
}

function Row({ label, entries: said }: { label: Argument; entries: readonly Argument[] }) {
  const rows = useContext(Words);
  const entries = said.map((each) => textOf(each, rows));
  if (entries.length === 0) return null;
  return (
    <>
      <dt>
        <Said said={label} />
      </dt>
      <dd>
        <ul>
          {entries.map((each) => (
            <li key={each}>{each}</li>
          ))}
        </ul>
      </dd>
    </>
  );
}

/** What stands so until it is taken back, by the word of the action, in the order shown. */
const STANDING: Readonly<Record<StandingWord, Told>> = {
  'hold-back': told`Held back`,
  pin: told`Pinned`,
  plug: told`Plugged`,
  mask: told`Masked`,
  drain: told`Drained`,
  disconnect: told`Disconnected`,
};

/** Names with what they are called, once where they are the same. An opening is told as it is written: `block.oil-port`. */
function called(view: View, names: readonly string[]): readonly string[] {
  return names.map((name) => (name.includes('.') ? name : calledIn(view, name)));
}

/** With a capital, as a heading begins. */
function begun(words: string): string {
  return words.slice(0, 1).toUpperCase() + words.slice(1);
}

function Face({ view, moment, now }: { view: View; moment: Moment; now: StandNow }) {
  // The drive that the step is about, else any that is on.
  const drives = [...drivesOfStep(moment.step, view), ...view.drives.map((each) => each.name)];
  for (const of of new Set(drives)) {
    const stands = { before: now.stands, after: now.stands };
    const picture = pictureOf('timing-face', { view, of, stands });
    if (picture !== undefined) return <PictureOf picture={picture} />;
  }
  return null;
}

function Now({ view, moment, now, shown }: { view: View; moment: Moment; now: StandNow; shown: Shown }) {
  const { step } = moment;
  const nothing = now.changes.length === 0 && moment.statement !== undefined;
  return (
    <>
      <h1>{step.title ?? begun(calledIn(view, step.name))}</h1>
      <p class="at">
        {moment.statement === undefined ? <Said said={told`As the step begins`} /> : <code>{shown.written}</code>}
        <span>
          <Said said={told`${shown.number} of ${shown.of}${told.nothing}`} />
        </span>
      </p>
      <dl>
        <Row label={told`Just now`} entries={nothing ? [told`nothing is changed`] : now.changes} />
        {Object.entries(STANDING).map(([word, label]) => (
          <Row key={word} label={label} entries={called(view, now.standing.get(word) ?? [])} />
        ))}
        <Row
          label={told`In and not tight`}
          entries={now.notTight.map(({ name, how }) => told`${calledIn(view, name)}: ${how}`)}
        />
        <Row
          label={told`Still to prove`}
          entries={[
            ...now.unproved.map((name) => told`the timing of ${calledIn(view, name)}`),
            ...now.unsettled.map((name) => told`${calledIn(view, name)}: changed since it was set`),
          ]}
        />
        <Row label={told`Crankshaft and marks`} entries={now.turning} />
        <Row label={told`Covered`} entries={now.covered} />
      </dl>
      <Face view={view} moment={moment} now={now} />
    </>
  );
}

/** The inside of the view at a moment. */
export function standingView(view: View, moment: Moment, now: StandNow, shown: Shown, rows: Rows = IN_ENGLISH): string {
  return speaking(rows, () =>
    nothingMoved(
      render(
        <Words.Provider value={rows}>
          <Now view={view} moment={moment} now={now} shown={shown} />
        </Words.Provider>,
      ),
    ),
  );
}
