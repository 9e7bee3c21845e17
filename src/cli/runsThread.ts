// Reads the folder of runs in a thread of its own: a long list or a slow card holds up nobody.
import { parentPort } from 'node:worker_threads';
import { type Facts, Fault, type FaultCode } from '../core/fault.js';
import { listed, listRuns, namedRun } from '../runs/folder.js';
import { MOMENT_COLUMNS } from '../runs/format.js';
import { RunFile } from '../runs/runFile.js';
import { runRow } from './runRow.js';

/** A question; without a name: the list. */
export interface RunsQuestion {
  readonly id: number;
  readonly folder: string;
  readonly name?: string;
}

/** Its answer. */
export type RunsAnswer = { readonly id: number } & (
  | { readonly found: object }
  | { readonly code: FaultCode; readonly facts: Facts }
);

const port = parentPort;
port?.on('message', ({ id, folder, name }: RunsQuestion) => {
  try {
    const found = name === undefined ? { runs: listRuns(folder).map(runRow) } : show(namedRun(folder, name));
    port.postMessage({ id, found } satisfies RunsAnswer);
  } catch (error) {
    if (!(error instanceof Fault)) throw error;
    port.postMessage({ id, code: error.code, facts: error.facts } satisfies RunsAnswer);
  }
});

function show(path: string): object {
  const run = new RunFile(path);
  try {
    const { moments, events } = run;
    return {
      ...runRow(listed(path)),
      events: events.map(({ at, kind, text }) => ({ atS: at, kind, text })),
      momentsAtS: moments.map(({ at }) => at),
      moments: Object.fromEntries(MOMENT_COLUMNS.map((column, i) => [column, moments.map(({ values }) => values[i])])),
    };
  } finally {
    run.close();
  }
}
