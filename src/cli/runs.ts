import { loadConfig } from '../config/load.js';
import { isoTime } from '../core/clock.js';
import { checkRun, repairRun } from '../runs/check.js';
import { findRun, type ListedRun, listed, listRuns, removeRun, runNameOf } from '../runs/folder.js';
import { MOMENT_COLUMNS } from '../runs/format.js';
import { changeRun, RunFile } from '../runs/runFile.js';
import { runRow } from './runRow.js';

/** What every command of `runs` takes. */
export interface RunsOptions {
  readonly config?: string;
  readonly set?: readonly string[];
  readonly json?: boolean;
}

const FOUND = 3; // exit code of a check that found something

/** `leeway runs list`: newest first. @throws {Fault} of the configuration. */
export function runsList({ config, set = [], json }: RunsOptions): void {
  const { folder } = loadConfig(config, set).runs;
  const runs = listRuns(folder);
  if (json) {
    for (const run of runs) print(JSON.stringify(runRow(run)));
    return;
  }
  if (runs.length === 0) {
    print(`no runs in ${folder}`);
    return;
  }
  const rows = runs.map(rowOf);
  const head = ['run', 'began (UTC)', 'long', 'driven', 'closest', 'size', 'marks', ''];
  const widths = head.map((title, i) => Math.max(title.length, ...rows.map((row) => row[i].length)));
  for (const row of [head, ...rows])
    print(
      row
        .map((cell, i) => (i >= 2 && i <= 6 ? cell.padStart(widths[i]) : cell.padEnd(widths[i])))
        .join('  ')
        .trimEnd(),
    );
}

/** `leeway runs show`: what happened, with times to seek to. @throws {Fault} RUN_... */
export function runsShow(name: string, { config, set = [], json }: RunsOptions): void {
  const path = findRun(loadConfig(config, set).runs.folder, name);
  const run = new RunFile(path);
  const row = listed(path);
  if (json) {
    print(
      JSON.stringify({ ...runRow(row), events: run.events.map(({ at, kind, text }) => ({ atS: at, kind, text })) }),
    );
    run.close();
    return;
  }
  const { about } = run;
  print(`${about.name}${about.title ? ` "${about.title}"` : ''}${about.pinned ? ', pinned' : ''}`);
  print(
    `rover ${about.rover}, ${about.source} ${about.port}, recorded by version ${about.version}, format ${run.version}`,
  );
  print(
    `${clockText(row.began + row.wallLead)} UTC, ${lengthText(row.length)}, driven ${metres(row.driven)}, closest ${metres(row.closest)}, ${sizeText(row.size)}`,
  );
  if (about.continues) print(`goes on from ${about.continues}`);
  if (row.isCut) print('its end is missing: it was cut off, or is being recorded');
  sparkline(run, 'ahead_m', 'leeway ahead');
  print('');
  for (const { at, kind, text } of run.events)
    print(
      `${at.toFixed(3)}  ${clockText(at + row.wallLead).slice(11)}  +${lengthText(at - row.began).padStart(9)}  ${kind.padEnd(14)}  ${text}`.trimEnd(),
    );
  if (run.events.length === 0) print('nothing happened');
  run.close();
}

/** `leeway runs pin`, `runs title`, `runs remove`. @throws {Fault} RUN_... */
export function runsChange(
  name: string,
  change: Readonly<{ pinned?: boolean; title?: string; remove?: boolean }>,
  { config, set = [] }: RunsOptions,
): void {
  const path = findRun(loadConfig(config, set).runs.folder, name);
  const { remove, ...about } = change;
  if (remove) removeRun(path);
  else changeRun(path, about);
  print(
    `${runNameOf(path)} ${remove ? 'removed' : about.pinned === undefined ? `titled "${about.title}"` : about.pinned ? 'pinned' : 'no longer pinned'}`,
  );
}

/** `leeway runs check`: whether everything can be read; with `repair`, saves what can be. @throws {Fault} RUN_... */
export function runsCheck(name: string, repair: boolean, { config, set = [], json }: RunsOptions): void {
  const path = findRun(loadConfig(config, set).runs.folder, name);
  const found = checkRun(path);
  if (json) print(JSON.stringify(found));
  else {
    print(
      `${runNameOf(path)}: format ${found.version}, ${found.blocks} blocks, ${sizeText(found.rawBytes)} of the sensor's bytes, ${lengthText(found.length)}`,
    );
    for (const finding of found.findings) print(`- ${finding}`);
    if (found.findings.length === 0) print('sound');
  }
  if (found.findings.length === 0) return;
  if (repair) print(repairRun(path));
  else process.exitCode = FOUND;
}

function rowOf(run: ListedRun): string[] {
  if (run.fault && Number.isNaN(run.began)) return [run.name, '', '', '', '', sizeText(run.size), '', run.fault];
  const notes = [run.title && `"${run.title}"`, run.pinned && 'pinned', run.isCut && 'cut', run.fault, ...run.findings];
  return [
    run.name,
    clockText(run.began + run.wallLead),
    lengthText(run.length),
    metres(run.driven),
    metres(run.closest),
    sizeText(run.size),
    String(run.marks),
    notes.filter(Boolean).join(', '),
  ];
}

const BARS = '▁▂▃▄▅▆▇█';
const WIDTH = 72;

/** A column of the moments as one line of bars. */
function sparkline(run: RunFile, column: (typeof MOMENT_COLUMNS)[number], name: string): void {
  const index = MOMENT_COLUMNS.indexOf(column);
  const values = run.moments.map(({ values: row }) => row[index]);
  if (values.length === 0) return;
  const cells = Array.from({ length: Math.min(WIDTH, values.length) }, (_, i) => {
    const from = Math.floor((i * values.length) / Math.min(WIDTH, values.length));
    const to = Math.max(from + 1, Math.floor(((i + 1) * values.length) / Math.min(WIDTH, values.length)));
    return Math.min(...values.slice(from, to).map((value) => value ?? 0));
  });
  const most = Math.max(...cells, 1e-9);
  print(
    `${name}, 0 to ${most.toFixed(2)} m: ${cells.map((value) => BARS[Math.round((value / most) * (BARS.length - 1))]).join('')}`,
  );
}

/** @returns such as 1:02:03 or 12.3 s. */
function lengthText(seconds: number): string {
  if (!Number.isFinite(seconds)) return '';
  if (seconds < 60) return `${seconds.toFixed(1)} s`;
  const whole = Math.floor(seconds);
  const two = (value: number): string => String(value).padStart(2, '0');
  return `${Math.floor(whole / 3600)}:${two(Math.floor(whole / 60) % 60)}:${two(whole % 60)}`;
}

function clockText(time: number): string {
  return Number.isFinite(time) ? isoTime(time).slice(0, 19).replace('T', ' ') : '';
}

function metres(value: number | null): string {
  return value === null ? '' : `${value.toFixed(2)} m`;
}

function sizeText(bytes: number): string {
  return bytes < 1e6 ? `${(bytes / 1e3).toFixed(0)} kB` : `${(bytes / 1e6).toFixed(1)} MB`;
}

function print(line: string): void {
  process.stdout.write(`${line}\n`);
}
