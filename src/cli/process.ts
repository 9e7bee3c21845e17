import { loadConfig } from '../config/load.js';
import { Fault } from '../core/fault.js';
import { inputLines } from './inputLines.js';
import { openOutput } from './output.js';
import { Perceiver } from './perceiver.js';
import { readSweepLine } from './sweepLines.js';

const SIGNALS = { SIGINT: 130, SIGTERM: 143 } as const; // 128 + the signal's number, as shells have it

/**
 * `leeway process`: perception over recorded sweeps, one JSON line a sweep, no wall-clock time in it.
 *
 * @param input path or `-`. @param config path of the configuration. @param sets `KEY=VALUE`. @param out path; undefined: standard output.
 * @throws {Fault} of the configuration; INPUT_UNREADABLE, INPUT_LINE_BAD, OUTPUT_UNWRITABLE. Then no output file is left.
 */
export async function processInput(
  input: string,
  config: string | undefined,
  sets: readonly string[],
  out: string | undefined,
): Promise<void> {
  const perceiver = new Perceiver(loadConfig(config, sets));
  const output = openOutput(out);
  const stops = Object.entries(SIGNALS).map(([signal, code]) => {
    const stop = (): void => void output.abandon().finally(() => process.exit(code)); // the input may be a terminal that waits
    process.once(signal, stop); // a second one ends it at once, as by default
    return () => process.off(signal, stop);
  });
  let sweeps = 0;
  let isWanted = true;
  try {
    let newest = -Infinity;
    for await (const { number, text } of inputLines(input)) {
      const line = readSweepLine(text, number);
      if (line.t < newest)
        throw new Fault('INPUT_LINE_BAD', { line: number, reason: `t goes back from ${newest} to ${line.t}` });
      newest = line.t;
      isWanted = await output.write(perceiver.push(line));
      if (!isWanted) break;
      sweeps++;
    }
    await output.finish();
  } catch (error) {
    await output.abandon();
    throw error;
  } finally {
    for (const off of stops) off();
  }
  if (isWanted) process.stderr.write(`${sweeps} sweeps\n`);
}
