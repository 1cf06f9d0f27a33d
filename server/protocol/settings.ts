// The settings of the editor that the server heeds, asked for once and again when they change.
import { type Connection, DidChangeConfigurationNotification } from 'vscode-languageserver';
import { letFail, type Service } from './service.ts';

export interface HintSettings {
  readonly otherUnits: boolean;
  readonly results: boolean;
  readonly marks: boolean;
}

export interface Settings {
  /** The settings on hints; an editor that can't be asked has the usual ones. */
  hints(): Promise<HintSettings>;
  watch(): void;
}

export function followSettings(connection: Connection, { abilities }: Service): Settings {
  let known: Promise<HintSettings> | undefined;
  const ask = async (): Promise<HintSettings> => {
    const usual = { otherUnits: false, results: true, marks: true };
    if (!abilities().hasSettings) return usual;
    try {
      const told: Partial<HintSettings> | null = await connection.workspace.getConfiguration('fettle.hints');
      return {
        otherUnits: told?.otherUnits === true,
        results: told?.results !== false,
        marks: told?.marks !== false,
      };
    } catch {
      return usual;
    }
  };
  connection.onDidChangeConfiguration(() => {
    known = undefined;
    if (abilities().refreshesHints) letFail(connection.languages.inlayHint.refresh());
    if (abilities().refreshesLenses) letFail(connection.sendRequest('workspace/codeLens/refresh'));
  });
  return {
    hints() {
      known ??= ask();
      return known;
    },
    watch() {
      if (abilities().registersSettings)
        letFail(connection.client.register(DidChangeConfigurationNotification.type, { section: 'fettle' }));
    },
  };
}
