/**
 * A run on disk: one SQLite file, NAME.run, that any SQLite reader opens. Times are whole microseconds since `about.began_s`.
 *
 * - `about(key, value)`: facts as JSON, see {@link About}.
 * - `blocks(at_us, until_us, raw, crc, data)`: what came in, in order. `crc` is the CRC-32 (as zlib's) of `data`, `raw` the number
 *   of the sensor's bytes in it. `data` is zlib (RFC 1950) over `length of the heads u32 LE | heads | columns`. A head is
 *   `kind u8 | microseconds since the entry before varint | length varint`, followed by its payload but for {@link ENTRY.bytes}, whose
 *   payloads stand one after the other in the columns: byte i less byte i - stride (modulo 256), first all with i mod stride = 0,
 *   then 1, and so on. With stride the length of the sensor's packet this halves the file (measured: 0.45 instead of 0.91 of the
 *   bytes of a 5-byte layout); any stride gives the same bytes back. Varints are little-endian base 128.
 * - `events(at_us, kind, text)`: marks, faults, findings, and what perception noticed on the day.
 * - `moments(at_us, ...)`: once a second what perception made of it on the day, for lists and time lines; see {@link MOMENT_COLUMNS}.
 */
export const APPLICATION = 0x4c574159; // "LWAY", SQLite's application_id
export const VERSION = 2; // SQLite's user_version. 1 had no moments

/** What an entry of a block holds. */
export const ENTRY = {
  /** Bytes of the sensor, as they arrived in one piece. */
  bytes: 0,
  /** JSON of what happened to the line, see {@link LineNote}. */
  line: 1,
  /** The wheels' dead reckoning as a client sent it: four doubles, little-endian: time (s), x (m), y (m), heading (rad). */
  odometry: 2,
  /** JSON of a whole imported sweep, as `process` reads it. */
  sweep: 3,
} as const;
export type EntryKind = (typeof ENTRY)[keyof typeof ENTRY];

/** What happened to the line. */
export type LineNote =
  | { readonly what: 'opened' }
  | { readonly what: 'refused' | 'closed'; readonly code?: string; readonly facts?: Readonly<Record<string, unknown>> }
  | { readonly what: 'lines'; readonly dtr: boolean; readonly rts: boolean; readonly there: boolean }
  | { readonly what: 'sent'; readonly hex: string };

/** Facts about a run. */
export interface About {
  readonly name: string;
  /** Version of the program that recorded it. */
  readonly version: string;
  readonly rover: string;
  /** s, Unix time by the recorder's clock. */
  readonly began_s: number;
  /** s; absent: it was cut off. */
  readonly ended_s?: number;
  /** s, how far the wall clock had been moved ahead of the recorder's clock when it began; corrections since are events of kind clock. */
  readonly wall_lead_s: number;
  /** Where the bytes came from, and the wire layout in force with its line rate. */
  readonly source: string;
  readonly port: string;
  readonly layout?: unknown;
  /** Columns of the blocks; the usual length of the sensor's packet in bytes. */
  readonly stride: number;
  /** bytes of a sensor, or whole sweeps that were recorded elsewhere and imported. */
  readonly form?: 'bytes' | 'sweeps';
  /** The configuration in force, in the names of the YAML file. */
  readonly settings: unknown;
  readonly title: string;
  readonly pinned: boolean;
  /** The run that it goes on from, where a new file was begun. */
  readonly continues?: string;
}

/** Of `moments`, beside at_us; SI with units in the names. */
export const MOMENT_COLUMNS = [
  'x_m',
  'y_m',
  'heading_rad',
  'driven_m', // since the run began
  'ahead_m', // leeway ahead, median of the second
  'closest_m', // outline to the nearest echo that is no stray one, least of the second; NULL: nothing seen
  'closest_bearing_rad',
  'unknown_share', // of the sectors, at the end of the second
  'spin_hz',
  'echoes_per_s',
  'valid_share',
  'state', // HealthState
  'movers',
  'mover_m', // outline to the nearest mover, predicted within 2 s, least of the second
  'roughness_m', // median of the walls that hold 30 echoes or more
  'sigma_m', // median of their distances' standard deviation
] as const;

const TABLES = [
  'CREATE TABLE about (key TEXT PRIMARY KEY, value TEXT NOT NULL) WITHOUT ROWID',
  'CREATE TABLE blocks (at_us INTEGER PRIMARY KEY, until_us INTEGER NOT NULL, raw INTEGER NOT NULL, crc INTEGER NOT NULL, data BLOB NOT NULL)',
  'CREATE TABLE events (n INTEGER PRIMARY KEY, at_us INTEGER NOT NULL, kind TEXT NOT NULL, text TEXT NOT NULL)',
];
export const MOMENTS_TABLE = `moments (at_us INTEGER PRIMARY KEY, ${MOMENT_COLUMNS.map((name) => `${name} REAL`).join(', ')})`;

/** What makes an empty file a run, in order. WAL: readers and the recorder do not wait for each other; FULL: a commit is on the disk. */
export const CREATE: readonly string[] = [
  'PRAGMA page_size = 1024', // a block of half a second ends in the middle of a page on average
  'PRAGMA journal_mode = WAL',
  'PRAGMA synchronous = FULL',
  `PRAGMA application_id = ${APPLICATION}`,
  `PRAGMA user_version = ${VERSION}`,
  ...TABLES,
  `CREATE TABLE ${MOMENTS_TABLE}`,
];

/** An event of a run's time line. */
export interface RunNote {
  /** s, Clock. */
  readonly at: number;
  /** mark, started, stopped, cut, clock, fault, finding, finding_gone, stop_distance, mover, lost_bytes, ... */
  readonly kind: string;
  readonly text: string;
}

/** A second of a run, in the order of {@link MOMENT_COLUMNS}; null: not known. */
export interface Moment {
  /** s, Clock, its end. */
  readonly at: number;
  readonly values: ReadonlyArray<number | null>;
}

/** One entry of a block. */
export interface Entry {
  /** us since the run began. */
  readonly atUs: number;
  readonly kind: EntryKind;
  /** A view of the block. */
  readonly payload: Readonly<Uint8Array>;
}

/** Gathers entries for one block. */
export class EntryWriter {
  readonly #heads = new Gathered();
  readonly #raw = new Gathered();
  #firstUs = NaN;
  #lastUs = 0;

  get length(): number {
    return this.#heads.length + this.#raw.length;
  }
  get firstUs(): number {
    return this.#firstUs;
  }
  get lastUs(): number {
    return this.#lastUs;
  }

  /** @param atUs never less than the one before. */
  add(kind: EntryKind, atUs: number, payload: Readonly<Uint8Array>): void {
    if (this.length === 0) this.#firstUs = this.#lastUs = atUs;
    this.#heads.byte(kind);
    this.#heads.varint(atUs - this.#lastUs);
    this.#heads.varint(payload.length);
    (kind === ENTRY.bytes ? this.#raw : this.#heads).bytes(payload);
    this.#lastUs = atUs;
  }

  /** @returns copies of what was gathered; then it is empty. */
  take(): { heads: Uint8Array<ArrayBuffer>; raw: Uint8Array<ArrayBuffer> } {
    return { heads: this.#heads.take(), raw: this.#raw.take() };
  }
}

/** Bytes one after the other. */
class Gathered {
  length = 0;
  #held = new Uint8Array(16384);

  byte(value: number): void {
    this.#reserve(1);
    this.#held[this.length++] = value;
  }

  bytes(values: Readonly<Uint8Array>): void {
    this.#reserve(values.length);
    this.#held.set(values, this.length);
    this.length += values.length;
  }

  varint(value: number): void {
    let rest = value;
    for (; rest >= 128; rest = Math.floor(rest / 128)) this.byte((rest % 128) | 128);
    this.byte(rest);
  }

  take(): Uint8Array<ArrayBuffer> {
    const taken = this.#held.slice(0, this.length);
    this.length = 0;
    return taken;
  }

  #reserve(more: number): void {
    if (this.length + more <= this.#held.length) return;
    const held = new Uint8Array(2 * (this.length + more));
    held.set(this.#held.subarray(0, this.length));
    this.#held = held;
  }
}

/** The sensor's bytes as they were, from their columns of differences. @param stride as {@link About.stride}. */
function fromColumns(columns: Readonly<Uint8Array>, stride: number): Uint8Array {
  const { length } = columns;
  const raw = new Uint8Array(length);
  let k = 0;
  for (let column = 0; column < stride; column++)
    for (let i = column; i < length; i += stride) raw[i] = columns[k++] + (i >= stride ? raw[i - stride] : 0);
  return raw;
}

/**
 * The entries of an unpacked block.
 * @param stride as {@link About.stride}.
 * @throws {RangeError} it ends within an entry.
 */
export function readEntries(block: Readonly<Uint8Array>, firstUs: number, stride: number): Entry[] {
  const view = new DataView(block.buffer, block.byteOffset, block.length);
  const headEnd = 4 + view.getUint32(0, true);
  if (headEnd > block.length) throw new RangeError('block ends within its heads');
  const raw = fromColumns(block.subarray(headEnd), stride);
  const entries: Entry[] = [];
  let at = 4;
  let rawAt = 0;
  let atUs = firstUs;
  const varint = (): number => {
    let value = 0;
    for (let scale = 1; at < headEnd; scale *= 128) {
      const byte = block[at++];
      value += (byte % 128) * scale;
      if (byte < 128) return value;
    }
    throw new RangeError('block ends within an entry');
  };
  while (at < headEnd) {
    const kind = block[at++] as EntryKind;
    atUs += varint();
    const length = varint();
    const isRaw = kind === ENTRY.bytes;
    const payload = isRaw ? raw.subarray(rawAt, rawAt + length) : block.subarray(at, Math.min(at + length, headEnd));
    if (payload.length < length) throw new RangeError('block ends within an entry');
    if (isRaw) rawAt += length;
    else at += length;
    entries.push({ atUs, kind, payload });
  }
  return entries;
}
