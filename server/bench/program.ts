// What runs in a bench page: the part of the command's bundle that both need, and what the page alone needs (client/build-shared.mjs). The page
// stands with little of it; the greater part, which reads and judges, comes after the page has been drawn.

const BEGIN = '/*:shared:*/';
const LATER = '/*:later:*/';
const END = '/*:own:*/';

export interface Program {
  /** Carried out as the page is opened. */
  readonly first: string;
  /** Carried out when the page stands. */
  readonly rest: string;
  /** The rest, deflated and in base 64, where the page is to be small. */
  readonly packed?: string;
}

/** What would end a script's element, or begin a comment in it, stands in no program of ours; should it, it is put otherwise. */
function fitForScript(text: string): string {
  return text.replace(/<\/(script)/gi, '<\\/$1').replace(/<!--/g, '<\\!--');
}

/** The page's program, from the texts of the two bundles. Throws where the first is none of ours. */
export function programOf(command: string, page: string): Program {
  const [begin, later, end] = [command.indexOf(BEGIN), command.indexOf(LATER), command.indexOf(END)] as const;
  if (begin < 0 || later < begin || end < later) throw new Error('the bundle has no part for the bench page');
  return {
    first: fitForScript(`${command.slice(begin + BEGIN.length, later)}${page}`),
    rest: fitForScript(command.slice(later + LATER.length, end)),
  };
}
