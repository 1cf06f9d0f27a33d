// What comes off to get at a part, for other programs: names as in the spec, in the order of the work.
import { type Told, told } from '../../grammar/told.ts';
import type { View } from '../model/view.ts';
import { placesOfLimit, type Reached } from './reach.ts';
import { nameWith, placeWords } from './reach-places.ts';
import { againAfter } from './what-is-left.ts';

export interface ReachJson {
  readonly part: string;
  readonly places: string;
  readonly variant: string | null;
  readonly first: {
    readonly disconnect: readonly string[];
    readonly drain: readonly { readonly place: string; readonly fluid: string }[];
    /** Holds something and stays, under what comes off. */
    readonly mayLeak: readonly string[];
    readonly setToMarks: readonly string[];
    readonly holdBack: readonly string[];
  };
  /** `surety`: `said` by the spec, `known` by the nature of the thing, `guess` by the order of fitting alone. */
  readonly comesOff: readonly {
    readonly part: string;
    readonly places: string;
    readonly why: string;
    readonly for: string | null;
    readonly surety: string;
    readonly undo: readonly string[];
  }[];
  readonly look: readonly string[];
  readonly renew: readonly string[];
  readonly prove: readonly string[];
  readonly measure: readonly { readonly limit: string; readonly places: string }[];
  readonly retorque: readonly { readonly fastener: string; readonly after: string }[];
  readonly goesBackIn: readonly { readonly sequence: string; readonly step: string }[];
  readonly notes: readonly string[];
}

const nameOf = ({ name }: { readonly name: string }): string => name;

/** The whole answer as plain values. */
export function reachJson(reached: Reached, view: View, say: (told: Told) => string): ReachJson {
  const places = (each: Pick<Reached, 'part' | 'places'>): string =>
    nameWith(each.part, each.places).slice(each.part.name.length).trim();
  return {
    part: reached.part.name,
    places: places(reached),
    variant: view.variant ?? null,
    first: {
      disconnect: reached.disconnect.map(nameOf),
      drain: reached.drain.map(({ part, fluid }) => ({ place: part.name, fluid })),
      mayLeak: reached.mayLeak.map(nameOf),
      setToMarks: reached.marked.map(nameOf),
      holdBack: reached.holdBack.map(nameOf),
    },
    comesOff: reached.off.map((each) => ({
      part: each.part.name,
      places: places(each),
      why: each.why === undefined ? '' : say(each.why),
      for: each.of?.name ?? null,
      surety: each.surety,
      undo: each.undo.map(({ words }) => words),
    })),
    look: reached.look.map(nameOf),
    renew: reached.fresh.map(nameOf),
    prove: reached.drives.map(nameOf),
    measure: reached.limits.flatMap((limit) => {
      const own = placesOfLimit(limit, reached, view);
      if (own?.places.size === 0) return [];
      return [{ limit: limit.name, places: own === undefined ? '' : placeWords(own.part, own.places) }];
    }),
    retorque: reached.retorque.map((each) => ({ fastener: each.name, after: say(told`${againAfter(each)}`) })),
    goesBackIn: reached.again.map(({ sequence, step }) => ({ sequence: sequence.name, step: step.name })),
    notes: reached.notes.map(say),
  };
}
