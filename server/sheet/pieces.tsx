// Small pieces of the bench sheet: boxes to tick, blanks to write in, a name with its title. What stands beside them is decided elsewhere.

import { createContext } from 'preact';
import { useContext } from 'preact/hooks';
import { speak } from '../../grammar/spoken.ts';
import type { Reference, Span } from '../../grammar/tree.ts';
import type { Tell } from '../model/derived-origin.ts';
import { placesOf } from '../model/feature-places.ts';
import { takesIn } from '../model/measure.ts';
import type { Placed } from '../model/placed.ts';
import type { View } from '../model/view.ts';

/** More boxes than these in a row are no help: one stands for all. */
const MOST_BOXES = 24;

/** The places that a step or a limit is done `each` of, as they are called at the bench; empty for one that is done once, or at more than `most`. */
export function placeLabels(each: Reference | undefined, view: View, most = MOST_BOXES): readonly string[] {
  const all = placesOf(each, view);
  if (each === undefined || all === undefined) return [];
  const places =
    each.places.length === 0 ? all : all.filter((place) => each.places.some((written) => takesIn(written, place)));
  if (places.length < 2 || places.length > most) return [];
  // Where one group alone is meant, the words name it.
  const isOneGroup = new Set(places.map((place) => place.name)).size === 1;
  return places.map(({ name, number }) => {
    if (isOneGroup) return String(number);
    const alone = name !== undefined && all.filter((other) => other.name === name).length === 1;
    return name === undefined ? String(number) : alone ? name : `${name} ${number}`;
  });
}

/** Who did a step, and when. */
export interface DoneBy {
  readonly by: string | undefined;
  readonly on: string | undefined;
}

/** What has been entered already, on the sheet of work that is under way. */
export interface FilledIn {
  /** Who did a step and when, at a place of it, or at '' for one that is done once; undefined where it is open. */
  done(step: string, place: string): DoneBy | undefined;
  /** The value of a limit at a place of it, as it was written; undefined where there is none. */
  measured(limit: string, place: string): string | undefined;
  /** Who looked at a hold point of a step, in the order in which the step has them. */
  looked(step: string): readonly string[];
}

export const Filled = createContext<FilledIn | undefined>(undefined);

/** The step that the pieces below stand in. */
export const InStep = createContext('');

/** A box to tick, or one for each place; ticked where the step is done. */
export function Boxes({ labels = [] }: { labels?: readonly string[] }) {
  const filled = useContext(Filled);
  const step = useContext(InStep);
  const isDone = (place: string): boolean => filled?.done(step, place) !== undefined;
  const tick = (place: string) => (isDone(place) || isDone('') ? <span class="tick">✓</span> : null);
  return (
    <span class="boxes" aria-hidden="true">
      {labels.length === 0 ? (
        <span class="box">{tick('')}</span>
      ) : (
        labels.map((label) => (
          <span class="box" key={label}>
            {label}
            {tick(label)}
          </span>
        ))
      )}
    </span>
  );
}

/** A line to write on, with what belongs there. */
export function Blank({ label, wide = false, value = '' }: { label: string; wide?: boolean; value?: string }) {
  return (
    <>
      <span class={wide ? 'blank wide' : 'blank'}>
        <span class="label">{label}</span>
        <span class="line">{value}</span>
      </span>{' '}
    </>
  );
}

/** A box large enough for a pencil, to write one value in. */
export function Field({ label, value = '' }: { label: string; value?: string }) {
  return (
    <>
      <span class="field">
        <span class="label">{label}</span>
        {value === '' ? null : <strong>{value}</strong>}
      </span>{' '}
    </>
  );
}

/** A name as words: `fit-camshaft` is Fit camshaft. */
export function spaced(name: string): string {
  const words = name.replace(/[-_]/g, ' ').replace(/\b[tb]dc\b/gi, (each) => each.toUpperCase());
  return words.charAt(0).toUpperCase() + words.slice(1);
}

/** How it is told where a value comes from, on the sheet of a spec that is built on another. */
export const Telling = createContext<Tell | undefined>(undefined);

/** Where a value comes from; `changed` says it of what is other than in the base alone. Nothing for a spec of its own. */
export function From({ placed, span, changed = false }: { placed: Placed; span: Span | undefined; changed?: boolean }) {
  const told = useContext(Telling)?.(placed, span ?? placed.declaration.name ?? placed.declaration.wordSpan);
  return told === undefined || (changed && told.kind === 'base') ? null : (
    <span class="label"> ({speak(told.told)})</span>
  );
}
