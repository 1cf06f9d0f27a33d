// Answers what the server asks about files, through the editor, so that a spec in a virtual folder (in a browser,
// on another machine) is read like one on disk. Writing files is not done here.
import { Disposable, FileSystemError, Uri, workspace } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import type { ClientAnswers } from '../server/protocol/messages.ts';

/** Registers the answers with the client. */
export function answerFileQuestions(client: BaseLanguageClient): Disposable {
  return Disposable.from(
    client.onRequest('fettle/readFile', ({ uri }: ClientAnswers['fettle/readFile']['params']) => readFile(uri)),
    client.onRequest('fettle/listFiles', () => listFiles()),
  );
}

async function readFile(uri: string): Promise<ClientAnswers['fettle/readFile']['result']> {
  try {
    const bytes = await workspace.fs.readFile(Uri.parse(uri));
    return { text: new TextDecoder().decode(bytes) };
  } catch (reason) {
    if (reason instanceof FileSystemError) return null;
    throw reason;
  }
}

async function listFiles(): Promise<ClientAnswers['fettle/listFiles']['result']> {
  const found = await workspace.findFiles('**/*.fettle', '**/node_modules/**');
  return { uris: found.map((uri) => uri.toString()).sort() };
}
