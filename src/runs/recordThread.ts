// Writes one run; for a recording in a thread of its own, so that a slow card holds up nothing but this. It loads nothing of the
// project, so that the thread can be started from the sources as well as from the build.
import { readdirSync, rmSync, statfsSync, statSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { DatabaseSync, type SQLInputValue } from 'node:sqlite';
import { parentPort, workerData } from 'node:worker_threads';
import { crc32, deflateSync } from 'node:zlib';

/** What the thread is started with. */
export interface RecordSetting {
  readonly path: string;
  readonly create: readonly string[];
  readonly about: Readonly<Record<string, unknown>>;
  readonly momentColumns: number;
  /** Columns of the blocks. */
  readonly stride: number;
  /** Bytes that stay free on the disk, and that all runs together may take. */
  readonly freeMin: number;
  readonly totalMax: number;
}

/** What is written in one go. Times in us since the run began. */
export interface RecordBatch {
  readonly block?: {
    readonly atUs: number;
    readonly untilUs: number;
    readonly heads: Uint8Array;
    readonly raw: Uint8Array;
  };
  readonly events: ReadonlyArray<readonly [atUs: number, kind: string, text: string]>;
  readonly moments: ReadonlyArray<ReadonlyArray<number | null>>;
  readonly about: Readonly<Record<string, unknown>>;
  /** Nothing comes after it. */
  readonly isLast: boolean;
}

/** What the thread answers to each batch, in order. */
export type RecordAnswer = { readonly bytes: number } | { readonly failed: string; readonly isFull: boolean };

const LEVEL = 6; // zlib: 0.2 ms for half a second of 8000 samples a second; level 1 leaves 9 % more
const SQLITE_FULL = 13;
const SQLITE_IOERR = 10;

const port = parentPort;
if (port !== null) {
  const setting = workerData as RecordSetting;
  let database: DatabaseSync | undefined;
  port.on('message', (batch: RecordBatch) => {
    try {
      if (database === undefined) {
        makeRoom(setting);
        database = createRun(setting);
      }
      port.postMessage({ bytes: writeRun(database, setting, batch) } satisfies RecordAnswer);
      if (batch.isLast) finishRun(database);
    } catch (error) {
      port.postMessage({
        failed: error instanceof Error ? error.message : String(error),
        isFull: isFull(error),
      } satisfies RecordAnswer);
      try {
        if (database?.isTransaction) database.exec('ROLLBACK');
        if (database?.isOpen) finishRun(database);
      } catch {
        // the disk takes nothing more: what was committed stays readable together with its -wal
      }
      port.close();
    }
    if (batch.isLast) port.close();
  });
}

/**
 * Deletes the oldest runs that are not pinned until all take less than `totalMax`. What cannot be read stays: a person should look at
 * it; so does the one that this file goes on from.
 */
function makeRoom({ path, totalMax, about }: RecordSetting): void {
  const folder = dirname(path);
  const files = readdirSync(folder).filter((name) => name.endsWith('.run'));
  let total = 0;
  for (const name of files) total += sizeOf(join(folder, name));
  for (const name of files.sort()) {
    if (total <= totalMax) break;
    const file = join(folder, name);
    const size = sizeOf(file);
    if (name === `${String(about.continues)}.run` || isPinned(file)) continue;
    for (const end of ['', '-wal', '-shm']) rmSync(`${file}${end}`, { force: true });
    total -= size;
  }
}

function isPinned(file: string): boolean {
  try {
    const database = new DatabaseSync(file, { readOnly: true });
    const row = database.prepare("SELECT value FROM about WHERE key = 'pinned'").get();
    database.close();
    return row?.value === 'true';
  } catch {
    return true;
  }
}

function sizeOf(file: string): number {
  return ['', '-wal'].reduce((sum, end) => sum + (statSync(`${file}${end}`, { throwIfNoEntry: false })?.size ?? 0), 0);
}

/** @returns a new run, open. */
export function createRun({ path, create: steps, about }: RecordSetting): DatabaseSync {
  const database = new DatabaseSync(path);
  for (const step of steps) database.exec(step);
  for (const [key, value] of Object.entries(about)) setAbout(database, key, value);
  return database;
}

/** @returns bytes of the file so far, its side file left out. */
export function writeRun(database: DatabaseSync, setting: RecordSetting, batch: RecordBatch): number {
  const { bavail, bsize } = statfsSync(dirname(setting.path));
  if (bavail * bsize < setting.freeMin) throw new DiskFull(`less than ${setting.freeMin} bytes are free`);
  database.exec('BEGIN');
  if (batch.block) {
    const { atUs, untilUs, heads, raw } = batch.block;
    const length = new Uint8Array(Uint32Array.of(heads.length).buffer);
    const data = deflateSync(Buffer.concat([length, heads, toColumns(raw, setting.stride)]), { level: LEVEL });
    database.prepare('INSERT INTO blocks VALUES (?, ?, ?, ?, ?)').run(atUs, untilUs, raw.length, crc32(data), data);
  }
  for (const event of batch.events)
    database.prepare('INSERT INTO events (at_us, kind, text) VALUES (?, ?, ?)').run(...event);
  for (const moment of batch.moments) {
    const places = Array.from({ length: setting.momentColumns + 1 }, () => '?').join(', ');
    database.prepare(`INSERT OR REPLACE INTO moments VALUES (${places})`).run(...(moment as SQLInputValue[]));
  }
  for (const [key, value] of Object.entries(batch.about)) setAbout(database, key, value);
  database.exec('COMMIT');
  const pages = database.prepare('PRAGMA page_count').get()?.page_count;
  const size = database.prepare('PRAGMA page_size').get()?.page_size;
  return Number(pages) * Number(size);
}

/** Bytes that lie a packet apart side by side, each less the one before: what a sensor says changes little from sample to sample. */
function toColumns(raw: Readonly<Uint8Array>, stride: number): Uint8Array {
  const columns = new Uint8Array(raw.length);
  let k = 0;
  for (let column = 0; column < stride; column++)
    for (let i = column; i < raw.length; i += stride) columns[k++] = raw[i] - (i >= stride ? raw[i - stride] : 0);
  return columns;
}

/** One file that needs no other: the side files go. */
export function finishRun(database: DatabaseSync): void {
  database.exec('PRAGMA wal_checkpoint(TRUNCATE)');
  database.exec('PRAGMA journal_mode = DELETE');
  database.close();
}

function setAbout(database: DatabaseSync, key: string, value: unknown): void {
  if (value !== undefined)
    database.prepare('INSERT OR REPLACE INTO about VALUES (?, ?)').run(key, JSON.stringify(value));
}

class DiskFull extends Error {}

function isFull(error: unknown): boolean {
  if (error instanceof DiskFull) return true;
  const code = error instanceof Error && 'errcode' in error ? Number(error.errcode) & 0xff : 0;
  return code === SQLITE_FULL || code === SQLITE_IOERR;
}
