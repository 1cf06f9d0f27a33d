// Where the editor in a browser starts Fettle: the server runs in a worker. Nothing else differs from the
// desktop, so everything else is in client.ts.
import { type ExtensionContext, Uri } from 'vscode';
import {
  BrowserMessageReader,
  BrowserMessageWriter,
  LanguageClient,
  type MessageTransports,
} from 'vscode-languageclient/browser';
import { startFettle } from './client.ts';

/** Called by the editor when the first spec is opened or a Fettle command is used. */
export async function activate(context: ExtensionContext): Promise<void> {
  const script = Uri.joinPath(context.extensionUri, 'dist', 'fettle-all.js').toString(true);
  let worker: Worker | undefined;
  const connect = async (): Promise<MessageTransports> => {
    worker?.terminate();
    worker = new Worker(script);
    return { reader: new BrowserMessageReader(worker), writer: new BrowserMessageWriter(worker) };
  };
  context.subscriptions.push({ dispose: () => worker?.terminate() });
  await startFettle(context, (options) => new LanguageClient('fettle', 'Fettle', connect, options));
}
