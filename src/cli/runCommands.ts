import type { Command } from 'commander';
import type { AskOptions } from './runAsk.js';
import type { RunsOptions } from './runs.js';

/** Adds `runs ...` to the command line. @param help of the options that every command of a configuration has. */
export function addRunCommands(
  program: Command,
  help: Readonly<{ config: string; set: string }>,
  version: () => string,
): void {
  const runs = program
    .command('runs')
    .description('recorded runs; RUN is a name from the list, a path, or "" for the newest')
    .helpOption('--help', 'print help');
  const command = (usage: string, description: string): Command =>
    runs
      .command(usage)
      .description(description)
      .helpOption('--help', 'print help')
      .allowExcessArguments(false)
      .option('--config <file>', help.config)
      .option('--set <key=value>', help.set, (set: string, sets: readonly string[] = []) => [...sets, set]);

  const ask = (usage: string, description: string): Command =>
    runs
      .command(usage)
      .description(description)
      .helpOption('--help', 'print help')
      .allowExcessArguments(false)
      .option('--url <url>', 'address of the daemon', 'http://127.0.0.1:5339')
      .option('--token-file <file>', 'file that holds the token; otherwise the variable LEEWAY_TOKEN is taken');

  command('list', 'when, how long, distance, closest approach, size, findings; newest first')
    .option('--json', 'one JSON line a run')
    .action(async (options: RunsOptions) => (await import('./runs.js')).runsList(options));
  command('show [run]', 'what happened, with times to seek to')
    .option('--json', 'as JSON')
    .action(async (run: string | undefined, options: RunsOptions) =>
      (await import('./runs.js')).runsShow(run ?? '', options),
    );
  command('report [run]', 'a page to be looked at, printed and sent: path, clearance, approaches, noise, health')
    .option('--out <file>', 'the page; otherwise NAME.html here')
    .option('--pdf <file>', 'also as PDF, through a browser on this machine')
    .action(async (run: string | undefined, options: RunsOptions) =>
      (await import('./runReports.js')).runsReport(run ?? '', options, version()),
    );
  command('compare [run]', 'two settings over one run: A as --config and --set say, B with what --with adds')
    .option('--with <key=value>', 'of B; may be given again', (set: string, sets: readonly string[] = []) => [
      ...sets,
      set,
    ])
    .option('--with-config <file>', 'configuration file of B')
    .option('--out <file>', 'also draw the differences into a page')
    .option('--json', 'as JSON')
    .action(async (run: string | undefined, options: RunsOptions) =>
      (await import('./runReports.js')).runsCompare(run ?? '', options, version()),
    );
  command('export [runs...]', 'tables for other programs: OUT/TABLE/rover=ROVER/day=DAY/RUN.FORMAT')
    .option('--out <folder>', 'where to; otherwise export')
    .option('--format <format>', 'parquet, csv or ndjson; otherwise parquet')
    .option('--tables <names>', 'some of echoes,sweeps,clearance,walls,movers,motion,events')
    .option('--all', 'every run of the folder')
    .action(async (names: string[], options: RunsOptions) =>
      (await import('./runExport.js')).runsExport(names, options),
    );
  command(
    'import <input>',
    'sweeps that were recorded elsewhere become a run: NDJSON, plain or gzip; - for standard input',
  )
    .option('--title <title>', 'of the run')
    .action(async (input: string, options: RunsOptions & { readonly title?: string }) =>
      (await import('./runImport.js')).runsImport(input, options, version()),
    );
  command('check [run]', 'reads everything; ends with 3 where something is wrong')
    .option('--repair', 'make a run whole that was cut off; of a damaged one, save what can be read')
    .option('--json', 'as JSON')
    .action(async (run: string | undefined, options: RunsOptions & { readonly repair?: boolean }) =>
      (await import('./runs.js')).runsCheck(run ?? '', options.repair === true, options),
    );
  ask('start', 'a daemon that is running begins to record')
    .option('--title <title>', 'of the run')
    .action(async (options: AskOptions & { readonly title?: string }) =>
      (await import('./runAsk.js')).runsStart(options),
    );
  ask('stop', 'it stops').action(async (options: AskOptions) => (await import('./runAsk.js')).runsStop(options));
  ask('mark <text>', 'puts a note into the run being recorded').action(async (text: string, options: AskOptions) =>
    (await import('./runAsk.js')).runsMark(text, options),
  );
  command('pin <run>', 'it stays when room is needed')
    .option('--off', 'no longer')
    .action(async (run: string, options: RunsOptions & { readonly off?: boolean }) =>
      (await import('./runs.js')).runsChange(run, { pinned: options.off !== true }, options),
    );
  command('title <run> <title>', 'gives it a title').action(async (run: string, title: string, options: RunsOptions) =>
    (await import('./runs.js')).runsChange(run, { title }, options),
  );
  command('remove <run>', 'deletes it, even if pinned').action(async (run: string, options: RunsOptions) =>
    (await import('./runs.js')).runsChange(run, { remove: true }, options),
  );
}
