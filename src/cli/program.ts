import { readFileSync } from 'node:fs';
import { Command, CommanderError } from 'commander';
import { Fault } from '../core/fault.js';
import type { CheckWish } from './check.js';
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
  addRunCommands(program, { config: CONFIG_HELP, set: SET_HELP }, version);
  bare('watch', 'a live view in the terminal of what a rover tells; a line a second into a pipe')
    .option('--url <url>', 'address of the daemon', 'http://127.0.0.1:5339')
    .option('--token-file <file>', 'file that holds the token; otherwise the variable LEEWAY_TOKEN is taken')
    .option('--ascii', 'draw with ASCII alone')
    .action(async (options: WatchOptions) => {
      const { watch } = await import('./watch.js');
      await watch(options);
    });

  command('check', 'bring-up: look at the sensor for some seconds, say what is wrong and what to do')
    .option('--json', 'one line of JSON instead of sentences')
    .option('--seconds <s>', 'how long to look, 2 to 600', number('--seconds', 2, 600))
    .option('--aim', 'find yaw and mirroring with a box ahead, then to the left')
    .option('--level', 'find pitch and roll from the floor while the rover turns on the spot')
    .option('--mask', 'learn what of the rover its own sensor sees, with 1 m free around')
    .option('--tape <m>', 'compare with a tape; given twice it tells the scale too', numbers('--tape', 0.05, 100))
    .option(
      '--bearing <degrees>',
      'with --tape: where the board stands, to the left of ahead',
      number('--bearing', -180, 180),
    )
    .option('--report <file>', 'write an HTML report, the baseline of later checks')
    .option('--write <file>', 'store what was found in a configuration file; comments stay')
    .option('--yes', 'take each step as done, wait for nobody')
    .action(async (options: ConfigOptions & CheckOptions) => {
      const { check } = await import('./check.js');
      await check(wishOf(options));
    });
  bare('ports', 'serial ports, what the system knows of each, their stable names, and who holds one')
    .argument('[path]', 'look at this port only, also where the system does not list it')
    .option('--json', 'one line of JSON instead of sentences')
    .action(async (path: string | undefined, options: { readonly json?: true }) => {
      const { ports } = await import('./ports.js');
      ports(path, options.json === true);
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

interface CheckOptions {
  readonly json?: true;
  readonly seconds?: number;
  readonly aim?: true;
  readonly level?: true;
  readonly mask?: true;
  readonly tape?: readonly number[];
  readonly bearing?: number;
  readonly report?: string;
  readonly write?: string;
  readonly yes?: true;
}

/** @throws {Fault} USAGE_WRONG for options that do not go together. */
function wishOf(options: ConfigOptions & CheckOptions): CheckWish {
  const { aim, level, mask, tape, bearing, report } = options;
  const modes = { aim: aim === true, level: level === true, mask: mask === true, tape: tape !== undefined };
  const asked = (['aim', 'level', 'mask', 'tape'] as const).filter((name) => modes[name]);
  const [what = 'all'] = asked;
  if (asked.length > 1) throw new Fault('USAGE_WRONG', { reason: `${asked.join(' and ')}: one at a time` });
  if (bearing !== undefined && what !== 'tape')
    throw new Fault('USAGE_WRONG', { reason: '--bearing goes with --tape' });
  if (report !== undefined && what !== 'all')
    throw new Fault('USAGE_WRONG', { reason: `--report does not go with --${what}` });
  return {
    config: options.config,
    sets: options.set ?? [],
    isJson: options.json === true,
    isYes: options.yes === true,
    seconds: options.seconds,
    what,
    tapes: tape ?? [],
    bearing: ((bearing ?? 0) * Math.PI) / 180,
    write: options.write,
    report,
  };
}

/** @returns reads a number of an option. @throws {Fault} USAGE_WRONG where it is none within the limits. */
function number(option: string, least: number, most: number): (text: string) => number {
  return (text) => {
    const value = text.trim() === '' ? NaN : Number(text);
    if (value >= least && value <= most) return value;
    throw new Fault('USAGE_WRONG', { option, value: text, expected: `a number, ${least} to ${most}` });
  };
}

function numbers(option: string, least: number, most: number): (text: string, sofar?: readonly number[]) => number[] {
  const read = number(option, least, most);
  return (text, sofar = []) => [...sofar, read(text)];
}

function version(): string {
  const found: unknown = JSON.parse(readFileSync(new URL('../../package.json', import.meta.url), 'utf8'));
  if (typeof found !== 'object' || found === null || !('version' in found))
    throw new TypeError('package.json has no version');
  return String(found.version);
}
