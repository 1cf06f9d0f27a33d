// Answers what the server asks about files, through the editor, so that a spec in a virtual folder (in a browser,
// on another machine) is read like one on disk. Writing files is not done here.
import { Disposable, FileSystemError, FileType, RelativePattern, Uri, type WorkspaceFolder, workspace } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import type { ClientAnswers } from '../server/protocol/messages.ts';

/** More folders than any shop keeps its specs in; a whole home folder is not read through. */
const mostFolders = 1_000;

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

/** The addresses of all specs of the open folders, wherever these are, in a steady order. */
export async function listFiles(): Promise<ClientAnswers['fettle/listFiles']['result']> {
  const folders = workspace.workspaceFolders ?? [];
  const found = await Promise.all(folders.map((folder) => specsIn(folder)));
  return { uris: found.flat().sort() };
}

/** The editor searches a disk fast; where a folder is not on a disk, it may have no search at all. */
async function specsIn(folder: WorkspaceFolder): Promise<readonly string[]> {
  if (folder.uri.scheme !== 'file') return walk(folder.uri, { left: mostFolders });
  const found = await workspace.findFiles(new RelativePattern(folder, '**/*.fettle'), '**/node_modules/**');
  return found.map((uri) => uri.toString());
}

async function walk(folder: Uri, budget: { left: number }): Promise<readonly string[]> {
  budget.left -= 1;
  if (budget.left < 0) return [];
  const entries = await workspace.fs.readDirectory(folder);
  const found: string[] = [];
  for (const [name, type] of entries) {
    const uri = Uri.joinPath(folder, name);
    if (type & FileType.Directory) {
      if (!name.startsWith('.') && name !== 'node_modules') found.push(...(await walk(uri, budget)));
    } else if (name.endsWith('.fettle')) found.push(uri.toString());
  }
  return found;
}
