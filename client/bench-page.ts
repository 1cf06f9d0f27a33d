// The panel in which a job is worked through: the bench page, whose entries become lines of a record's file. What is on the page comes from
// the server; the record's text is made by the page, and put into the file here, as an edit that can be undone.
import {
  commands,
  Disposable,
  type ExtensionContext,
  FileType,
  l10n,
  Range,
  type TextDocument,
  Uri,
  ViewColumn,
  type WebviewPanel,
  WorkspaceEdit,
  window,
  workspace,
} from 'vscode';
import type { AskServer } from './requests.ts';

/** Milliseconds without a key before the page is made again. */
const quiet = 400;

/** Which job of which spec. */
interface Wanted {
  readonly uri: string;
  readonly variant?: string;
  readonly job?: string;
}

/** What the page says; see server/bench-page/host.ts. */
type FromPage =
  | { readonly kind: 'ready' }
  | { readonly kind: 'record'; readonly text: string; readonly telling: number };

/** The commands "Open the bench page" and "Save the bench page for a tablet". */
export function registerBenchPage(ask: AskServer, context: ExtensionContext): Disposable {
  const withSpec = (work: (spec: TextDocument) => Promise<void>) => async () => {
    const spec = window.activeTextEditor?.document;
    if (spec?.languageId === 'fettle') await work(spec);
    else window.showInformationMessage(l10n.t('Open a .fettle file first: the bench page is made from it.'));
  };
  const openPage = async (spec: TextDocument): Promise<void> => {
    if (spec.isUntitled) {
      window.showInformationMessage(l10n.t('Save the spec first: the record is written beside it.'));
      return;
    }
    const wanted = await choose(ask, spec);
    const record = wanted === undefined ? undefined : await chooseRecord(spec, wanted.specName);
    if (wanted !== undefined && record !== undefined) await open(ask, context, spec, wanted, record);
  };
  const save = withSpec((spec) => savePage(ask, context, spec));
  return Disposable.from(
    commands.registerCommand('fettle.openBenchPage', withSpec(openPage)),
    commands.registerCommand('fettle.saveBenchPage', save),
  );
}

/** Saves the page as one file, which works without an editor and without a network. */
async function savePage(ask: AskServer, context: ExtensionContext, spec: TextDocument): Promise<void> {
  const wanted = await choose(ask, spec);
  if (wanted === undefined) return;
  const made = await ask('fettle/bench', { ...wanted, program: await programOf(context) });
  if (made?.html === undefined) return;
  const name = [wanted.specName, wanted.variant, wanted.job].filter((each) => each !== undefined).join('-');
  const target = await window.showSaveDialog({
    ...(spec.isUntitled ? {} : { defaultUri: besideOf(spec, `${name}.html`) }),
    filters: { [l10n.t('Page')]: ['html'] },
  });
  if (target === undefined) return;
  await workspace.fs.writeFile(target, new TextEncoder().encode(made.html));
  window.showInformationMessage(
    l10n.t('The bench page is saved. Copy the file to the tablet and open it there: it needs no network.'),
  );
}

/** Asks which variant and which job, where there are several. */
async function choose(
  ask: AskServer,
  spec: TextDocument,
): Promise<(Wanted & { readonly specName: string }) | undefined> {
  const uri = spec.uri.toString();
  const about = await ask('fettle/bench', { uri });
  if (about === null) {
    window.showWarningMessage(l10n.t('There is no work in this file: it needs a job or a sequence.'));
    return undefined;
  }
  const variant =
    about.variants.length < 2
      ? about.variants[0]
      : await window.showQuickPick([...about.variants], { title: l10n.t('The bench page for which variant?') });
  if (variant === undefined && about.variants.length > 1) return undefined;
  const job =
    about.jobs.length < 2
      ? about.jobs[0]
      : await window.showQuickPick([...about.jobs], { title: l10n.t('Which job?') });
  if (job === undefined && about.jobs.length > 1) return undefined;
  return {
    uri,
    ...(variant === undefined ? {} : { variant }),
    ...(job === undefined ? {} : { job }),
    specName: about.spec,
  };
}

interface RecordFile {
  readonly uri: Uri;
  /** The number of the engine, for a file that is not there yet. */
  readonly engine: string;
}

function besideOf(spec: TextDocument, name: string): Uri {
  return Uri.joinPath(spec.uri, '..', name);
}

/** The records of a spec that lie beside it, by their files. */
async function recordsBeside(spec: TextDocument, specName: string): Promise<readonly string[]> {
  const folder = Uri.joinPath(spec.uri, '..');
  const entries = await workspace.fs.readDirectory(folder);
  const isRecord = new RegExp(`^\\s*record\\s+\\S+\\s+of\\s+${specName.replace(/[^\p{L}\p{N}_-]/gu, '')}\\b`, 'mu');
  const found: string[] = [];
  for (const [name, type] of entries) {
    if (!name.endsWith('.fettle') || (type & FileType.File) === 0) continue;
    const text = await textOf(Uri.joinPath(folder, name));
    if (text !== undefined && isRecord.test(text)) found.push(name);
  }
  return found;
}

async function textOf(uri: Uri): Promise<string | undefined> {
  const open = workspace.textDocuments.find((each) => each.uri.toString() === uri.toString());
  return open === undefined ? onDisk(uri) : open.getText();
}

/** Asks into which record: one that lies beside the spec, or a new one. */
async function chooseRecord(spec: TextDocument, specName: string): Promise<RecordFile | undefined> {
  const there = await recordsBeside(spec, specName);
  const fresh = l10n.t('A new record');
  const chosen =
    there.length === 0 ? fresh : await window.showQuickPick([fresh, ...there], { title: l10n.t('Into which record?') });
  if (chosen === undefined) return undefined;
  if (chosen !== fresh) return { uri: besideOf(spec, chosen), engine: '' };
  const engine = await window.showInputBox({
    title: l10n.t('Engine number'),
    prompt: l10n.t('As it is stamped on the engine. The record is named after it.'),
  });
  if (engine === undefined) return undefined;
  const words = engine
    .normalize('NFC')
    .replace(/[^\p{L}\p{N}]+/gu, '-')
    .replace(/^-+|-+$/g, '')
    .toLowerCase();
  for (let count = 1; ; count += 1) {
    const name = `build-${words === '' ? 'engine' : words}${count === 1 ? '' : `-${count}`}.fettle`;
    const uri = besideOf(spec, name);
    if ((await textOf(uri)) === undefined) return { uri, engine: engine.trim() };
  }
}

/** The shortest stretch in which two texts differ. */
function changed(old: string, text: string): { readonly start: number; readonly end: number; readonly with: string } {
  let start = 0;
  while (start < old.length && start < text.length && old[start] === text[start]) start += 1;
  let end = 0;
  while (
    end < old.length - start &&
    end < text.length - start &&
    old[old.length - 1 - end] === text[text.length - 1 - end]
  )
    end += 1;
  return { start, end: old.length - end, with: text.slice(start, text.length - end) };
}

/** Milliseconds in which the editor notices that a file is otherwise on the disk; what is written just as it saves, it may never notice. */
const noticed = 4_000;

/** What a file has on the disk; undefined where it is not there. */
async function onDisk(uri: Uri): Promise<string | undefined> {
  try {
    return new TextDecoder().decode(await workspace.fs.readFile(uri));
  } catch {
    return undefined;
  }
}

/** Waits until a document is otherwise; false where it does not come to that. */
function comesIn(document: TextDocument): Promise<boolean> {
  return new Promise((done) => {
    const ended = (isOtherwise: boolean): void => {
      clearTimeout(limit);
      listening.dispose();
      done(isOtherwise);
    };
    const limit = setTimeout(() => ended(false), noticed);
    const listening = workspace.onDidChangeTextDocument((event) => {
      if (event.document === document && event.contentChanges.length > 0) ended(true);
    });
  });
}

/**
 * Puts the record's text into its file, unless that is otherwise than the page takes it to be: `changed` where the editor has it so, `unnoticed`
 * where only the disk has.
 */
async function write(
  uri: Uri,
  text: string,
  was: string | undefined,
): Promise<'written' | 'changed' | 'unnoticed' | 'refused'> {
  const edit = new WorkspaceEdit();
  const there = await textOf(uri);
  if (there === undefined) {
    if (was !== undefined) return 'changed';
    edit.createFile(uri, { contents: new TextEncoder().encode(text) });
    return (await workspace.applyEdit(edit)) ? 'written' : 'refused';
  }
  const document = await workspace.openTextDocument(uri);
  const plain = (each: string): string => each.replace(/\r\n/g, '\n');
  const endedAs = (old: string): string => (old.includes('\r\n') ? plain(text).replace(/\n/g, '\r\n') : text);
  const disk = await onDisk(uri);
  // From here to the edit nothing is waited for: while it is, the editor may read the file again.
  if (!document.isDirty && disk !== undefined && plain(disk) !== plain(document.getText())) {
    // What another program has just written comes into the editor a moment later.
    if (was === undefined || plain(disk) !== plain(was)) return (await comesIn(document)) ? 'changed' : 'unnoticed';
    // The editor has not noticed, but the page has it: it goes to the disk, for the editor to read.
    await workspace.fs.writeFile(uri, new TextEncoder().encode(endedAs(disk)));
    return 'written';
  }
  if (was === undefined || plain(document.getText()) !== plain(was)) return 'changed';
  const old = document.getText();
  const next = endedAs(old);
  const part = changed(old, next);
  const wasClean = !document.isDirty;
  edit.replace(uri, new Range(document.positionAt(part.start), document.positionAt(part.end)), part.with);
  // The document may be otherwise by the time that the edit comes to it.
  if (!(await workspace.applyEdit(edit))) return document.getText() === old ? 'refused' : 'changed';
  // Something came between: the page reads what stands there now.
  if (document.getText() !== next) return 'changed';
  // What someone else has not saved yet is left for them to save.
  if (wasClean) await document.save();
  return 'written';
}

/** What runs in the page: what it has of the checker's bundle, and its own; see client/build-shared.mjs. */
async function programOf(context: ExtensionContext): Promise<{ readonly command: string; readonly page: string }> {
  const read = async (name: string): Promise<string> =>
    new TextDecoder().decode(await workspace.fs.readFile(Uri.joinPath(context.extensionUri, 'dist', name)));
  const checker = await read('fettle-all.js');
  const end = '/*:own:*/';
  // The checker's own part stays here.
  return { command: checker.slice(0, checker.indexOf(end) + end.length), page: await read('bench-page.js') };
}

async function open(
  ask: AskServer,
  context: ExtensionContext,
  spec: TextDocument,
  wanted: Wanted,
  record: RecordFile,
): Promise<void> {
  const made = await ask('fettle/bench', { ...wanted, program: await programOf(context) });
  if (made?.html === undefined) {
    window.showWarningMessage(l10n.t('There is no work in this file: it needs a job or a sequence.'));
    return;
  }
  const panel = window.createWebviewPanel(
    'fettle.benchPage',
    l10n.t('Bench page: {0}', record.uri.path.split('/').at(-1) ?? ''),
    { viewColumn: ViewColumn.Beside, preserveFocus: false },
    { enableScripts: true, retainContextWhenHidden: true, localResourceRoots: [] },
  );
  follow(ask, panel, spec, wanted, record);
  panel.webview.html = made.html;
}

/** Keeps page, spec and record together as long as the panel is there. */
function follow(ask: AskServer, panel: WebviewPanel, spec: TextDocument, wanted: Wanted, record: RecordFile): void {
  let pause: ReturnType<typeof setTimeout> | undefined;
  let reading: ReturnType<typeof setTimeout> | undefined;
  /** As the page last had it. */
  let told: string | undefined;
  let tellings = 0;
  const name = record.uri.path.split('/').at(-1) ?? '';
  const tellFile = async (read = textOf): Promise<void> => {
    const text = await read(record.uri);
    told = text;
    tellings += 1;
    const about = { telling: tellings };
    if (text === undefined) await panel.webview.postMessage({ kind: 'begin', engine: record.engine, ...about });
    else await panel.webview.postMessage({ kind: 'file', text, name, ...about });
  };
  // One after the other: an entry is written before the next one is looked at.
  let work: Promise<void> = Promise.resolve();
  const refuse = async (): Promise<void> => {
    const why = l10n.t(
      '{0} can’t be written. What is entered stays on this page; see that the file can be changed.',
      name,
    );
    await panel.webview.postMessage({ kind: 'refused', why });
  };
  const hear = async (message: FromPage): Promise<void> => {
    if (message.kind === 'ready') {
      await tellFile();
      return;
    }
    // Made before the page heard how the file stands now: it puts what was entered into that, and tells it again.
    if (message.telling !== tellings || message.text === told) return;
    // The page may have made several texts while the first was written.
    const how = await write(record.uri, message.text, told);
    if (how === 'written') {
      told = message.text;
      await panel.webview.postMessage({ kind: 'written', text: message.text });
    } else if (how === 'changed') {
      // The page puts what was entered into the file as it is now, and tells it again.
      await tellFile();
    } else if (how === 'unnoticed') await tellFile(onDisk);
    else await refuse();
  };
  const subscriptions = Disposable.from(
    panel.webview.onDidReceiveMessage((message: FromPage) => {
      work = work.then(() => hear(message)).catch(refuse);
    }),
    workspace.onDidChangeTextDocument(({ document }) => {
      if (document.uri.toString() === spec.uri.toString()) {
        clearTimeout(pause);
        pause = setTimeout(async () => {
          const again = await ask('fettle/bench', wanted);
          if (again !== null) await panel.webview.postMessage({ kind: 'job', job: again.job });
        }, quiet);
      }
      if (document.uri.toString() === record.uri.toString()) {
        clearTimeout(reading);
        reading = setTimeout(() => {
          work = work.then(async () => {
            if (document.getText() !== told) await tellFile();
          });
        }, quiet);
      }
    }),
  );
  panel.onDidDispose(() => {
    clearTimeout(pause);
    clearTimeout(reading);
    subscriptions.dispose();
  });
}
