// The commands that compare a spec with another file or with the last commit: the two texts side by side, and beside them a list of
// what changed for the bench, which follows while either is written. What changed is worked out by the server.
import { commands, Disposable, l10n, type TextDocument, Uri, window, workspace } from 'vscode';
import { type LastCommit, lastCommit } from './compare-git.ts';
import { type ChangeList, createChangeList } from './compare-list.ts';
import { listFiles } from './files.ts';
import type { AskServer } from './requests.ts';

/** Milliseconds without a key before the list is made again. */
const quiet = 350;

/** How often what the old spec used is asked for: a used file may use another. */
const mostRounds = 4;

/** What a spec is compared with. */
interface Old {
  readonly uri: Uri;
  readonly called: string;
  text(): Promise<string | undefined>;
  /** What the old spec used, as it was then; undefined where that is as it stands now. */
  readonly used: ((uri: Uri) => Promise<string | undefined>) | undefined;
  onNext(tell: () => void): Disposable;
}

/** The commands "Compare with a file…", "Compare with the last commit" and "Close the list of changes". */
export function registerCompare(ask: AskServer): Disposable {
  let running: Disposable | undefined;
  const end = (): void => {
    running?.dispose();
    running = undefined;
    commands.executeCommand('setContext', 'fettleComparing', false);
  };
  const compare = async (
    given: Uri | undefined,
    choose: (spec: TextDocument) => Promise<Old | undefined>,
  ): Promise<void> => {
    const spec = given === undefined ? openSpec() : await workspace.openTextDocument(given);
    const old = spec === undefined ? undefined : await choose(spec);
    if (spec === undefined || old === undefined) return;
    end();
    await commands.executeCommand('setContext', 'fettleComparing', true);
    running = await startComparing(ask, spec, old);
  };
  return Disposable.from(
    commands.registerCommand('fettle.compareWithFile', (given?: Uri) => compare(given, chooseFile)),
    commands.registerCommand('fettle.compareWithLastCommit', (given?: Uri) => compare(given, fromLastCommit)),
    commands.registerCommand('fettle.endCompare', async () => {
      end();
      // The list was what the panel was open for; else a terminal would come up in its place.
      await commands.executeCommand('workbench.action.closePanel');
    }),
    { dispose: end },
  );
}

function openSpec(): TextDocument | undefined {
  const document = window.activeTextEditor?.document;
  if (document?.languageId === 'fettle') return document;
  window.showInformationMessage(l10n.t('Open a .fettle file first: it is compared with another.'));
  return undefined;
}

const nameOf = (uri: Uri): string => uri.path.split('/').at(-1) ?? uri.path;

/** Asks which file holds the old spec: one of the open folders, or any other. */
async function chooseFile(spec: TextDocument): Promise<Old | undefined> {
  const found = (await listFiles()).uris.map((uri) => Uri.parse(uri));
  const other = { label: l10n.t('Another file…'), uri: undefined };
  const files = found
    .filter((uri) => uri.toString() !== spec.uri.toString())
    .map((uri) => ({ label: workspace.asRelativePath(uri), uri }))
    .sort((one, next) => one.label.localeCompare(next.label));
  const chosen = await window.showQuickPick([...files, other], {
    title: l10n.t('Compare {0} with which older spec?', nameOf(spec.uri)),
  });
  if (chosen === undefined) return undefined;
  const picked = chosen.uri ?? (await window.showOpenDialog({ filters: { [l10n.t('Build spec')]: ['fettle'] } }))?.[0];
  if (picked === undefined) return undefined;
  const address = picked.toString();
  return {
    uri: picked,
    called: nameOf(picked),
    // As it is being written, where it is open.
    text: async () => (await workspace.openTextDocument(picked)).getText(),
    used: undefined,
    onNext: (tell) =>
      workspace.onDidChangeTextDocument(({ document }) => {
        if (document.uri.toString() === address) tell();
      }),
  };
}

async function fromLastCommit(spec: TextDocument): Promise<Old | undefined> {
  const last: LastCommit | undefined = await lastCommit(spec.uri);
  if (last === undefined) return undefined;
  return {
    uri: last.uri,
    called: l10n.t('last commit'),
    text: () => last.text(spec.uri),
    used: last.text,
    onNext: last.onNext,
  };
}

/** Asks the server, and once more with what the old spec used, as long as it used something more. */
async function review(ask: AskServer, spec: TextDocument, old: Old) {
  const text = await old.text();
  if (text === undefined) return undefined;
  const files = new Map<string, string>();
  const looked = new Set<string>();
  for (let round = 0; ; round += 1) {
    const answer = await ask('fettle/review', {
      uri: spec.uri.toString(),
      old: { uri: old.uri.toString(), text, files: Object.fromEntries(files) },
    });
    const more = old.used === undefined ? [] : (answer?.uses ?? []).filter((uri) => !looked.has(uri));
    if (answer === null || more.length === 0 || round === mostRounds) return answer?.changes;
    for (const uri of more) {
      looked.add(uri);
      const then = await old.used?.(Uri.parse(uri));
      if (then !== undefined) files.set(uri, then);
    }
  }
}

/** Shows both texts and the list, and makes the list again after each edit until it is disposed of. */
async function startComparing(ask: AskServer, spec: TextDocument, old: Old): Promise<Disposable> {
  const list: ChangeList = createChangeList();
  const title = l10n.t('{0} → {1}', old.called, nameOf(spec.uri));
  let pause: ReturnType<typeof setTimeout> | undefined;
  let ended = false;
  let asked = 0;
  const draw = async (): Promise<void> => {
    asked += 1;
    const mine = asked;
    try {
      const changes = await review(ask, spec, old);
      if (ended || mine !== asked) return;
      if (changes === undefined) list.say(l10n.t('There is nothing to compare: one of the two can not be read.'));
      else list.show({ old: old.uri, now: spec.uri, title, changes });
    } catch {
      if (!ended && mine === asked)
        list.say(l10n.t("Fettle's checker does not answer. The list comes with the next edit."));
    }
  };
  const soon = (): void => {
    clearTimeout(pause);
    pause = setTimeout(draw, quiet);
  };
  const edits = workspace.onDidChangeTextDocument(({ document }) => {
    if (document.languageId === 'fettle' && document.uri.scheme === spec.uri.scheme) soon();
  });
  const next = old.onNext(soon);
  list.say(l10n.t('Comparing…'));
  // The view opens, and then the texts take the keys back.
  await commands.executeCommand('fettleChanges.focus');
  await commands.executeCommand('vscode.diff', old.uri, spec.uri, title);
  await draw();
  return {
    dispose() {
      ended = true;
      clearTimeout(pause);
      edits.dispose();
      next.dispose();
      list.dispose();
    },
  };
}
