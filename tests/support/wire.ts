import type { Layout } from '../../src/device/layouts/layout.js';
import { WireEncoder, type WireSamples } from '../../src/simulator/encode.js';
import { Random } from '../../src/simulator/random.js';
import { readRows, sharedPath } from './sharedData.js';

const TAU = 2 * Math.PI;
const deg = Math.PI / 180;

export interface Row {
  readonly t?: number;
  readonly angle0?: number;
  readonly step?: number;
  readonly bearings?: readonly number[];
  readonly ranges: readonly number[];
}

/** One revolution to be sent; bearings that a recording lacks are sent as samples without echo. Runs in the layout's own sense. */
export function revolution(row: Row, layout: Layout): WireSamples {
  const step = row.step ?? TAU / row.ranges.length;
  const bearing: number[] = [...(row.bearings ?? row.ranges.map((_, i) => (row.angle0 ?? 0) + i * step))];
  const range: number[] = [...row.ranges];
  const isFalling = bearing[1] < bearing[0];
  const missing = Math.max(0, Math.round(TAU / step) - bearing.length);
  for (let i = 0; i < missing; i++) {
    bearing.push(bearing[bearing.length - 1] + (isFalling ? -step : step));
    range.push(0);
  }
  if (isFalling !== (layout.sense === 'clockwise')) {
    bearing.reverse();
    range.reverse();
  }
  const strength = range.map((r) => (r > 0 ? 40 : 0));
  return { count: bearing.length, bearing, range, strength, start: bearing.map((_, i) => (i === 0 ? 1 : 0)) };
}

/** A room of 6 m x 4 m seen from inside, 400 samples a revolution, seeded noise: for checkouts without recordings. */
function roomRows(sweeps: number): Row[] {
  const noise = new Random(7);
  const random = (): number => noise.uniform();
  return Array.from({ length: sweeps }, () => {
    const bearings = Array.from({ length: 400 }, (_, i) => (i + 0.3) * 0.9 * deg);
    const ranges = bearings.map((b) => {
      const x = Math.cos(b) > 0 ? 4 / Math.cos(b) : -2 / Math.cos(b);
      const y = Math.sin(b) > 0 ? 1.5 / Math.sin(b) : -2.5 / Math.sin(b);
      return random() < 0.02 ? 0 : Math.min(x, y) + 0.01 * (random() - 0.5);
    });
    return { bearings, ranges };
  });
}

/** @returns whole revolutions: of a recording or simulated drive where it is there, else of a made-up room. */
export function recordedRows(name: string): { rows: Row[]; from: string } {
  const path = sharedPath(name);
  return path ? { rows: readRows<Row>(path), from: name } : { rows: roomRows(200), from: 'a made-up room' };
}

/** @returns at least `bytes` bytes of sound stream, the rows played over and over, and the number of revolutions. */
export function soundStream(rows: readonly Row[], layout: Layout, bytes: number): Uint8Array {
  const encoder = new WireEncoder(layout);
  const parts: Uint8Array[] = [];
  let length = 0;
  let samples = 0;
  for (let i = 0; length < bytes; i++) {
    const turn = revolution(rows[i % rows.length], layout);
    const part = encoder.encode(turn, samples / layout.samplesPerSecond, 10);
    samples += turn.count;
    parts.push(part);
    length += part.length;
  }
  const out = new Uint8Array(length);
  let at = 0;
  for (const part of parts) {
    out.set(part, at);
    at += part.length;
  }
  return out;
}

export const DAMAGES = ['flip', 'cut', 'repeat', 'insert'] as const;
export type Damage = (typeof DAMAGES)[number];

export interface Damaged {
  readonly bytes: Uint8Array;
  /** [bytes] where each byte stood in the sound stream; -1: it is new, flipped, or a repeated copy. */
  readonly origin: Int32Array;
  /** [bytes] as origin, but also for repeated copies. */
  readonly source: Int32Array;
  /** Positions in `bytes` of the damages. */
  readonly places: number[];
}

/**
 * Damages a stream about every `spacing` bytes, exponentially spaced but at least spacing / 2.
 * flip: 1 to 3 bits within 3 bytes. cut, repeat, insert: 1 to `longest` bytes, short ones more often; inserted bytes are random,
 * zeros or 0xff.
 */
export function damage(sound: Uint8Array, kind: Damage, seed: number, spacing = 400, longest = 256): Damaged {
  const dice = new Random(seed);
  const random = (): number => dice.uniform();
  const room = Math.ceil(sound.length * (1 + (1.5 * longest) / spacing)) + 8 * longest;
  const bytes = new Uint8Array(room);
  const origin = new Int32Array(room).fill(-1);
  const source = new Int32Array(room).fill(-1);
  const places: number[] = [];
  let from = 0;
  let to = 0;
  const copy = (count: number): void => {
    for (let i = 0; i < count; i++, from++, to++) {
      bytes[to] = sound[from];
      origin[to] = source[to] = from;
    }
  };
  for (;;) {
    const gap = Math.floor(spacing / 2 - (spacing / 2) * Math.log(1 - random()));
    const length = Math.floor(longest ** random());
    if (from + gap + length + 8 > sound.length || to + gap + 2 * length + 8 > room) break;
    copy(gap);
    places.push(to);
    if (kind === 'cut') from += length;
    else if (kind === 'insert') {
      const fill = random();
      for (let i = 0; i < length; i++) bytes[to++] = fill < 0.8 ? Math.floor(random() * 256) : fill < 0.9 ? 0 : 0xff;
    } else if (kind === 'repeat') {
      for (let i = 0; i < length; i++, to++) {
        bytes[to] = sound[from - length + i];
        source[to] = from - length + i;
      }
    } else {
      const flips = 1 + Math.floor(random() * 3);
      const here = to;
      copy(3);
      for (let i = 0; i < flips; i++) {
        const at = here + Math.floor(random() * 3);
        bytes[at] ^= 1 << Math.floor(random() * 8);
        if (bytes[at] !== sound[source[at]]) origin[at] = -1;
        else origin[at] = source[at];
      }
    }
  }
  return { bytes: bytes.subarray(0, to), origin: origin.subarray(0, to), source: source.subarray(0, to), places };
}
