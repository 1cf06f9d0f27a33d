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
  // Half of the room that new things have by default: the server is small, and its memory is the user's.
  const room = '--max-semi-space-size=8';
  const server = {
    run: { module, args, transport: TransportKind.ipc, options: { execArgv: [room] } },
    debug: { module, args, transport: TransportKind.ipc, options: { execArgv: [room, '--nolazy', '--inspect=6013'] } },
  };
  context.subscriptions.push(offerCheckTasks(module));
  await startFettle(context, (options) => new LanguageClient('fettle', 'Fettle', server, options));
}
