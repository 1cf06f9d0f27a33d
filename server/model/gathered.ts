// What a thing is before it is known where it stands.
import type { Declared, Thing } from './view.ts';

/** A thing of one kind, without its place and its steps. */
export type Without<thing> = Omit<thing, 'placed' | 'steps'>;

/** Any thing, without its place and its steps. */
export type Gathered = Without<Thing>;

/** What all things have of their declaration. */
export type Common = Omit<Declared, 'placed'>;
