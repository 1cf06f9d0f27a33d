// Words that several pictures share: what a thing is called, where on the clock something stands.
import type { View } from '../model/view.ts';

/** A name as words: `cam-sprocket` is cam sprocket. */
export function asWords(name: string): string {
  return name.replace(/[-_]/g, ' ');
}

/** What a thing is called at the bench: its title, else its name as words. */
export function calledIn(view: View, name: string): string {
  return view.things.get(name)?.title ?? asWords(name);
}

/** Degrees clockwise from the top as the clock says it where that is near, else as an angle. */
export function clockText(degrees: number): string {
  const minutes = Math.round(((((degrees % 360) + 360) % 360) * 2) / 15) * 15;
  const off = Math.abs((((degrees % 360) + 360) % 360) * 2 - minutes);
  if (off > 2) return `${Math.round(((degrees % 360) + 360) % 360)} degrees clockwise from the top`;
  const [hour, minute] = [Math.floor(minutes / 60) % 12, minutes % 60];
  return `${hour === 0 ? 12 : hour}${minute === 0 ? '' : `:${String(minute).padStart(2, '0')}`} o'clock`;
}

/** `1, 2 and 3`. */
export function listed(texts: readonly string[]): string {
  return texts.length < 2 ? (texts[0] ?? '') : `${texts.slice(0, -1).join(', ')} and ${texts[texts.length - 1]}`;
}
