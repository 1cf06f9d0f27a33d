// How Fettle's own questions are answered: each with the types that messages.ts gives it, and a fault in one is no end of the server.
import type { Connection } from 'vscode-languageserver';
import type { ServerAnswers } from './messages.ts';
import type { Service } from './service.ts';

/** Gives what answers a question of ours; what can't be answered is null. */
export function answering(connection: Connection, { guarded }: Pick<Service, 'guarded'>) {
  return <question extends keyof ServerAnswers>(
    question: question,
    work: (
      params: ServerAnswers[question]['params'],
    ) => ServerAnswers[question]['result'] | Promise<ServerAnswers[question]['result']>,
  ): void => {
    const handle = (params: ServerAnswers[question]['params']): unknown =>
      guarded<unknown>(question, () => work(params), null);
    connection.onRequest(question, handle);
  };
}
