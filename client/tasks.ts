// The tasks of a folder: check it, write its values, rehearse its jobs. Each runs the `fettle` command that comes with the extension, in the
// terminal panel; what it prints is read back by the matcher in package.json. Only a desktop editor can run them.
import {
  type Disposable,
  l10n,
  ProcessExecution,
  Task,
  type TaskDefinition,
  TaskGroup,
  TaskScope,
  tasks,
} from 'vscode';

/** A task as tasks.json has it. */
interface Wanted extends TaskDefinition {
  readonly command?: string;
  readonly arguments?: readonly string[];
}

/** What of the command a task may run: what reads alone. */
const RUNS = ['check', 'values', 'rehearse', 'list'];

/** Offers the tasks to the editor. `program` is the path of the bundled command. */
export function offerCheckTasks(program: string): Disposable {
  const task = (wanted: Wanted, name: string): Task | undefined => {
    const command = wanted.command ?? 'check';
    if (!RUNS.includes(command)) return undefined;
    const given = Array.isArray(wanted.arguments) ? wanted.arguments.map(String) : [];
    const words = [command, ...(given.length > 0 || command !== 'check' ? given : ['.'])];
    const run = new ProcessExecution(process.execPath, [program, ...words], { env: { ELECTRON_RUN_AS_NODE: '1' } });
    const made = new Task(wanted, TaskScope.Workspace, name, 'fettle', run, '$fettle');
    if (command === 'check') made.group = TaskGroup.Test;
    return made;
  };
  return tasks.registerTaskProvider('fettle', {
    provideTasks: () =>
      [
        task({ type: 'fettle' }, l10n.t('check every spec in this folder')),
        task(
          { type: 'fettle', command: 'check', arguments: ['.', '--unsaid'] },
          l10n.t('check, and list what is left unsaid'),
        ),
      ].filter((each) => each !== undefined),
    // A task of tasks.json comes without what it runs; its definition has to stay the same object.
    resolveTask: ({ definition, name }) => task(definition, name),
  });
}
