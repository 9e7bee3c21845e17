import { readFileSync } from 'node:fs';
import { Command, CommanderError } from 'commander';
import { Fault } from '../core/fault.js';
import { addRunCommands } from './runCommands.js';
import type { WatchOptions } from './watch.js';

const CONFIG_HELP = 'configuration file, YAML; deploy/example.yaml names every key';
const SET_HELP = 'one value over the file, such as server.port=8080; may be given again';

/**
 * Runs one command line.
 * @param argv the words after the program's name.
 * @throws {Fault} what a person can act on; USAGE_WRONG for words that no command takes.
 */
export async function runCommandLine(argv: readonly string[]): Promise<void> {
  const program = new Command('leeway')
    .description(
      'Free distance around a small rover that evidence vouches for, from the bytes of a spinning range finder.',
    )
    .version(version(), '--version', 'print the version')
    .helpOption('--help', 'print help')
    .helpCommand(false)
    .exitOverride()
    .configureOutput({ writeErr: () => {}, outputError: () => {} }); // a usage error is told once, as a Fault

  const bare = (usage: string, description: string): Command =>
    program.command(usage).description(description).helpOption('--help', 'print help').allowExcessArguments(false);
  const command = (usage: string, description: string): Command =>
    bare(usage, description)
      .option('--config <file>', CONFIG_HELP)
      .option('--set <key=value>', SET_HELP, (set: string, sets: readonly string[] = []) => [...sets, set]);

  command('serve', 'run the daemon; without a configuration: on the built-in simulated rover').action(
    async (options: ConfigOptions) => {
      const { serve } = await import('./serve.js');
      await serve(options.config, options.set ?? [], version());
    },
  );
  command('process', 'perception over a run or recorded sweeps, one JSON line a sweep, without a server')
    .argument('<input>', 'a run, or NDJSON sweeps, plain or gzip; - for standard input')
    .option('--out <file>', 'write to a file, complete or not at all, instead of standard output')
    .action(async (input: string, options: ConfigOptions & { readonly out?: string }) => {
      const { processInput } = await import('./process.js');
      await processInput(input, options.config, options.set ?? [], options.out);
    });
  addRunCommands(program, { config: CONFIG_HELP, set: SET_HELP });
  bare('watch', 'a live view in the terminal of what a rover tells; a line a second into a pipe')
    .option('--url <url>', 'address of the daemon', 'http://127.0.0.1:5339')
    .option('--token-file <file>', 'file that holds the token; otherwise the variable LEEWAY_TOKEN is taken')
    .option('--ascii', 'draw with ASCII alone')
    .action(async (options: WatchOptions) => {
      const { watch } = await import('./watch.js');
      await watch(options);
    });

  try {
    await program.parseAsync(argv, { from: 'user' });
  } catch (error) {
    if (!(error instanceof CommanderError)) throw error;
    if (error.exitCode === 0) return; // help or version
    const reason = error.code === 'commander.help' ? 'no command given' : error.message.replace(/^error: /, '');
    throw new Fault('USAGE_WRONG', { reason }, error);
  }
}

interface ConfigOptions {
  readonly config?: string;
  readonly set?: readonly string[];
}

function version(): string {
  const found: unknown = JSON.parse(readFileSync(new URL('../../package.json', import.meta.url), 'utf8'));
  if (typeof found !== 'object' || found === null || !('version' in found))
    throw new TypeError('package.json has no version');
  return String(found.version);
}
