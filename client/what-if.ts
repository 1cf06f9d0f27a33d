// "What if…": another figure for the engine, or a repair size, tried without writing anything. While a figure is typed the list shows what it
// would do to compression, squish and clearances, and what would be wrong then.
import { commands, type Disposable, l10n, type QuickPickItem, window } from 'vscode';
import type { ServerAnswers } from '../server/protocol/messages.ts';
import type { AskServer } from './requests.ts';

type Told = NonNullable<ServerAnswers['fettle/whatIf']['result']>;
type Choice = Told['choices'][number];

/** Milliseconds without a key before a figure is tried. */
const quiet = 200;

/** The command "What if…". */
export function registerWhatIf(ask: AskServer): Disposable {
  return commands.registerCommand('fettle.whatIf', async (given?: string, name?: string) => {
    const document = window.activeTextEditor?.document;
    const uri = given ?? (document?.languageId === 'fettle' ? document.uri.toString() : undefined);
    const told = uri === undefined ? null : await ask('fettle/whatIf', { uri });
    if (uri === undefined || told === null || told.choices.length === 0) {
      window.showInformationMessage(l10n.t('There is no figure to try: write the engine first.'));
      return;
    }
    const chosen = told.choices.find((each) => each.name === name) ?? (await choose(told.choices));
    if (chosen !== undefined) tryOut(ask, uri, chosen);
  });
}

async function choose(choices: readonly Choice[]): Promise<Choice | undefined> {
  const rows = choices.map((choice) => ({ label: choice.title, choice }));
  return (await window.showQuickPick(rows, { title: l10n.t('What if: which figure?') }))?.choice;
}

function tryOut(ask: AskServer, uri: string, choice: Choice): void {
  const box = window.createQuickPick();
  box.title =
    choice.text === null
      ? l10n.t('What if {0} is fitted? Nothing is written into the spec.', choice.title)
      : l10n.t('What if {0} is not {1}? Nothing is written into the spec.', choice.name, choice.text);
  box.placeholder = choice.text ?? '';
  if (choice.text !== null) box.value = choice.text;
  let pause: ReturnType<typeof setTimeout> | undefined;
  let last = 0;
  const show = async (): Promise<void> => {
    last += 1;
    const mine = last;
    box.busy = true;
    const text = choice.text === null ? {} : { text: box.value };
    const told = await ask('fettle/whatIf', { uri, name: choice.name, ...text });
    // Only what was asked last counts.
    if (mine !== last) return;
    box.busy = false;
    box.items = rowsOf(told?.outcomes ?? [], choice, box.value);
  };
  box.onDidChangeValue(() => {
    if (choice.text === null) return;
    clearTimeout(pause);
    pause = setTimeout(show, quiet);
  });
  box.onDidAccept(() => box.hide());
  box.onDidHide(() => {
    clearTimeout(pause);
    last += 1;
    box.dispose();
  });
  box.show();
  void show();
}

function rowsOf(outcomes: Told['outcomes'], choice: Choice, value: string): readonly QuickPickItem[] {
  if (outcomes.length === 0)
    return [
      {
        label:
          choice.text !== null && value === choice.text
            ? l10n.t('Type another figure.')
            : l10n.t('Nothing would change.'),
        alwaysShow: true,
      },
    ];
  return outcomes.map(({ name, before, after }): QuickPickItem => {
    if (name !== 'error' && name !== 'warning')
      return { label: name, description: before === '' ? after : `${before}  →  ${after}`, alwaysShow: true };
    const [label, detail] = inTwoLines(after);
    return { label: `$(${name}) ${label}`, ...(detail === '' ? {} : { detail }), alwaysShow: true };
  });
}

/** Letters that a row of the list shows, in the smallest of windows. */
const row = 78;

/** A sentence on the two lines that a row has. */
function inTwoLines(text: string): readonly [first: string, second: string] {
  if (text.length <= row) return [text, ''];
  const at = text.lastIndexOf(' ', row);
  return at <= 0 ? [text, ''] : [text.slice(0, at), text.slice(at + 1)];
}
