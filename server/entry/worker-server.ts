// The language server in a browser's worker.
import { BrowserMessageReader, BrowserMessageWriter, createConnection } from 'vscode-languageserver/browser';
import { startServer } from '../protocol/server.ts';

const scope = globalThis as unknown as ConstructorParameters<typeof BrowserMessageReader>[0];

startServer(createConnection(new BrowserMessageReader(scope), new BrowserMessageWriter(scope)));
