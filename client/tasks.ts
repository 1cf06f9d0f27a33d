// The task "check this folder": runs the `fettle` command that comes with the extension, in the terminal panel.
// Only a desktop editor can run it; the problems it prints are read back by the matcher in package.json.
import { type Disposable, l10n, ProcessExecution, Task, TaskGroup, TaskScope, tasks } from 'vscode';

/** Offers the task to the editor. `command` is the path of the bundled command. */
export function offerCheckTasks(command: string): Disposable {
  const check = () => {
    const run = new ProcessExecution(process.execPath, [command, 'check', '.'], {
      env: { ELECTRON_RUN_AS_NODE: '1' },
    });
    const name = l10n.t('check every spec in this folder');
    const task = new Task({ type: 'fettle' }, TaskScope.Workspace, name, 'fettle', run, '$fettle');
    task.group = TaskGroup.Test;
    return task;
  };
  return tasks.registerTaskProvider('fettle', { provideTasks: () => [check()], resolveTask: () => undefined });
}
