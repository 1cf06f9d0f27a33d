// The settings of the editor that the server heeds, asked for once and again when they change.
import { type Connection, DidChangeConfigurationNotification } from 'vscode-languageserver';
import type { Finding, Severity } from '../model/finding.ts';
import { letFail, type Service } from './service.ts';

export interface HintSettings {
  readonly otherUnits: boolean;
  readonly results: boolean;
  readonly marks: boolean;
}

/** How heavy a check weighs in this editor, by its code; `off` for one that is left out. */
export type CheckWeights = ReadonlyMap<string, Severity | 'off'>;

export interface Settings {
  /** The weights that are set, as far as they are known; told of when they change. */
  weights(): CheckWeights;
  /** The settings on hints; an editor that can't be asked has the usual ones. */
  hints(): Promise<HintSettings>;
  watch(): void;
}

const WEIGHTS: ReadonlySet<unknown> = new Set(['error', 'warning', 'information', 'off']);

function readWeights(told: unknown): CheckWeights {
  if (typeof told !== 'object' || told === null) return new Map();
  return new Map(Object.entries(told).filter(([, weight]) => WEIGHTS.has(weight)));
}

/** The findings as they weigh in this editor. */
export function weighed(findings: readonly Finding[], weights: CheckWeights): readonly Finding[] {
  if (weights.size === 0) return findings;
  return findings.flatMap((finding) => {
    const weight = weights.get(finding.code);
    return weight === 'off' ? [] : weight === undefined ? [finding] : [{ ...finding, severity: weight }];
  });
}

/** `onWeights` is called when the weights of checks have changed. */
export function followSettings(
  connection: Connection,
  { abilities }: Service,
  onWeights: () => void = () => undefined,
): Settings {
  let known: Promise<HintSettings> | undefined;
  let weights: CheckWeights = new Map();
  const askWeights = async (): Promise<void> => {
    if (!abilities().hasSettings) return;
    try {
      const told: unknown = await connection.workspace.getConfiguration('fettle.checks');
      const next = readWeights(told);
      if (JSON.stringify([...next]) === JSON.stringify([...weights])) return;
      weights = next;
      onWeights();
    } catch {
      // An editor without them has the usual ones.
    }
  };
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
    void askWeights();
    if (abilities().refreshesHints) letFail(connection.languages.inlayHint.refresh());
    if (abilities().refreshesLenses) letFail(connection.sendRequest('workspace/codeLens/refresh'));
  });
  return {
    weights: () => weights,
    hints() {
      known ??= ask();
      return known;
    },
    watch() {
      void askWeights();
      if (abilities().registersSettings)
        letFail(connection.client.register(DidChangeConfigurationNotification.type, { section: 'fettle' }));
    },
  };
}
