// The stages of a torque that are words, without a figure.
import type { ChoiceRow } from './rows.ts';

export const STAGES = [
  { word: 'slacken', help: 'slackened off again' },
  { word: 'hand-tight', help: 'run up by hand' },
  { word: 'contact', help: 'until it seats' },
  { word: 'tight', help: 'tight by feel: the maker gives no figure' },
  { word: 'next-slot', help: 'on to the next slot that meets the hole for the pin, never back' },
] as const satisfies readonly ChoiceRow[];
