// The language server in a worker of the browser. It has no disk: the editor reads files for it.
import { BrowserMessageReader, BrowserMessageWriter, createConnection } from 'vscode-languageserver/browser';
import { startServer } from '../protocol/server.ts';

/** The scope of the worker, which the compiler takes for a window. */
const scope = globalThis as unknown as ConstructorParameters<typeof BrowserMessageReader>[0];

startServer(createConnection(new BrowserMessageReader(scope), new BrowserMessageWriter(scope)), {
  onFault(tell) {
    globalThis.addEventListener('error', (event) => tell(event.error ?? event.message));
    globalThis.addEventListener('unhandledrejection', (event) => tell(event.reason));
  },
});
