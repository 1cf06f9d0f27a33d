// What runs in a bench page: the part of the command's bundle that both need, and what the page alone needs (client/build-shared.mjs).

const BEGIN = '/*:shared:*/';
const END = '/*:own:*/';

/** The page's program, from the texts of the two bundles. */
export function programOf(command: string, page: string): string {
  const [begin, end] = [command.indexOf(BEGIN), command.indexOf(END)];
  return begin < 0 || end < begin ? page : `${command.slice(begin + BEGIN.length, end)}${page}`;
}
