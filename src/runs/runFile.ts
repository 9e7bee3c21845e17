import { closeSync, existsSync, openSync, readSync, statSync } from 'node:fs';
import { DatabaseSync } from 'node:sqlite';
import { crc32, inflateSync } from 'node:zlib';
import { wrapAngle } from '../core/angles.js';
import { Fault } from '../core/fault.js';
import {
  type About,
  APPLICATION,
  type Entry,
  MOMENT_COLUMNS,
  MOMENTS_TABLE,
  type Moment,
  type RunNote,
  readEntries,
  VERSION,
} from './format.js';

/** A block that could be read. */
export interface Block {
  readonly atUs: number;
  readonly entries: Entry[];
}

/** A row of the table of blocks, and what is in it. */
export interface BlockRow {
  readonly at_us: number;
  readonly until_us: number;
  readonly raw: number;
  readonly crc: number;
  readonly data: Uint8Array;
  readonly entries: Entry[];
}

/** What can be wrong with the blocks. */
export interface Damage {
  /** Blocks whose check fails, and stretches of the file that cannot be read. */
  badBlocks: number;
  unreadable: number;
}

const MAGIC = 'SQLite format 3\0'; // sqlite.org/fileformat2.html, 1.3.1
const SKIP_FIRST_US = 1; // after an unreadable place: how far on to try next, doubled each time
const BUSY_MS = 2000;

/**
 * A run opened for reading; it is never changed. A file that is damaged gives what can be read of it: blocks with a wrong check and
 * places that cannot be read are left out and counted in {@link damage}.
 */
export class RunFile {
  readonly path: string;
  readonly about: About;
  readonly damage: Damage = { badBlocks: 0, unreadable: 0 };
  /** Of the format that it was written in. */
  readonly version: number;
  readonly #database: DatabaseSync;

  /** @throws {Fault} RUN_NOT_FOUND, RUN_EMPTY, RUN_FOREIGN, RUN_NEWER, RUN_DAMAGED. */
  constructor(path: string) {
    this.path = path;
    if (!existsSync(path)) throw new Fault('RUN_NOT_FOUND', { run: path });
    if (statSync(path).size === 0) throw new Fault('RUN_EMPTY', { run: path });
    if (headOf(path) !== MAGIC) throw new Fault('RUN_FOREIGN', { run: path });
    try {
      this.#database = new DatabaseSync(path, { readOnly: true, timeout: BUSY_MS, defensive: false });
      this.#database.exec('PRAGMA writable_schema = ON'); // else, and with defensive, SQLite refuses a file that is shorter than its first page says
      this.version = Number(this.#pragma('user_version'));
      const application = Number(this.#pragma('application_id'));
      if (application !== APPLICATION)
        throw new Fault(application === 0 && this.version === 0 ? 'RUN_EMPTY' : 'RUN_FOREIGN', { run: path });
      if (this.version > VERSION) throw new Fault('RUN_NEWER', { run: path, version: this.version, known: VERSION });
      // an old file lacks tables: empty ones beside it stand in, the file stays as it is
      if (this.version < 2) this.#database.exec(`CREATE TEMP TABLE ${MOMENTS_TABLE}`);
      this.about = this.#readAbout();
    } catch (error) {
      throw damaged(error, path);
    }
  }

  close(): void {
    this.#database.close();
  }

  /** s, Clock: the newest that was written. */
  get until(): number {
    const us = this.#last('SELECT max(until_us) AS us FROM (SELECT until_us FROM blocks ORDER BY at_us DESC LIMIT 1)');
    return this.about.ended_s ?? this.about.began_s + us / 1e6;
  }

  /** Bytes of the sensor in it. */
  get rawBytes(): number {
    return this.#last('SELECT sum(raw) AS us FROM blocks');
  }

  /** The newest block that begins at `at` (s, Clock) or before. */
  blockAt(at: number): number {
    const us = Math.round((at - this.about.began_s) * 1e6);
    return this.#last('SELECT max(at_us) AS us FROM blocks WHERE at_us <= ?', us);
  }

  /** The first block that begins at `fromUs` or after and can be read; undefined: there is none. */
  block(fromUs: number): Block | undefined {
    const row = this.blockRow(fromUs);
    return row && { atUs: row.at_us, entries: row.entries };
  }

  /** As {@link block}, as it stands in the file. */
  blockRow(fromUs: number): BlockRow | undefined {
    let from = fromUs;
    for (let skip = SKIP_FIRST_US; ; ) {
      let row: Record<string, unknown> | undefined;
      try {
        row = this.#database
          .prepare('SELECT at_us, until_us, raw, crc, data FROM blocks WHERE at_us >= ? ORDER BY at_us LIMIT 1')
          .get(from);
      } catch (error) {
        if (!isSqlite(error)) throw error;
        this.damage.unreadable++;
        from += skip;
        skip *= 2;
        if (skip > 1e15) return undefined;
        continue;
      }
      if (row === undefined) return undefined;
      const entries = unpack(row, this.about.stride ?? 1);
      if (entries) return { ...(row as unknown as BlockRow), entries };
      this.damage.badBlocks++;
      from = Number(row.at_us) + 1;
    }
  }

  /** In the order of time. */
  get events(): RunNote[] {
    return this.#rows('SELECT at_us, kind, text FROM events ORDER BY at_us, n', (row) => ({
      at: this.#s(row.at_us),
      kind: String(row.kind),
      text: String(row.text),
    }));
  }

  /** In the order of time. */
  get moments(): Moment[] {
    return this.#rows(`SELECT * FROM moments ORDER BY at_us`, (row) => ({
      at: this.#s(row.at_us),
      values: MOMENT_COLUMNS.map((name) => (typeof row[name] === 'number' ? row[name] : null)),
    }));
  }

  /** Where the rover was on the day (m, rad since the run began) and the spin (Hz) at a time (s, Clock); undefined: not known. */
  placeAt(at: number): Readonly<{ x: number; y: number; heading: number; spin: number }> | undefined {
    const us = Math.round((at - this.about.began_s) * 1e6);
    const columns = 'at_us, x_m, y_m, heading_rad, spin_hz';
    const known = 'x_m IS NOT NULL';
    const find = (where: string): Record<string, number> | undefined =>
      this.#rows(
        `SELECT ${columns} FROM moments WHERE ${known} AND ${where} LIMIT 1`,
        (row) => row as Record<string, number>,
      )[0];
    const before = find(`at_us <= ${us} ORDER BY at_us DESC`);
    const after = find(`at_us > ${us} ORDER BY at_us`);
    const near = before ?? after;
    if (near === undefined) return undefined;
    const share = before && after ? (us - before.at_us) / (after.at_us - before.at_us) : 0;
    const to = before && after ? after : near;
    return {
      x: near.x_m + share * (to.x_m - near.x_m),
      y: near.y_m + share * (to.y_m - near.y_m),
      heading: near.heading_rad + share * wrapAngle(to.heading_rad - near.heading_rad),
      spin: near.spin_hz ?? NaN,
    };
  }

  /** Figures of the moments as a whole; null: not known. */
  get summary(): Readonly<{
    driven: number | null;
    closest: number | null;
    moverClosest: number | null;
    blindShare: number | null;
  }> {
    const row = this.#rows(
      'SELECT max(driven_m) AS driven, min(closest_m) AS closest, min(mover_m) AS mover, avg(state = 3) AS blind FROM moments',
      (found) => found,
    )[0];
    const figure = (value: unknown): number | null => (typeof value === 'number' ? value : null);
    return {
      driven: figure(row?.driven),
      closest: figure(row?.closest),
      moverClosest: figure(row?.mover),
      blindShare: figure(row?.blind),
    };
  }

  /** What SQLite itself finds wrong; empty: nothing. */
  quickCheck(): string[] {
    try {
      const rows = this.#database.prepare('PRAGMA quick_check(20)').all();
      return rows.map((row) => String(row.quick_check)).filter((text) => text !== 'ok');
    } catch (error) {
      if (!isSqlite(error)) throw error;
      return [error.message];
    }
  }

  #rows<T>(sql: string, read: (row: Record<string, unknown>) => T): T[] {
    const found: T[] = [];
    try {
      for (const row of this.#database.prepare(sql).iterate()) found.push(read(row));
    } catch (error) {
      if (!isSqlite(error)) throw error;
      this.damage.unreadable++;
    }
    return found;
  }

  #last(sql: string, ...values: number[]): number {
    try {
      return Number(this.#database.prepare(sql).get(...values)?.us ?? 0);
    } catch (error) {
      if (!isSqlite(error)) throw error;
      this.damage.unreadable++;
      return 0;
    }
  }

  #pragma(name: string): unknown {
    return this.#database.prepare(`PRAGMA ${name}`).get()?.[name];
  }

  #readAbout(): About {
    const rows = this.#database.prepare('SELECT key, value FROM about').all();
    const about = Object.fromEntries(rows.map(({ key, value }) => [String(key), JSON.parse(String(value))]));
    if (typeof about.name !== 'string' || typeof about.began_s !== 'number')
      throw new Fault('RUN_EMPTY', { run: this.path });
    return about as About;
  }

  #s(us: unknown): number {
    return this.about.began_s + Number(us) / 1e6;
  }
}

/** @returns RUN_DAMAGED where something of the run could not be read so far. */
export function damageOf({ path, damage }: RunFile): Fault | undefined {
  const { badBlocks, unreadable } = damage;
  if (badBlocks + unreadable === 0) return undefined;
  return new Fault('RUN_DAMAGED', { run: path, bad_blocks: badBlocks, unreadable_places: unreadable });
}

/** @returns whether the file begins like a run does: it may still be another program's. */
export function looksLikeRun(path: string): boolean {
  return existsSync(path) && statSync(path).isFile() && headOf(path) === MAGIC;
}

/** Changes facts of a run that may be written at the same time. @throws {Fault} as {@link RunFile}; RUN_UNWRITABLE. */
export function changeRun(path: string, about: Readonly<Partial<Pick<About, 'title' | 'pinned' | 'ended_s'>>>): void {
  new RunFile(path).close(); // so that nothing else is written to
  try {
    const database = new DatabaseSync(path, { timeout: BUSY_MS });
    const set = database.prepare('INSERT OR REPLACE INTO about VALUES (?, ?)');
    for (const [key, value] of Object.entries(about)) set.run(key, JSON.stringify(value));
    database.close();
  } catch (error) {
    if (!isSqlite(error)) throw error;
    throw new Fault('RUN_UNWRITABLE', { run: path, reason: error.message }, error);
  }
}

function unpack(row: Record<string, unknown>, stride: number): Entry[] | undefined {
  const data = row.data;
  if (!(data instanceof Uint8Array) || crc32(data) !== row.crc) return undefined;
  try {
    return readEntries(inflateSync(data), Number(row.at_us), stride);
  } catch (error) {
    if (error instanceof RangeError || (error instanceof Error && 'code' in error)) return undefined; // not ours, though its check holds
    throw error;
  }
}

function headOf(path: string): string {
  const head = Buffer.alloc(MAGIC.length);
  const file = openSync(path, 'r');
  readSync(file, head);
  closeSync(file);
  return head.toString('latin1');
}

/** @returns whether an error is SQLite's about the file. */
function isSqlite(error: unknown): error is Error {
  return error instanceof Error && 'errcode' in error;
}

function damaged(error: unknown, run: string): unknown {
  return isSqlite(error) || error instanceof SyntaxError
    ? new Fault('RUN_DAMAGED', { run, reason: error.message }, error)
    : error;
}
