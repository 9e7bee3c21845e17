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

/** @param step turns between samples, for "more than a step off". @param chunk bytes a push. */
export function outcome(sound: Uint8Array, damaged: Damaged, layout: Layout, step: number, chunk = 65536): Outcome {
  const { bytes: size, samples } = layout.packet;
  const decoder = new Decoder(layout);
  const { bytes, origin, source, places } = damaged;
  const isWhole = wholePackets(origin, size);
  const isReleased = new Uint8Array(Math.ceil(sound.length / size)); // packets of the sound stream
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
    for (let i = 0; i < found.count; i += samples.count) {
      const at = found.end[i] - size;
      const from = sameBytes(sound, bytes, at, size, [source[at], source[at + size - 1] - size + 1]);
      if (from >= 0) {
        if (isReleased[from / size] === 1) result.replayed += samples.count;
        isReleased[from / size] = 1;
      } else if (source[at] < 0 || source[at] % size !== 0) result.invented += samples.count;
      else {
        const off = Math.abs(found.bearing[i] / (2 * Math.PI) - wireAngle(sound, source[at], layout));
        if (Math.min(off, 1 - off) > step) result.invented += samples.count;
        else result.marred += samples.count;
      }
    }
  }
  const lostAt = new Uint16Array(places.length + 1);
  let place = 0;
  for (let at = 0; at < bytes.length; at++) {
    while (place < places.length && middle(places, place) <= at) place++;
    if (isWhole[at] === 0) continue;
    result.soundPackets++;
    if (isReleased[origin[at] / size] === 1) result.foundPackets++;
    else lostAt[place] += samples.count;
  }
  result.lost = (result.soundPackets - result.foundPackets) * samples.count;
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

/** @returns [bytes] 1 where a packet of the sound stream begins and is whole. */
function wholePackets(origin: Int32Array, size: number): Uint8Array {
  const isWhole = new Uint8Array(origin.length);
  for (let at = 0; at + size <= origin.length; at++) {
    if (origin[at] < 0 || origin[at] % size !== 0) continue;
    let k = 1;
    while (k < size && origin[at + k] === origin[at] + k) k++;
    if (k === size) isWhole[at] = 1;
  }
  return isWhole;
}

/** @returns the first of the packets of the sound stream at `candidates` that has the same bytes as the one at `at`, or -1. */
function sameBytes(
  sound: Uint8Array,
  bytes: Uint8Array,
  at: number,
  size: number,
  candidates: readonly number[],
): number {
  for (const from of candidates) {
    if (from < 0 || from % size !== 0 || from + size > sound.length) continue;
    let k = 0;
    while (k < size && sound[from + k] === bytes[at + k]) k++;
    if (k === size) return from;
  }
  return -1;
}

/** Halfway from a damage to the next: what is lost before belongs to it. */
function middle(places: readonly number[], k: number): number {
  return k + 1 < places.length ? (places[k] + places[k + 1]) / 2 : Infinity;
}

/** @returns turns: the first angle of the packet at `at`, read by hand from the description of the layout. */
function wireAngle(bytes: Uint8Array, at: number, layout: Layout): number {
  const word = (i: number): number => bytes[at + i] | (bytes[at + i + 1] << 8);
  if (layout.name === 'sample5') return ((word(1) >> 1) / 64 / 360) % 1;
  return (word(4) / 100 / 360) % 1;
}
