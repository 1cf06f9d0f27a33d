// What happens when the checker falls over: it is started again, the sooner the rarer it fell, and never given up.
// What the user sees of it is in status.ts.
import { type BaseLanguageClient, CloseAction, ErrorAction, type ErrorHandler } from 'vscode-languageclient';

const firstWait = 500;
const longestWait = 30_000;
const memory = 5 * 60_000;

/** Keeps the checker running. */
export interface Recovery extends ErrorHandler {
  /** Starts the checker again at once, whatever state it is in. */
  startAgain(client: BaseLanguageClient): Promise<void>;
}

/** `stopped` is called each time the checker has fallen over. */
export function createRecovery(stopped: () => void): Recovery {
  let falls: readonly number[] = [];
  let endWait: (() => void) | undefined;
  return {
    error: () => ({ action: ErrorAction.Continue }),
    async closed() {
      stopped();
      falls = [...falls.filter((at) => Date.now() - at < memory), Date.now()];
      await new Promise<void>((resolve) => {
        endWait = resolve;
        setTimeout(resolve, waitAfter(falls.length));
      });
      endWait = undefined;
      return { action: CloseAction.Restart, handled: true };
    },
    async startAgain(client) {
      if (endWait !== undefined) return endWait();
      if (client.needsStop()) await client.stop();
      await client.start();
    },
  };
}

/** The wait in milliseconds after so many falls within the last minutes: it doubles up to half a minute. */
function waitAfter(falls: number): number {
  return Math.min(firstWait * 2 ** (falls - 1), longestWait);
}
