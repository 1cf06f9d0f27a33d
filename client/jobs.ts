// The jobs of each spec in the Testing view: each job and variant is rehearsed when its file is saved, and is red at the action that does
// not hold. What holds is worked out by the server.
import {
  Disposable,
  Location,
  l10n,
  Range,
  type TestController,
  type TestItem,
  TestMessage,
  type TestRun,
  TestRunProfileKind,
  TestRunRequest,
  tests,
  Uri,
  workspace,
} from 'vscode';
import type { JobTold, ReviewedPlace } from '../server/protocol/messages.ts';
import { listFiles } from './files.ts';
import type { AskServer } from './requests.ts';

const rangeOf = ({ start, end }: ReviewedPlace['range']): Range =>
  new Range(start.line, start.character, end.line, end.character);

function messageOf({ uri, range, message, code }: JobTold['found'][number]): TestMessage {
  const told = new TestMessage(`${message} [${code}]`);
  told.location = new Location(Uri.parse(uri), rangeOf(range));
  return told;
}

/** The name of a test by what is rehearsed: its job, and its variant where there are several. */
const idOf = (job: string | null, variant: string | null): string => `${job ?? ''}\n${variant ?? ''}`;

/** Puts the jobs into the Testing view. */
export function registerJobs(ask: AskServer): Disposable {
  const controller = tests.createTestController('fettleJobs', l10n.t('Fettle: jobs'));

  const fileItem = (uri: Uri): TestItem => {
    const known = controller.items.get(uri.toString());
    if (known !== undefined) return known;
    const item = controller.createTestItem(uri.toString(), uri.path.split('/').at(-1) ?? '', uri);
    item.canResolveChildren = true;
    controller.items.add(item);
    return item;
  };

  /** Asks for the jobs of a file and shows them below it; a file without one is taken out of the view. */
  const refresh = async (item: TestItem) => {
    const { uri } = item;
    const told = uri === undefined ? null : await ask('fettle/jobs', { uri: uri.toString() });
    const jobs = told?.jobs ?? [];
    if (uri === undefined || jobs.length === 0) {
      if (told?.fault === undefined) controller.items.delete(item.id);
      return told;
    }
    const byJob = grouped(jobs);
    item.children.replace(
      [...byJob].map(([job, variants]) => {
        const [first] = variants;
        const label = first?.title ?? job ?? l10n.t('All sequences, in their order');
        const many = variants.length > 1;
        const own = controller.createTestItem(many ? `${job ?? ''}` : idOf(job, first?.variant ?? null), label, uri);
        if (first !== undefined) own.range = rangeOf(first.range);
        if (many)
          own.children.replace(
            variants.map((each) => {
              const child = controller.createTestItem(idOf(job, each.variant), each.variant ?? '', uri);
              child.range = rangeOf(each.range);
              return child;
            }),
          );
        return own;
      }),
    );
    return told;
  };

  const runFile = async (run: TestRun, item: TestItem, wanted: (leaf: TestItem) => boolean): Promise<void> => {
    const told = await refresh(item);
    for (const leaf of leavesOf(item)) {
      if (!wanted(leaf)) continue;
      run.started(leaf);
      const job = told?.jobs.find((each) => idOf(each.job, each.variant) === leaf.id);
      if (told?.fault !== undefined) run.errored(leaf, messageOf(told.fault));
      else if (job === undefined) run.skipped(leaf);
      else if (job.holds) {
        for (const each of job.found) run.appendOutput(`${each.message} [${each.code}]\r\n`, undefined, leaf);
        run.passed(leaf);
      } else run.failed(leaf, job.found.filter((each) => each.severity === 'error').map(messageOf));
    }
  };

  const start = async (request: TestRunRequest): Promise<void> => {
    const run = controller.createTestRun(request);
    const asked = request.include ?? allOf(controller);
    const files = new Set(asked.map(fileOf));
    for (const file of files) {
      if (run.token.isCancellationRequested) break;
      const wanted = new Set(asked.flatMap((each) => [each, ...leavesOf(each)]).map((each) => each.id));
      const whole = asked.includes(file);
      await runFile(run, file, (leaf) => whole || wanted.has(leaf.id));
    }
    run.end();
  };
  const profile = controller.createRunProfile(l10n.t('Rehearse'), TestRunProfileKind.Run, start, true);
  controller.resolveHandler = async (item) => {
    if (item !== undefined) await refresh(item);
    else for (const uri of (await listFiles()).uris) fileItem(Uri.parse(uri));
  };
  controller.refreshHandler = async () => {
    controller.items.replace([]);
    for (const uri of (await listFiles()).uris) fileItem(Uri.parse(uri));
  };

  return Disposable.from(
    controller,
    workspace.onDidSaveTextDocument(async (document) => {
      // As one that runs by itself: nothing opens over what is being written.
      if (document.languageId === 'fettle')
        await start(new TestRunRequest([fileItem(document.uri)], undefined, profile, true));
    }),
    workspace.onDidDeleteFiles(({ files }) => {
      for (const uri of files) controller.items.delete(uri.toString());
    }),
  );
}

function grouped<job extends { readonly job: string | null }>(jobs: readonly job[]): Map<string | null, job[]> {
  const found = new Map<string | null, job[]>();
  for (const each of jobs) found.set(each.job, [...(found.get(each.job) ?? []), each]);
  return found;
}

function allOf(controller: TestController): TestItem[] {
  return [...controller.items].map(([, item]) => item);
}

function fileOf(item: TestItem): TestItem {
  return item.parent === undefined ? item : fileOf(item.parent);
}

function leavesOf(item: TestItem): TestItem[] {
  return item.children.size === 0 ? [item] : [...item.children].flatMap(([, child]) => leavesOf(child));
}
