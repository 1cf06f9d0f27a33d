// Lets a user read the declarations that ship with Fettle, where a `use` or a name leads to them. They can't be changed.
import { Disposable, languages, workspace } from 'vscode';
import type { AskServer } from './requests.ts';

const scheme = 'fettle-library';

/** Opens a library as a text of its own, in Fettle's colours. */
export function registerLibrary(ask: AskServer): Disposable {
  const provider = workspace.registerTextDocumentContentProvider(scheme, {
    async provideTextDocumentContent(uri) {
      return (await ask('fettle/library', { uri: uri.toString(true) }))?.text ?? '';
    },
  });
  const colours = workspace.onDidOpenTextDocument((document) => {
    if (document.uri.scheme === scheme && document.languageId !== 'fettle')
      languages.setTextDocumentLanguage(document, 'fettle');
  });
  return Disposable.from(provider, colours);
}
