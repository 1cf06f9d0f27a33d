// Words that several pictures share: what a thing is called, where on the clock something stands.

import { speak, spoken } from '../../grammar/spoken.ts';
import { told } from '../../grammar/told.ts';
import { withinTurn } from '../mechanics/piston-tops.ts';
import type { View } from '../model/view.ts';

/** A name as words: `cam-sprocket` is cam sprocket. */
export function asWords(name: string): string {
  return name.replace(/[-_]/g, ' ');
}

/** What a thing is called at the bench: its title, else its name as words. */
export function calledIn(view: View, name: string): string {
  return view.things.get(name)?.title ?? asWords(name);
}

/** `3 of 12`, `dot of the sprocket`: so many, or a piece, and not what something is made of. */
export function isOf(one: string | number, whole: string | number): string {
  return spoken`${one} of ${whole}${told.nothing}`;
}

/** Degrees clockwise from the top as the clock says it where that is near, else as an angle. */
export function clockText(degrees: number): string {
  const within = withinTurn(degrees);
  const minutes = Math.round((within * 2) / 15) * 15;
  if (Math.abs(within * 2 - minutes) > 2) return spoken`${Math.round(within)} degrees clockwise from the top`;
  const [hour, minute] = [Math.floor(minutes / 60) % 12, minutes % 60];
  const time = `${hour === 0 ? 12 : hour}${minute === 0 ? '' : `:${String(minute).padStart(2, '0')}`}`;
  return spoken`${time} o'clock`;
}

/** `inline`, `vee 90 deg`, in words. */
export function layoutWords(layout: string): string {
  return layout.replace(/^[a-z]+/, (word) => speak(told.term(word)));
}

/** `1, 2 and 3`. */
export function listed(texts: readonly string[]): string {
  return speak(told.list(texts));
}
