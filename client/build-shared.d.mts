/** What the command and the bench page are made from, and how. */
export interface Shared {
  readonly wayIn: string;
  readonly command: string;
  readonly page: string;
  readonly how: object;
}

export function sharedOf(root: string): Shared;

/** The texts of the program, of the file that starts it and of the bench page. */
export function buildShared(
  shared: Shared,
): Promise<{ readonly program: string; readonly wayIn: string; readonly benchPage: string }>;
