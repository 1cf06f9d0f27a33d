// A view as questions see it, over all edits: who looks a name up, goes through a list or asks for a flag is asked again when that is
// another (view-as-seen.ts). An edit that leaves names and their order alone changes the declarations that it is in; for any other the view is built
// anew and held against the one of before (view-plans.ts, view-updates.ts). Single declarations are in recorded.ts.
import type { BuiltView } from './build-view.ts';
import { likeNames } from './likeness.ts';
import type { Placed } from './placed.ts';
import { type Asked, sourcesRead } from './questions.ts';
import type { Standing } from './recorded.ts';
import type { Flag, Member, Together } from './recorded-together.ts';
import type { Thing } from './view.ts';
import { viewOf } from './view-as-seen.ts';
import { newViewState, type ViewState } from './view-state.ts';

export interface RecordedView {
  /** The view that checks and the rehearsal are given. */
  readonly view: BuiltView;
  /** Whether there is no other variant. */
  readonly isOne: boolean;
  /**
   * The declarations of the first file that are looked at for the variant, in order, each `when` too; the same list as long as they are the same.
   */
  readonly own: () => readonly Standing[];
  /** What a declaration is among those that are looked at. */
  readonly standingOf: (placed: Placed) => Standing | undefined;
  /** The names that were looked up to answer a question, in the order met. */
  namesRead(question: Asked): readonly string[];
  /** The thing that a declaration declares; undefined for one that only changes another. */
  thingOf(standing: Standing): Thing | undefined;
}

/** The view of one variant, and what it holds. */
export interface Recording {
  readonly recorded: RecordedView;
  readonly state: ViewState;
}

/** What a flag says, told so that what is the same is the same object or value. */
function flagOf({ lists, duplicates, draft, incomplete, perhaps }: ViewState, flag: Flag): unknown {
  switch (flag) {
    case 'engine':
      return lists.engines[0]?.placed;
    case 'duplicates':
      return duplicates.length === 0 ? 0 : duplicates;
    case 'draft':
      return draft;
    case 'incomplete':
      return incomplete;
    case 'perhaps':
      return perhaps;
  }
}

/** The names that a question looked up, and those that fasteners among them take from. */
function namesRead({ names, ownText }: ViewState, question: Asked): readonly string[] {
  const read = sourcesRead(question).flatMap(({ of: name }) => {
    if (typeof name !== 'string') return [];
    const thing = names.get(name)?.thing;
    return thing?.kind === 'fastener' ? [name, ...likeNames(thing, ownText)] : [name];
  });
  return [...new Set(read)];
}

/** The view of a variant, of no files yet; `at` is its number among those that stand together. */
export function recording(variant: string | undefined, at: number, together: Together): Recording {
  const state = newViewState(variant, at, together);
  const member: Member = {
    names: () => state.names,
    list: (list) => state.lists[list],
    flag: (flag) => flagOf(state, flag),
  };
  together.members.push(member);
  const recorded: RecordedView = {
    view: viewOf(state),
    isOne: together.isOne,
    own: () => state.own,
    standingOf: (placed) => state.standings.get(placed),
    namesRead: (question) => namesRead(state, question),
    thingOf: (standing) => (state.listed.has(standing) ? standing.asThing : undefined),
  };
  return { recorded, state };
}
