import { TAU, turnAngle } from '../core/angles.js';
import { crc8, crc8Table } from '../device/layouts/crc8.js';
import type { Bits, Field, Layout } from '../device/layouts/layout.js';

/** Samples in the order of measuring, about the sensor, in the sensor's own right-handed axes (x ahead, y left, upright). */
export interface WireSamples {
  readonly count: number;
  /** rad, counter-clockwise from x, any turn; the encoder turns it into the layout's own sense. */
  readonly bearing: Readonly<ArrayLike<number>>;
  /** m; 0 or Infinity: no echo. A range beyond what the field holds is sent as no echo. */
  readonly range: Readonly<ArrayLike<number>>;
  /** The layout's own unit; absent: 0. */
  readonly strength?: Readonly<ArrayLike<number>>;
  /** 1 on the first sample of a revolution; absent: none is. */
  readonly start?: Readonly<ArrayLike<number>>;
}

/** One sample waiting for its packet, in counts on the wire. */
interface Waiting {
  angle: number;
  range: number;
  strength: number;
  start: number;
  time: number;
}

/**
 * Turns samples into a layout's bytes, driven by the same declaration as the decoder. Samples that do not fill a packet
 * wait for the next call.
 */
export class WireEncoder {
  /** Bytes a sample costs on the wire; times 10 / baud it is the time that it takes. */
  readonly bytesPerSample: number;
  readonly #layout: Layout;
  readonly #crcTable: Uint8Array;
  readonly #waiting: Waiting[] = [];

  constructor(layout: Layout) {
    this.#layout = layout;
    this.bytesPerSample = layout.packet.bytes / layout.packet.samples.count;
    this.#crcTable = crc8Table(layout.packet.check?.polynomial ?? 0);
  }

  /**
   * @param time s, when the first of `samples` was measured; for layouts that carry a time.
   * @param spin revolutions a second; for layouts that carry a speed.
   * @returns whole packets, fresh.
   * @throws {RangeError} a column shorter than count, or a bearing that is not finite.
   */
  encode(samples: WireSamples, time: number, spin: number): Uint8Array {
    const { packet, samplesPerSecond } = this.#layout;
    if (samples.bearing.length < samples.count || samples.range.length < samples.count) {
      throw new RangeError(`encode: ${samples.count} samples in shorter columns`);
    }
    for (let i = 0; i < samples.count; i++) this.#waiting.push(this.#toCounts(samples, i, time + i / samplesPerSecond));
    const packets = Math.floor(this.#waiting.length / packet.samples.count);
    const out = new Uint8Array(packets * packet.bytes);
    for (let k = 0; k < packets; k++) {
      this.#write(out.subarray(k * packet.bytes, (k + 1) * packet.bytes), k * packet.samples.count, spin);
    }
    this.#waiting.splice(0, packets * packet.samples.count);
    return out;
  }

  #toCounts(samples: WireSamples, i: number, time: number): Waiting {
    const { packet, sense } = this.#layout;
    const bearing = samples.bearing[i];
    if (!Number.isFinite(bearing)) throw new RangeError(`encode: bearing ${bearing}`);
    const turn = packet.angle.kind === 'each' ? packet.angle.field.per : packet.angle.first.per;
    const range = Math.round(samples.range[i] * packet.range.per);
    const rangeMax = 2 ** packet.range.width - 1;
    return {
      angle: Math.round((turnAngle(sense === 'clockwise' ? -bearing : bearing) / TAU) * turn) % turn,
      range: range > 0 && range <= rangeMax ? range : 0,
      strength: Math.min(2 ** (packet.strength?.width ?? 0) - 1, samples.strength?.[i] ?? 0),
      start: samples.start?.[i] ?? 0,
      time,
    };
  }

  #write(out: Uint8Array, first: number, spin: number): void {
    const { packet } = this.#layout;
    const { count, first: firstCell, stride } = packet.samples;
    const start = this.#waiting[first].start;
    const isMark = (bits: Bits): boolean => bits.offset === packet.startMark?.offset;
    // of the values that may stand in fixed bits, take the one that also says the start mark
    for (const bits of packet.fixed)
      put(out, 0, bits, bits.values.find((value) => !isMark(bits) || (value & 1) === start) ?? 0);
    if (packet.startMark) put(out, 0, packet.startMark, start);
    for (let k = 0; k < count; k++) {
      const sample = this.#waiting[first + k];
      const cell = firstCell + k * stride;
      put(out, cell, packet.range, sample.range);
      if (packet.strength) put(out, cell, packet.strength, sample.strength);
      if (packet.noEcho) put(out, cell, packet.noEcho, sample.range === 0 ? 1 : 0);
      if (packet.angle.kind === 'each') put(out, cell, packet.angle.field, sample.angle);
    }
    if (packet.angle.kind === 'ends') {
      put(out, 0, packet.angle.first, this.#waiting[first].angle);
      put(out, 0, packet.angle.last, this.#waiting[first + count - 1].angle);
    }
    if (packet.speed) put(out, 0, packet.speed, Math.round(Math.abs(spin) * packet.speed.per));
    if (packet.time)
      put(out, 0, packet.time, Math.floor(this.#waiting[first + count - 1].time * packet.time.per) % packet.time.wraps);
    const { check } = packet;
    if (check) out[check.at] = crc8(this.#crcTable, out, check.first, check.last, check.initial);
  }
}

/** Writes the low bits of `value` to a field of the packet or cell that begins at byte `at`. */
function put(out: Uint8Array, at: number, field: Bits | Field, value: number): void {
  for (let bit = 0; bit < field.width; bit++) {
    const place = field.offset + bit;
    const mask = 1 << (place & 7);
    const byte = at + (place >> 3);
    out[byte] = (value >> bit) & 1 ? out[byte] | mask : out[byte] & ~mask;
  }
}
