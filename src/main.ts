#!/usr/bin/env node
import { exitCodeOf, faultLine } from './cli/faultLine.js';
import { nodeFault } from './cli/nodeVersion.js';
import { Fault } from './core/fault.js';

// Nothing else is loaded before the version is known to do: newer syntax or modules would fail with a riddle.
try {
  const tooOld = nodeFault(process.version);
  if (tooOld) throw tooOld;
  const { runCommandLine } = await import('./cli/program.js');
  await runCommandLine(process.argv.slice(2));
} catch (error) {
  if (!(error instanceof Fault)) throw error; // a bug: Node prints it and ends with 1
  process.stderr.write(`leeway: ${faultLine(error)}\n`);
  process.exitCode = exitCodeOf(error);
}
