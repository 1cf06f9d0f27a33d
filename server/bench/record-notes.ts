// What the language has no statement for stands in a record as a note with fixed words, so that people can read it and this page too: at which
// line and at what time of day someone looked, and what is ticked of a step that is under way.
import type { Looked } from './entries.ts';

export function heldNote(step: string, key: string, looked: Looked): string {
  return `Hold point of ${step}, line ${key}: looked at by ${looked.by} on ${looked.at.day} at ${looked.at.time}.`;
}

export function underWayNote(step: string, ticks: readonly string[]): string {
  return `Under way in ${step}, ticked: ${ticks.join('; ')}.`;
}

export type Noted =
  | { readonly what: 'held'; readonly step: string; readonly key: string; readonly looked: Looked }
  | { readonly what: 'under-way'; readonly step: string; readonly ticks: readonly string[] };

/** What a note says, where it is one of these. */
export function whatNote(text: string): Noted | undefined {
  const held = /^Hold point of (\S+), line (.+?): looked at by (.*) on (\d{4}-\d\d-\d\d) at (\d\d:\d\d)\.$/.exec(text);
  if (held !== null) {
    const [, step = '', key = '', by = '', day = '', time = ''] = held;
    return { what: 'held', step, key, looked: { by, at: { day, time } } };
  }
  const way = /^Under way in (\S+), ticked: (.*)\.$/.exec(text);
  if (way === null) return undefined;
  return { what: 'under-way', step: way[1] ?? '', ticks: (way[2] ?? '').split('; ').filter((each) => each !== '') };
}
