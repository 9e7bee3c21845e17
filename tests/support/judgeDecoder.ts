import { Decoder } from '../../src/device/decoder.js';
import type { Layout } from '../../src/device/layouts/layout.js';
import type { Damaged } from './wire.js';

/** What a decoder made of a damaged stream, by the undamaged one. All counts are samples unless said otherwise. */
export interface Outcome {
  readonly damages: number;
  readonly released: number;
  /** Released from bytes that were no packet of the sound stream, or with a bearing more than a step off the true one. */
  invented: number;
  /** Released from a place where a packet began, its bearing within a step, but some byte of it damaged: not visible in the bytes. */
  marred: number;
  /** Released although it was a repeated copy. */
  replayed: number;
  /** Whole in the remainder and never released. */
  lost: number;
  /** The most that were lost around one damage. */
  lostMost: number;
  /** Whole packets in the remainder, and those of them whose samples were released. */
  soundPackets: number;
  foundPackets: number;
}

/** Where the packets of a sound stream lie, read by hand from the description of the layout. */
interface Packets {
  /** [bytes] samples in the packet that begins here, 0: none does. */
  readonly samples: Uint8Array;
  /** [bytes] its length. */
  readonly length: Uint16Array;
}

/**
 * @param layout without any correction of bearings by range.
 * @param step turns between samples, for "more than a step off". @param chunk bytes a push.
 */
export function outcome(sound: Uint8Array, damaged: Damaged, layout: Layout, step: number, chunk = 65536): Outcome {
  const packets = packetsOf(sound, layout.name);
  const decoder = new Decoder(layout);
  const { bytes, origin, source, places } = damaged;
  const isReadable = readablePackets(origin, packets, layout.name);
  const isReleased = new Uint8Array(sound.length); // packets of the sound stream
  const result = {
    damages: places.length,
    released: 0,
    invented: 0,
    marred: 0,
    replayed: 0,
    lost: 0,
    lostMost: 0,
    soundPackets: 0,
    foundPackets: 0,
  };
  for (let first = 0; first < bytes.length; first += chunk) {
    const found = decoder.push(bytes.subarray(first, first + chunk));
    result.released += found.count;
    for (let i = 0, n = 0; i < found.count; i += n) {
      for (n = 1; i + n < found.count && found.begin[i + n] === found.begin[i]; ) n++;
      const at = found.begin[i];
      const from = sameBytes(sound, bytes, at, packets, source, n);
      const isOff = (origin: number): boolean =>
        [0, n - 1].some((k) => {
          const off = Math.abs(found.bearing[i + k] / (2 * Math.PI) - wireAngle(sound, origin, layout.name, k));
          return !(Math.min(off, 1 - off) <= step);
        });
      if (from >= 0) {
        if (isReleased[from] === 1) result.replayed += n;
        else if (isOff(from)) result.invented += n;
        isReleased[from] = 1;
      } else if (source[at] < 0 || packets.samples[source[at]] === 0 || isOff(source[at])) result.invented += n;
      else result.marred += n;
    }
  }
  const lostAt = new Uint16Array(places.length + 1);
  let place = 0;
  for (let at = 0; at < bytes.length; at++) {
    while (place < places.length && middle(places, place) <= at) place++;
    if (isReadable[at] === 0) continue;
    result.soundPackets++;
    if (isReleased[origin[at]] === 1) result.foundPackets++;
    else {
      lostAt[place] += packets.samples[origin[at]];
      result.lost += packets.samples[origin[at]];
    }
  }
  for (const lost of lostAt) result.lostMost = Math.max(result.lostMost, lost);
  const { tally } = decoder;
  if (
    tally.receivedBytes !== bytes.length ||
    tally.takenBytes + tally.skippedBytes + decoder.pendingBytes !== bytes.length
  ) {
    throw new Error(`bytes not accounted for: ${JSON.stringify(tally)}`);
  }
  return result;
}

function packetsOf(sound: Uint8Array, name: string): Packets {
  const samples = new Uint8Array(sound.length);
  const length = new Uint16Array(sound.length);
  const fixed: Record<string, [number, number]> = {
    block32: [84, 32],
    index22: [22, 4],
    packet12: [47, 12],
    sample5: [5, 1],
  };
  for (let at = 0; at < sound.length; at += length[at]) {
    const [bytes, count] = fixed[name] ?? [10 + 2 * sound[at + 3], sound[at + 3]];
    if (at + bytes > sound.length) break;
    length[at] = bytes;
    samples[at] = count;
  }
  return { samples, length };
}

/** @returns [bytes] 1 where a packet of the sound stream begins and is whole; of block32 the next one must be whole too. */
function readablePackets(origin: Int32Array, { length }: Packets, name: string): Uint8Array {
  const isWhole = new Uint8Array(origin.length);
  for (let at = 0; at < origin.length; at++) {
    const size = origin[at] < 0 ? 0 : length[origin[at]];
    if (size === 0 || at + size > origin.length) continue;
    let k = 1;
    while (k < size && origin[at + k] === origin[at] + k) k++;
    if (k === size) isWhole[at] = 1;
  }
  if (name !== 'block32') return isWhole;
  return isWhole.map((is, at) => (is === 1 && isWhole[at + 84] === 1 && origin[at + 84] === origin[at] + 84 ? 1 : 0));
}

/** @returns where in the sound stream the packet of `n` samples at `at` stands with the same bytes, or -1. */
function sameBytes(
  sound: Uint8Array,
  bytes: Uint8Array,
  at: number,
  packets: Packets,
  source: Int32Array,
  n: number,
): number {
  for (const size of new Set(lengths(packets, source, at, n))) {
    for (const from of [source[at], source[at + size - 1] - size + 1]) {
      if (from < 0 || packets.length[from] !== size) continue;
      let k = 0;
      while (k < size && sound[from + k] === bytes[at + k]) k++;
      if (k === size) return from;
    }
  }
  return -1;
}

/** Lengths that a packet of `n` samples may have. */
function lengths({ length, samples }: Packets, source: Int32Array, at: number, n: number): number[] {
  const own = source[at] >= 0 && samples[source[at]] === n ? [length[source[at]]] : [];
  return [...own, length[0], 10 + 2 * n];
}

/** Halfway from a damage to the next: what is lost before belongs to it. */
function middle(places: readonly number[], k: number): number {
  return k + 1 < places.length ? (places[k] + places[k + 1]) / 2 : Infinity;
}

/** @returns turns: the angle of sample `k` of the packet at `at`, read by hand from the description of the layout; NaN: it has none. */
function wireAngle(bytes: Uint8Array, at: number, name: string, k: number): number {
  const word = (i: number): number => bytes[at + i] | (bytes[at + i + 1] << 8);
  const between = (first: number, last: number, part: number): number => (first + ((last - first + 1) % 1) * part) % 1;
  switch (name) {
    case 'sample5':
      return ((word(1) >> 1) / 64 / 360) % 1;
    case 'packet12':
      return between((word(4) / 36000) % 1, (word(42) / 36000) % 1, k / 11);
    case 'index22':
      return (4 * (bytes[at + 1] - 0xa0) + k) / 360;
    case 'packetN':
      return between(((word(4) >> 1) / 23040) % 1, ((word(6) >> 1) / 23040) % 1, k / Math.max(1, bytes[at + 3] - 1));
    default: {
      const corner = 4 + 5 * (k >> 1);
      const low = (bytes[at + corner + 4] >> (4 * (k & 1))) & 15;
      const correction = (low + 16 * (word(corner + 2 * (k & 1)) & 3)) / 8 / 360;
      return (1 + between((word(2) & 0x7fff) / 23040, (word(86) & 0x7fff) / 23040, k / 32) - correction) % 1;
    }
  }
}
