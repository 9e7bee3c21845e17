import { join } from 'node:path';
import { loadConfig } from '../config/load.js';
import { isoTime } from '../core/clock.js';
import { Fault } from '../core/fault.js';
import { Rows, TABLE_NAMES, TABLES, type TableName } from '../runs/export/tables.js';
import { EXPORT_FORMATS, type ExportFormat, openTable, type TableWriter } from '../runs/export/writers.js';
import { findRun, listRuns } from '../runs/folder.js';
import { damageOf, RunFile } from '../runs/runFile.js';
import { Timeline } from '../runs/timeline.js';
import { timelineSetting } from './compose.js';
import { playThrough } from './playThrough.js';
import { replaySettings } from './replay.js';
import type { RunsOptions } from './runs.js';

/**
 * `leeway runs export`: tables of what a run says, OUT/TABLE/rover=ROVER/day=DAY/RUN.parquet (or .csv, .ndjson).
 * @param names of runs; none: the newest. @throws {Fault} RUN_...; USAGE_WRONG; OUTPUT_UNWRITABLE.
 */
export async function runsExport(
  names: readonly string[],
  options: RunsOptions & {
    readonly out?: string;
    readonly format?: string;
    readonly tables?: string;
    readonly all?: boolean;
  },
): Promise<void> {
  const { config, set = [], out = 'export', all } = options;
  const format = EXPORT_FORMATS.find((each) => each === (options.format ?? 'parquet'));
  if (format === undefined)
    throw new Fault('USAGE_WRONG', { format: options.format ?? '', known: EXPORT_FORMATS.join(', ') });
  const tables = wantedTables(options.tables);
  const { folder } = loadConfig(config, set).runs;
  const paths = all
    ? listRuns(folder)
        .filter(({ fault }) => fault === undefined)
        .map(({ path }) => path)
        .reverse()
    : (names.length === 0 ? [''] : names).map((name) => findRun(folder, name));
  const damages: Fault[] = [];
  for (const path of paths) {
    const damage = await exportRun(path, out, format, tables, options);
    if (damage) damages.push(damage);
  }
  if (damages.length > 0) throw damages[0]; // what could be read is written
}

async function exportRun(
  path: string,
  out: string,
  format: ExportFormat,
  tables: readonly TableName[],
  { config, set = [] }: RunsOptions,
): Promise<Fault | undefined> {
  const run = new RunFile(path);
  const settings = replaySettings(run, config, set);
  const { about } = run;
  const day = isoTime(about.began_s + about.wall_lead_s).slice(0, 10);
  const writers = new Map<TableName, TableWriter>();
  try {
    for (const table of tables) {
      const folder = join(out, table, `rover=${encodeURIComponent(about.rover)}`, `day=${day}`);
      writers.set(table, openTable(join(folder, `${about.name}.${format}`), TABLES[table], format));
    }
    const rows = new Rows(about.name, new Set(tables), (table, row) => writers.get(table)?.put(row));
    const timeline = new Timeline(timelineSetting(settings.config));
    await playThrough(run, settings, '', ({ message }) => {
      rows.take(message);
      timeline.push(message);
    });
    const notes = [...run.events.filter(({ kind }) => !FOUND_AGAIN.has(kind)), ...timeline.take().events];
    for (const note of notes.sort((a, b) => a.at - b.at)) rows.event(note);
    const counts = [...writers].map(([table, writer]) => `${table} ${writer.finish()}`);
    process.stdout.write(`${about.name}: ${counts.join(', ')} rows\n`);
    return damageOf(run);
  } catch (error) {
    for (const writer of writers.values()) writer.abandon();
    if (!(error instanceof Error && 'syscall' in error)) throw error;
    throw new Fault('OUTPUT_UNWRITABLE', { output: out, reason: error.message }, error);
  } finally {
    run.close();
  }
}

/** What perception noticed on the day is noticed again, maybe better. */
const FOUND_AGAIN: ReadonlySet<string> = new Set(['stop_distance', 'mover', 'finding', 'finding_gone']);

function wantedTables(text: string | undefined): readonly TableName[] {
  if (text === undefined) return TABLE_NAMES;
  return text.split(',').map((name) => {
    const table = TABLE_NAMES.find((each) => each === name.trim());
    if (table === undefined) throw new Fault('USAGE_WRONG', { table: name, known: TABLE_NAMES.join(', ') });
    return table;
  });
}
