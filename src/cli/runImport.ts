import { mkdirSync, rmSync } from 'node:fs';
import { basename, join } from 'node:path';
import { loadSettings } from '../config/load.js';
import { Fault } from '../core/fault.js';
import { freeName } from '../runs/folder.js';
import { type About, CREATE, ENTRY, EntryWriter, MOMENT_COLUMNS } from '../runs/format.js';
import { createRun, finishRun, writeRun } from '../runs/recordThread.js';
import { inputLines } from './inputLines.js';
import { recordedSettings } from './recording.js';
import type { RunsOptions } from './runs.js';
import { readSweepLine } from './sweepLines.js';

const BLOCK_S = 1; // s of sweeps in a block

/**
 * `leeway runs import`: sweeps that were recorded elsewhere become a run. Nothing is left of one that has a bad line.
 * @param input NDJSON, plain or gzip; `-` for standard input.
 * @throws {Fault} of the configuration; INPUT_UNREADABLE, INPUT_LINE_BAD; RUN_UNWRITABLE.
 */
export async function runsImport(
  input: string,
  { config, set = [], title = '' }: RunsOptions & { readonly title?: string },
  version: string,
): Promise<void> {
  const settings = loadSettings(config, set);
  const { folder } = settings.config.runs;
  let path = '';
  let about: About | undefined;
  let database: ReturnType<typeof createRun> | undefined;
  const entries = new EntryWriter();
  let end = -Infinity;
  let sweeps = 0;
  const setting = (facts: About) => ({
    path,
    create: CREATE,
    about: { ...facts },
    momentColumns: MOMENT_COLUMNS.length,
    freeMin: 0,
    totalMax: Infinity,
    stride: 1,
  });
  const flush = (isLast: boolean): void => {
    if (about === undefined || database === undefined) return;
    const { firstUs: atUs, lastUs: untilUs } = entries;
    const { heads, raw } = entries.take();
    const block = heads.length > 0 ? { block: { atUs, untilUs, heads, raw } } : {};
    writeRun(database, setting(about), {
      ...block,
      events: [],
      moments: [],
      about: isLast ? { ended_s: end } : {},
      isLast,
    });
  };
  try {
    for await (const { number, text } of inputLines(input)) {
      const { t, dt, ranges } = readSweepLine(text, number);
      const at = Math.max(end, Number.isNaN(dt) ? t : t + dt * (ranges.length - 1)); // told when its last sample is there
      if (t < end - 10) throw new Fault('INPUT_LINE_BAD', { line: number, reason: `t goes back from ${end} to ${t}` });
      if (about === undefined) {
        mkdirSync(folder, { recursive: true });
        const name = freeName(folder, t);
        path = join(folder, `${name}.run`);
        about = {
          ...{ name, version, rover: settings.config.rover.name, began_s: t, wall_lead_s: 0, source: 'imported' },
          ...{
            port: input === '-' ? 'standard input' : basename(input),
            stride: 1,
            form: 'sweeps' as const,
            title,
            pinned: false,
          },
          settings: recordedSettings(settings.written),
        };
        database = createRun(setting(about));
      }
      const us = Math.round((at - about.began_s) * 1e6);
      if (entries.length > 0 && us - entries.firstUs > BLOCK_S * 1e6) flush(false);
      entries.add(ENTRY.sweep, Math.max(us, entries.lastUs + 1), Buffer.from(text));
      end = at;
      sweeps++;
    }
    if (about === undefined || database === undefined)
      throw new Fault('INPUT_LINE_BAD', { line: 1, reason: 'there are no sweeps' });
    flush(true);
    finishRun(database);
  } catch (error) {
    if (database?.isOpen) database.close();
    if (path !== '') for (const side of ['', '-wal', '-shm']) rmSync(`${path}${side}`, { force: true });
    if (!(error instanceof Error && ('errcode' in error || 'syscall' in error))) throw error;
    throw new Fault('RUN_UNWRITABLE', { folder, reason: error.message }, error);
  }
  process.stdout.write(`${about.name}: ${sweeps} sweeps\n`);
}
