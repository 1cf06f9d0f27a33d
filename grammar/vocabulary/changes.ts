// The words that begin a change in the braces of a spec that extends another. They are words by place: they may be names elsewhere.
import type { DeclarationRow } from './rows.ts';

export const CHANGES = [
  {
    word: 'change',
    help: 'Says what differs from the base in one thing: what is said here takes the place of what the base says.',
    example: 'change part piston {\n  dimension skirt 78.350..78.360 mm\n}',
  },
  {
    word: 'drop',
    help: 'Leaves out a thing that the base has.',
    example: 'drop step fit-cam-plate',
  },
  {
    word: 'insert',
    help: 'Puts a step of your own into a sequence of the base, before or after one of its steps.',
    example: 'insert step check-twist "Check the rods" after fit-pistons {\n  inspect conrod for "twist"\n}',
  },
] as const satisfies readonly DeclarationRow[];
