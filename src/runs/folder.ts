import { existsSync, readdirSync, rmSync, statSync } from 'node:fs';
import { basename, join } from 'node:path';
import { isoTime } from '../core/clock.js';
import { Fault, type FaultCode } from '../core/fault.js';
import { damageOf, RunFile } from './runFile.js';

/** A run in a list. */
export interface ListedRun {
  readonly name: string;
  readonly path: string;
  readonly title: string;
  readonly rover: string;
  readonly pinned: boolean;
  /** s, Unix time by the recorder's clock; where its wall clock was set later, `wallLead` is to be added. */
  readonly began: number;
  readonly wallLead: number;
  /** s. */
  readonly length: number;
  /** m; null: not known. */
  readonly driven: number | null;
  readonly closest: number | null;
  readonly marks: number;
  /** Codes of the findings, each once. */
  readonly findings: readonly string[];
  /** Bytes on the disk. */
  readonly size: number;
  /** cut: its end is missing. */
  readonly isCut: boolean;
  /** What is wrong with the file; where `began` is NaN nothing else can be said of it. */
  readonly fault?: FaultCode;
}

const END = '.run';
const NAME = /^[\w.-]{1,200}$/;

/** @returns the names in the folder, oldest first; empty where there is no folder. */
function runNames(folder: string): string[] {
  if (!existsSync(folder)) return [];
  return readdirSync(folder)
    .filter((file) => file.endsWith(END))
    .map((file) => basename(file, END))
    .sort();
}

/**
 * @param run a name in the folder, or a path; empty: the newest of the folder.
 * @throws {Fault} RUN_NOT_FOUND.
 */
export function findRun(folder: string, run: string): string {
  const newest = run === '' ? runNames(folder).at(-1) : undefined;
  if (run === '' && newest === undefined) throw new Fault('RUN_NOT_FOUND', { folder, reason: 'there are none' });
  const path = run.includes('/') || run.endsWith(END) ? run : namedRun(folder, newest ?? run);
  if (!existsSync(path)) throw new Fault('RUN_NOT_FOUND', { run, folder });
  return path;
}

/** As {@link findRun} for a name that came from outside: it never leads out of the folder. @throws {Fault} RUN_NOT_FOUND. */
export function namedRun(folder: string, name: string): string {
  const path = join(folder, `${name}${END}`);
  if (!NAME.test(name) || !existsSync(path)) throw new Fault('RUN_NOT_FOUND', { run: name.slice(0, 100), folder });
  return path;
}

/** @param unixTime s. @returns YYYYMMDDTHHMMSSZ-N with the least N that is free. */
export function freeName(folder: string, unixTime: number): string {
  const stamp = `${isoTime(unixTime).slice(0, 19).replaceAll(/[-:]/g, '')}Z`;
  for (let n = 1; ; n++) if (!existsSync(join(folder, `${stamp}-${n}.run`))) return `${stamp}-${n}`;
}

/** @returns the name of the run in a file. */
export function runNameOf(path: string): string {
  return basename(path, END);
}

/** @returns every run of the folder, newest first; one that cannot be read too, with its code. */
export function listRuns(folder: string): ListedRun[] {
  return runNames(folder)
    .reverse()
    .map((name) => listed(join(folder, `${name}${END}`)));
}

/** @returns the row of one run in a list. */
export function listed(path: string): ListedRun {
  const name = basename(path, END);
  try {
    const run = new RunFile(path);
    try {
      const { about, until, summary, events } = run;
      const findings = events
        .filter(({ kind }) => kind === 'finding')
        .map(({ text }) => text.slice(0, text.indexOf(':')));
      const lead = Number(events.findLast(({ kind }) => kind === 'clock')?.text ?? about.wall_lead_s);
      return {
        ...{ name, path, title: about.title ?? '', rover: about.rover ?? '', pinned: about.pinned === true },
        ...{
          began: about.began_s,
          wallLead: Number.isFinite(lead) ? lead : 0,
          length: Math.max(0, until - about.began_s),
        },
        ...{ driven: summary.driven, closest: summary.closest },
        marks: events.filter(({ kind }) => kind === 'mark').length,
        findings: [...new Set(findings)],
        size: sizeOf(path),
        isCut: about.ended_s === undefined,
        ...(damageOf(run) && { fault: 'RUN_DAMAGED' as const }),
      };
    } finally {
      run.close();
    }
  } catch (error) {
    if (!(error instanceof Fault)) throw error;
    return {
      ...{
        name,
        path,
        title: '',
        rover: '',
        pinned: false,
        began: NaN,
        wallLead: 0,
        length: NaN,
        driven: null,
        closest: null,
      },
      ...{ marks: 0, findings: [], size: sizeOf(path), isCut: true, fault: error.code },
    };
  }
}

/** Deletes a run with its side files. */
export function removeRun(path: string): void {
  for (const end of ['', '-wal', '-shm']) rmSync(`${path}${end}`, { force: true });
}

/** @returns bytes on the disk, with what waits beside it. */
export function sizeOf(path: string): number {
  return ['', '-wal'].reduce((sum, end) => sum + (statSync(`${path}${end}`, { throwIfNoEntry: false })?.size ?? 0), 0);
}
