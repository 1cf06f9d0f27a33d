// How the engine that runs Fettle is set. Each setting can be made while the process runs, in every Node from 20 on. They are made before
// the program is compiled: what was cached of it fits only an engine that is set as it was then.
import { PerformanceObserver } from 'node:perf_hooks';
import { versions } from 'node:process';
import { getHeapSpaceStatistics, setFlagsFromString } from 'node:v8';

/** The server takes little more than it holds. */
const SERVER = [
  // What an edit leaves behind is let go of soon: without this the process grows to several times what it holds.
  '--heap-growing-percent=40',
  // The room for what is new grows at once to what it shall be, and then no more; see `growing`.
  '--semi-space-growth-factor=8',
  // Less machine code is made in one piece: what the compiler needs while it makes it is never given back.
  '--max-inlined-bytecode-size-cumulative=300',
];

/**
 * The engine makes a function into machine code later than it would: in a command, and until a server has told its first findings, that costs
 * more than it saves (a fifth to two fifths of the work, measured on one spec of 250 lines and of 10,000 and on 300 specs). An engine that does not know
 * the setting says so to the user, so it is for the one that it was tried on.
 */
const [LATER, USUAL] = versions.v8.startsWith('11.')
  ? [['--interrupt-budget=1000000'], ['--interrupt-budget=67584']]
  : [[], []];

/**
 * Bytes of the room for what is new: two halves of 8 MB, to which it grows from 1 MB in one step. With halves of 4 MB the edits that have much done
 * again take a tenth longer, measured at 10,000 lines; it would grow to twice 16 MB with a long spec.
 */
const ROOM = 16 << 20;
const NO_MORE = '--semi-space-growth-factor=1';
function set(flags: readonly string[]): void {
  for (const flag of flags) setFlagsFromString(flag);
}

function room(): number {
  return getHeapSpaceStatistics().find((each) => each.space_name === 'new_space')?.space_size ?? ROOM;
}

/** Has the room for what is new grow, where little was needed until now: it does so when much of it is in use. */
function makeRoom(): void {
  const held: unknown[] = [];
  while (room() < ROOM && held.length < 96) held.push(new Array(8000).fill(held.length));
}

/** Lets the room for what is new grow once. Gives a function that has it grown, and one that tells whether it is. */
function growing(): { readonly grow: () => void; readonly isGrown: () => boolean } {
  let isGrown = false;
  // It grows when something is collected: a server that has nothing to do is not woken to look.
  const collected = new PerformanceObserver(() => {
    if (room() >= ROOM) end();
  });
  const end = (): void => {
    collected.disconnect();
    isGrown = true;
    setFlagsFromString(NO_MORE);
  };
  collected.observe({ entryTypes: ['gc'] });
  const grow = (): void => {
    if (isGrown) return;
    makeRoom();
    end();
  };
  return { grow, isGrown: () => isGrown };
}

export interface EngineSettings {
  /** Sets the engine as it works on when the server has begun. */
  settle(): void;
  /** Does something with the engine set as it was when the program was compiled. */
  asAtStart(work: () => void): void;
}

/** Sets the engine for a process that serves, or carries out a command. */
export function setEngine(serves: boolean): EngineSettings {
  const atStart = [...(serves ? SERVER : []), ...LATER];
  let isSettled = false;
  set(atStart);
  const growth = serves ? growing() : undefined;
  return {
    settle() {
      if (!serves || isSettled) return;
      isSettled = true;
      set(USUAL);
      growth?.grow();
    },
    asAtStart(work) {
      set(atStart);
      try {
        work();
      } finally {
        if (isSettled) set(USUAL);
        if (growth?.isGrown() === true) setFlagsFromString(NO_MORE);
      }
    },
  };
}
