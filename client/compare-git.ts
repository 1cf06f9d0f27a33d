// The text of a spec as it was at the last commit, through the editor's own git. What is made of it is in compare.ts.
import { type Disposable, type Event, extensions, l10n, type Uri, window } from 'vscode';

/** As much of the editor's git as is asked for here. */
interface Repository {
  readonly state: { readonly onDidChange: Event<void>; readonly HEAD?: { readonly commit?: string } };
  show(revision: string, path: string): Promise<string>;
}
interface Git {
  getRepository(uri: Uri): Repository | null;
  toGitUri(uri: Uri, revision: string): Uri;
}
interface GitExtension {
  readonly enabled: boolean;
  getAPI(version: 1): Git;
}

const LAST = 'HEAD';

/** One file at the last commit. */
export interface LastCommit {
  /** Under which the editor shows the old text. */
  readonly uri: Uri;
  /** The text of this file, or of another of the same history; undefined where the commit has none. */
  text(of: Uri): Promise<string | undefined>;
  /** Tells when there is another last commit. */
  onNext(tell: () => void): Disposable;
}

async function git(): Promise<Git | undefined> {
  const extension = extensions.getExtension<GitExtension>('vscode.git');
  if (extension === undefined) return undefined;
  try {
    const api = await extension.activate();
    return api.enabled ? api.getAPI(1) : undefined;
  } catch {
    return undefined;
  }
}

/** The last commit of a spec, without a word where there is none. */
export async function quietLastCommit(spec: Uri): Promise<LastCommit | undefined> {
  const api = await git();
  const repository = api?.getRepository(spec) ?? undefined;
  return api === undefined || repository === undefined ? undefined : commitOf(api, repository, spec);
}

/** The last commit that a spec is in; says why where there is none, and gives undefined. */
export async function lastCommit(spec: Uri): Promise<LastCommit | undefined> {
  const api = await git();
  if (api === undefined) {
    window.showWarningMessage(l10n.t('There is no git in this editor. Use "Fettle: Compare with a file…" instead.'));
    return undefined;
  }
  const repository = api.getRepository(spec);
  if (repository === null) {
    window.showWarningMessage(
      l10n.t('This spec lies in no folder that git keeps. Use "Fettle: Compare with a file…" instead.'),
    );
    return undefined;
  }
  const found = commitOf(api, repository, spec);
  if ((await found.text(spec)) !== undefined) return found;
  window.showWarningMessage(
    l10n.t('The last commit does not have this spec: it is new, and there is nothing to compare it with.'),
  );
  return undefined;
}

function commitOf(api: Git, repository: Repository, spec: Uri): LastCommit {
  const text = async (of: Uri): Promise<string | undefined> => {
    try {
      return await repository.show(LAST, of.fsPath);
    } catch {
      return undefined;
    }
  };
  let commit = repository.state.HEAD?.commit;
  return {
    uri: api.toGitUri(spec, LAST),
    text,
    onNext: (tell) =>
      repository.state.onDidChange(() => {
        if (repository.state.HEAD?.commit === commit) return;
        commit = repository.state.HEAD?.commit;
        tell();
      }),
  };
}
