// Where the desktop editor starts Fettle: the server runs in a Node process of its own. Nothing else differs
// from the browser, so everything else is in client.ts.
import type { ExtensionContext } from 'vscode';
import { LanguageClient, TransportKind } from 'vscode-languageclient/node';
import { startFettle } from './client.ts';
import { offerCheckTasks } from './tasks.ts';

/** Called by the editor when the first spec is opened or a Fettle command is used. */
export async function activate(context: ExtensionContext): Promise<void> {
  const module = context.asAbsolutePath('dist/fettle.js');
  const args = ['serve'];
  // One store of memory for all threads: on Linux each would keep its own, with what it once needed. Elsewhere it means nothing.
  const env = { MALLOC_ARENA_MAX: '1' };
  const server = {
    run: { module, args, transport: TransportKind.ipc, options: { env } },
    debug: { module, args, transport: TransportKind.ipc, options: { env, execArgv: ['--nolazy', '--inspect=6013'] } },
  };
  context.subscriptions.push(offerCheckTasks(module));
  await startFettle(context, (options) => new LanguageClient('fettle', 'Fettle', server, options));
}
