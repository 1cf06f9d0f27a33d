// The `fettle` command: reads what was asked and runs it. One file for each command; none of their work is done here.
import { Command, CommanderError, Option } from 'commander';
import { LANGUAGES, languageOf } from '../../grammar/languages.ts';
import { type Told, told } from '../../grammar/told.ts';
import { type BenchOptions, type BenchProgram, bench } from './bench.ts';
import { type BundleOptions, bundle } from './bundle.ts';
import { type CheckOptions, check } from './check.ts';
import type { StartWorker } from './check-workers.ts';
import { explain } from './explain.ts';
import { type FormatOptions, format } from './format.ts';
import { type ListOptions, list } from './list.ts';
import { type NewOptions, newSpec } from './new-spec.ts';
import { type Ends, lines, type Streams, shown, streamsOver } from './output.ts';
import { type PictureOptions, picture } from './picture.ts';
import { type ReachOptions, reach } from './reach.ts';
import { type RecordOptions, record } from './record.ts';
import { type RehearseOptions, rehearse } from './rehearse.ts';
import { type ReviewOptions, review } from './review.ts';
import { type SheetOptions, sheet } from './sheet.ts';
import { CannotDo, remark } from './streams.ts';
import { type ValuesOptions, values } from './values.ts';

/** Starts the language server on standard input and output; given by the entry, which knows where the server lies. */
export type Serve = () => Promise<number>;

const CAUTION = told`The maker's manual, local rules and licensed practice come first. A figure that Fettle works out is a check, not an instruction.`;

/** Runs the command with its arguments (without node and script). Gives the exit status: 0, 1 or 2. */
export async function run(
  args: readonly string[],
  ends: Ends,
  serve: Serve,
  version: () => string = () => 'unknown',
  /** Starts a worker for many files; without it, all is done in this thread. */
  start?: StartWorker,
  benchProgram: BenchProgram = () => ({ first: '', rest: '' }),
): Promise<number> {
  const { language, rest } = languageIn(args);
  const streams = streamsOver(ends, language ?? ends.language);
  let status = 0;
  const does =
    <given extends unknown[]>(work: (...given: given) => number | Promise<number>) =>
    async (...given: given): Promise<void> => {
      status = await work(...given);
    };
  const program = commands(streams, serve, does, start, version, benchProgram);
  program.option('--version', streams.say(told`which Fettle this is`));
  program.option('--language <language>', streams.say(told`the language to answer in; else that of the surroundings`));
  program.on('option:version', () => {
    streams.out(shown`${version()}\n`);
    throw new CommanderError(0, 'fettle.version', '');
  });
  try {
    if (language !== undefined && language !== 'en' && streams.words === undefined)
      throw new CannotDo(
        told`There are no words of the language ${language}. There are ${told.list(['en', ...LANGUAGES], 'and')}.`,
      );
    if (rest.length === 0) {
      program.outputHelp();
      throw new CannotDo(told`Name one of these commands.`);
    }
    await program.parseAsync([...rest], { from: 'user' });
    return status;
  } catch (error) {
    if (error instanceof CannotDo) {
      remark(streams, error.told);
      return 2;
    }
    if (error instanceof CommanderError) return error.exitCode === 0 ? 0 : 2;
    const said = error instanceof Error ? error.message : String(error);
    remark(
      streams,
      told`something went wrong inside Fettle itself, not in your spec: ${said}. Please report it with the file that shows it.`,
    );
    return 2;
  }
}

/** The language that is asked for, wherever it stands before a lone `--`; and what else was asked. */
function languageIn(args: readonly string[]): { readonly language?: string; readonly rest: readonly string[] } {
  const end = args.indexOf('--') < 0 ? args.length : args.indexOf('--');
  const at = args.findIndex((each, i) => i < end && /^--language(=|$)/.test(each));
  if (at < 0) return { rest: args };
  const [, joined] = /^--language=(.*)$/.exec(args[at] ?? '') ?? [];
  const written = joined ?? args[at + 1] ?? '';
  return {
    language: languageOf(written) ?? written.toLowerCase(),
    rest: [...args.slice(0, at), ...args.slice(at + (joined === undefined ? 2 : 1))],
  };
}

type Does = <given extends unknown[]>(
  work: (...given: given) => number | Promise<number>,
) => (...given: given) => Promise<void>;

function commands(
  streams: Streams,
  serve: Serve,
  does: Does,
  start: StartWorker | undefined,
  version: () => string,
  benchProgram: BenchProgram,
): Command {
  const { say } = streams;
  const program = new Command('fettle')
    .description(say(told`Engine build specs in plain text: checked and worked out before the job.`))
    .exitOverride()
    .addHelpText('after', `\n${say(CAUTION)}\n`)
    .configureOutput({
      writeOut: (text) => streams.out(lines(text)),
      writeErr: (text) => streams.out(lines(text)),
      outputError: (text) => remark(streams, wrongUse(text)),
    });
  program
    .command('new')
    .argument('<name>')
    .description(say(told`write a first spec to change`))
    .option('--layout <layout>', say(told`how the cylinders lie: inline, vee, flat or radial`))
    .option('--cylinders <number>', say(told`how many`))
    .option('--output <file>', say(told`where to write it`))
    .action(does((name: string, options: NewOptions) => newSpec(name, options, streams)));
  program
    .command('check')
    .argument('<paths...>')
    .description(say(told`say what is wrong, missing or out of order`))
    .option('--variant <name>', say(told`one variant alone`))
    .option('--job <name>', say(told`one job alone`))
    .option('--format <format>', say(told`text, json or sarif`), 'text')
    .option('--strict', say(told`warnings count as faults`))
    .option('--unsaid', say(told`list too what is left unsaid, and what it would make checkable`))
    .action(does((paths: string[], options: CheckOptions) => check(paths, options, streams, start, version())));
  program
    .command('values')
    .argument('<file>')
    .description(say(told`every value that is worked out, with its working`))
    .option('--variant <name>', say(told`for this variant`))
    .option('--format <format>', say(told`text or json`), 'text')
    .action(does((path: string, options: ValuesOptions) => values(path, options, streams)));
  program
    .command('format')
    .argument('[paths...]')
    .description(say(told`put files into the canonical layout`))
    .option('--check', say(told`change nothing, list what would change`))
    .option('--stdin', say(told`from standard input to standard output`))
    .option('--print', say(told`one file to standard output, the file left as it is`))
    .action(does((paths: string[], options: FormatOptions) => format(paths, options, streams)));
  program
    .command('rehearse')
    .argument('<file>')
    .description(say(told`the job step by step: what each action does to the engine`))
    .option('--variant <name>', say(told`for this variant`))
    .option('--job <name>', say(told`one job alone`))
    .option('--format <format>', say(told`text or json`), 'text')
    .action(does((path: string, options: RehearseOptions) => rehearse(path, options, streams)));
  program
    .command('sheet')
    .argument('<file>')
    .description(say(told`write the bench sheet, or the sheet of a record, to print`))
    .option('--variant <name>', say(told`for this variant`))
    .option('--job <name>', say(told`one job alone`))
    .option('--for <reader>', say(told`customer: a record without its inner notes`))
    .requiredOption('--output <file>', say(told`the page to write`))
    .action(does((path: string, options: SheetOptions) => sheet(path, options, streams)));
  program
    .command('list')
    .argument('<file>')
    .description(say(told`what to buy, what to send out and which tools to lay out for a job`))
    .option('--variant <name>', say(told`for this variant`))
    .option('--job <name>', say(told`one job alone`))
    .option('--format <format>', say(told`text, csv or json`), 'text')
    .action(does((path: string, options: ListOptions) => list(path, options, streams)));
  program
    .command('bench')
    .argument('<file>')
    .description(say(told`write the bench page: one file to work a job by, on a tablet without a network`))
    .option('--variant <name>', say(told`for this variant`))
    .option('--job <name>', say(told`the job; else the first`))
    .requiredOption('--output <file>', say(told`the page to write`))
    .action(does((path: string, options: BenchOptions) => bench(path, options, streams, benchProgram)));
  program
    .command('picture')
    .argument('<file>')
    .argument('[what]')
    .argument('[name]')
    .description(say(told`one picture of the engine as vector graphics; without a name, which there are`))
    .option('--variant <name>', say(told`for this variant`))
    .option('--job <name>', say(told`one job alone`))
    .option('--step <name>', say(told`as it stands after this step`))
    .option('--output <file>', say(told`the picture to write`))
    .action(
      does((path: string, what: string | undefined, name: string | undefined, options: PictureOptions) =>
        picture(path, what, name, options, streams),
      ),
    );
  program
    .command('review')
    .argument('<paths...>')
    .description(say(told`what changed for the bench between two specs, by meaning`))
    .option('--git <revision>', say(told`one file against how it was at a revision, or REV1..REV2`))
    .option('--format <format>', say(told`text, markdown, json or html`), 'text')
    .option('--output <file>', say(told`where to write it`))
    .action(does((paths: string[], options: ReviewOptions) => review(paths, options, streams)));
  program
    .command('reach')
    .argument('<file>')
    .argument('<part>')
    .argument('[places...]', say(told`single places of it: left, or 3`))
    .description(say(told`what comes off to get at a part, what must be new and what is proved again`))
    .option('--variant <name>', say(told`for this variant`))
    .option('--format <format>', say(told`text or json`), 'text')
    .option('--as-job', say(told`written as a job, for a file beside the spec`))
    .action(
      does((path: string, part: string, places: string[], options: ReachOptions) =>
        reach(path, part, places, options, streams),
      ),
    );
  program
    .command('record')
    .argument('<file>')
    .description(say(told`a record against its spec: measured, done, outstanding, outside`))
    .option('--format <format>', say(told`text or json`), 'text')
    .action(does((path: string, options: RecordOptions) => record(path, options, streams)));
  program
    .command('bundle')
    .argument('<file>')
    .description(say(told`one file that holds all that a file uses, to send to someone`))
    .option('--output <file>', say(told`where to write it`))
    .action(does((path: string, options: BundleOptions) => bundle(path, options, streams)));
  program
    .command('explain')
    .argument('<code>')
    .description(say(told`the help page of a finding`))
    .action(does((code: string) => explain(code, streams)));
  program
    .command('serve')
    .description(say(told`the language server, for any editor`))
    .option('--stdio', say(told`over standard input and output`))
    // How VS Code starts it: over a pipe of its own. The channel reads these for itself.
    .addOption(new Option('--node-ipc').hideHelp())
    .addOption(new Option('--clientProcessId <id>').hideHelp())
    .action(
      does((options: { readonly stdio?: true; readonly nodeIpc?: true }) => {
        if (options.stdio === undefined && options.nodeIpc === undefined)
          throw new CannotDo(told`Say over what: fettle serve --stdio.`);
        return serve();
      }),
    );
  return program;
}

/** What the argument reader says of wrong use, as one line that says what to do. */
function wrongUse(text: string): Told {
  const is = text
    .replace(/^error: /, '')
    .replace(/\s+/g, ' ')
    .trim();
  return told`${inOurWords(is) ?? (/[.?)]$/.test(is) ? is : `${is}.`)} fettle --help says how it is used.`;
}

/** What the argument reader says most often, in words of ours and so in every language. */
function inOurWords(is: string): Told | undefined {
  const [, lacks] = /^(?:required option|missing required argument) '([^']+)'/.exec(is) ?? [];
  if (lacks !== undefined) return told`${lacks} is missing.`;
  const [, what, unknown, near] = /^unknown (command|option) '([^']+)'(?: \(Did you mean ([^?]+)\?\))?/.exec(is) ?? [];
  if (unknown === undefined) return undefined;
  const none = what === 'command' ? told`There is no command ${unknown}.` : told`There is no option ${unknown}.`;
  return near === undefined ? none : told`${none} Did you mean ${near}?`;
}
