// The `fettle` command: reads what was asked and runs it. One file for each command.
import { Command, CommanderError } from 'commander';
import { type CheckOptions, check } from './check.ts';
import { explain } from './explain.ts';
import { type FormatOptions, format } from './format.ts';
import { type NewOptions, newSpec } from './new-spec.ts';
import { sheet } from './sheet.ts';
import { CannotDo, type Streams } from './streams.ts';
import { values } from './values.ts';

/** Starts the language server on standard input and output; given by the entry, which knows where the server lies. */
export type Serve = () => Promise<number>;

const CAUTION =
  "\nThe maker's manual, local rules and licensed practice come first. A figure that Fettle works out is a check, not an instruction.\n";

/** Runs the command with its arguments (without node and script). Gives the exit status: 0, 1 or 2. */
export async function run(args: readonly string[], streams: Streams, serve: Serve): Promise<number> {
  let status = 0;
  const program = new Command('fettle')
    .description('Engine build specs in plain text: checked and worked out before the job.')
    .exitOverride()
    .showSuggestionAfterError(true)
    .addHelpText('after', CAUTION)
    .configureOutput({
      writeOut: (text) => streams.out(text),
      writeErr: (text) => streams.err(text),
      outputError: (text, write) => write(text.replace(/^error: /, 'fettle: ')),
    });
  const does = (work: () => number | Promise<number>): Promise<void> =>
    Promise.resolve(work()).then((result) => {
      status = result;
    });
  program
    .command('new')
    .argument('<name>')
    .description('write a first spec to change')
    .option('--layout <layout>', 'how the cylinders lie: inline, vee or flat')
    .option('--cylinders <number>', 'how many')
    .option('--output <file>', 'where to write it')
    .action(async (name: string, options: NewOptions) => does(() => newSpec(name, options, streams)));
  program
    .command('check')
    .argument('<paths...>')
    .description('say what is wrong, missing or out of order')
    .option('--variant <name>', 'one variant alone')
    .option('--job <name>', 'one job alone')
    .option('--format <format>', 'text, json or sarif', 'text')
    .option('--strict', 'warnings count as faults')
    .action(async (paths: string[], options: CheckOptions) => does(() => check(paths, options, streams)));
  program
    .command('values')
    .argument('<file>')
    .description('every value that is worked out, with its working')
    .option('--variant <name>', 'for this variant')
    .option('--format <format>', 'text or json', 'text')
    .action(async (path: string, options: { variant?: string; format?: string }) =>
      does(() => values(path, options, streams)),
    );
  program
    .command('format')
    .argument('[paths...]')
    .description('put files into the canonical layout')
    .option('--check', 'change nothing, list what would change')
    .option('--stdin', 'from standard input to standard output')
    .action(async (paths: string[], options: FormatOptions) => does(() => format(paths, options, streams)));
  program
    .command('sheet')
    .argument('<file>')
    .description('write the bench sheet, one page to print')
    .option('--variant <name>', 'for this variant')
    .requiredOption('--output <file>', 'the page to write')
    .action(async (path: string, options: { variant?: string; output: string }) =>
      does(() => sheet(path, options, streams)),
    );
  program
    .command('explain')
    .argument('<code>')
    .description('the help page of a finding')
    .action(async (code: string) => does(() => explain(code, streams)));
  program
    .command('serve')
    .description('the language server, for any editor')
    .option('--stdio', 'over standard input and output')
    .action(async () => does(serve));
  try {
    await program.parseAsync([...args], { from: 'user' });
    return status;
  } catch (error) {
    if (error instanceof CannotDo) {
      streams.err(`fettle: ${error.message}\n`);
      return 2;
    }
    if (error instanceof CommanderError) return error.exitCode === 0 ? 0 : 2;
    streams.err(
      `fettle: something went wrong inside Fettle itself, not in your spec: ${error instanceof Error ? error.message : String(error)}. Please report it with the file that shows it.\n`,
    );
    return 2;
  }
}
