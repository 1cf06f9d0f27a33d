// Asks the server the questions listed in server/protocol/messages.ts, with their types. No question lives here.
import type { BaseLanguageClient } from 'vscode-languageclient';
import type { ServerAnswers } from '../server/protocol/messages.ts';

/** Puts one question to the server. Rejects when the server is stopped or fails. */
export type AskServer = <Question extends keyof ServerAnswers>(
  question: Question,
  params: ServerAnswers[Question]['params'],
) => Promise<ServerAnswers[Question]['result']>;

/** The one way from a command or a view to the server. */
export function askThrough(client: BaseLanguageClient): AskServer {
  return (question, params) => client.sendRequest(question, params);
}
