import { loadConfig } from '../config/load.js';
import { Fault } from '../core/fault.js';
import type { FeedMessage } from '../pipeline/feedMessage.js';
import { damageOf, looksLikeRun, RunFile } from '../runs/runFile.js';
import { inputLines } from './inputLines.js';
import { openOutput } from './output.js';
import { Perceiver } from './perceiver.js';
import { playThrough } from './playThrough.js';
import { replaySettings } from './replay.js';
import { RunLines } from './runLines.js';
import { readSweepLine } from './sweepLines.js';

const SIGNALS = { SIGINT: 130, SIGTERM: 143 } as const; // 128 + the signal's number, as shells have it

/**
 * `leeway process`: perception over a run or recorded sweeps, one JSON line a sweep, no wall-clock time in it.
 *
 * @param input path or `-`. @param config path of the configuration. @param sets `KEY=VALUE`. @param out path; undefined: standard output.
 * @throws {Fault} of the configuration; of the run; INPUT_UNREADABLE, INPUT_LINE_BAD, OUTPUT_UNWRITABLE. Then no output file is left.
 */
export async function processInput(
  input: string,
  config: string | undefined,
  sets: readonly string[],
  out: string | undefined,
): Promise<void> {
  const isRun = input !== '-' && looksLikeRun(input);
  const lines = isRun ? linesOfRun(input, config, sets) : linesOfSweeps(input, config, sets);
  const output = openOutput(out);
  const stops = Object.entries(SIGNALS).map(([signal, code]) => {
    const stop = (): void => void output.abandon().finally(() => process.exit(code)); // the input may be a terminal that waits
    process.once(signal, stop); // a second one ends it at once, as by default
    return () => process.off(signal, stop);
  });
  let sweeps = 0;
  let isWanted = true;
  let damage: Fault | undefined;
  try {
    damage = await lines(async (line) => {
      isWanted = await output.write(line);
      if (isWanted) sweeps++;
      return isWanted;
    });
    await output.finish();
  } catch (error) {
    await output.abandon();
    throw error;
  } finally {
    for (const off of stops) off();
  }
  if (isWanted) process.stderr.write(`${sweeps} sweeps\n`);
  if (damage) throw damage; // what could be read stands
}

/** Hands over line by line until there are no more, or no more are wanted. @returns what could not be read. */
type Lines = (write: (line: string) => Promise<boolean>) => Promise<Fault | undefined>;

function linesOfSweeps(input: string, config: string | undefined, sets: readonly string[]): Lines {
  const perceiver = new Perceiver(loadConfig(config, sets));
  return async (write) => {
    let newest = -Infinity;
    for await (const { number, text } of inputLines(input)) {
      const line = readSweepLine(text, number);
      if (line.t < newest)
        throw new Fault('INPUT_LINE_BAD', { line: number, reason: `t goes back from ${newest} to ${line.t}` });
      newest = line.t;
      if (!(await write(perceiver.push(line)))) break;
    }
    return undefined;
  };
}

function linesOfRun(input: string, config: string | undefined, sets: readonly string[]): Lines {
  const run = new RunFile(input);
  const settings = replaySettings(run, config, sets);
  return async (write) => {
    const lines = new RunLines();
    const waiting: string[] = [];
    const hear = (message: FeedMessage): void => {
      const line = lines.take(message);
      if (line !== undefined) waiting.push(line);
    };
    await playThrough(run, settings, '', hear, async () => {
      for (let line = waiting.shift(); line !== undefined; line = waiting.shift())
        if (!(await write(line))) return false;
      return true;
    });
    run.close();
    return damageOf(run);
  };
}
