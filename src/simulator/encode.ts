import { TAU, turnAngle } from '../core/angles.js';
import { type Checksum, checksum } from '../device/layouts/check.js';
import { type Bits, eachOf, type Field, type Layout, triangulated, usualPacket } from '../device/layouts/layout.js';

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

/** One sample waiting for its packet: in counts on the wire, the angle not yet rounded. */
interface Waiting {
  angle: number;
  range: number;
  strength: number;
  start: number;
  time: number;
}

/**
 * Turns samples into a layout's bytes, driven by the same declaration as the decoder. Samples that do not fill a packet
 * wait for the next call. Where the layout interpolates, samples that are not evenly spaced come out a little beside.
 */
export class WireEncoder {
  /** Bytes a sample costs on the wire; times 10 / baud it is the time that it takes. */
  readonly bytesPerSample: number;
  readonly #layout: Layout;
  readonly #turn: number;
  readonly #checksum: Checksum | undefined;
  readonly #waiting: Waiting[] = [];
  /** Number of the next packet in its turn, where packets are numbered; NaN: not begun. */
  #slot = NaN;
  #isFirst = true;

  constructor(layout: Layout) {
    this.#layout = layout;
    const { angle, check } = layout.packet;
    const { bytes, samples } = usualPacket(layout);
    this.bytesPerSample = bytes / samples;
    const perTurn = angle.kind === 'each' || angle.kind === 'index' ? angle.field.per : angle.first.per;
    this.#turn = angle.kind === 'index' ? perTurn * samples : perTurn;
    this.#checksum = check && checksum(check);
  }

  /**
   * @param time s, when the first of `samples` was measured; for layouts that carry a time.
   * @param spin revolutions a second; for layouts that carry a speed.
   * @returns whole packets, fresh.
   * @throws {RangeError} a column shorter than count, or a bearing that is not finite.
   */
  encode(samples: WireSamples, time: number, spin: number): Uint8Array {
    const { samplesPerSecond } = this.#layout;
    if (samples.bearing.length < samples.count || samples.range.length < samples.count) {
      throw new RangeError(`encode: ${samples.count} samples in shorter columns`);
    }
    for (let i = 0; i < samples.count; i++) this.#take(this.#toCounts(samples, i, time + i / samplesPerSecond));
    const out: number[] = [];
    for (let count = this.#ready(); count > 0; count = this.#ready()) {
      for (const byte of this.#packet(count, spin)) out.push(byte);
      this.#waiting.splice(0, count);
    }
    return Uint8Array.from(out);
  }

  #toCounts(samples: WireSamples, i: number, time: number): Waiting {
    const { packet, sense, triangulation } = this.#layout;
    if (!Number.isFinite(samples.bearing[i])) throw new RangeError(`encode: bearing ${samples.bearing[i]}`);
    const [field] = eachOf(packet.range);
    const strengths = eachOf(packet.strength);
    const counts = Math.round(samples.range[i] * field.per);
    const range = counts > 0 && counts <= 2 ** field.width - 1 ? counts : 0;
    let bearing = sense === 'clockwise' ? -samples.bearing[i] : samples.bearing[i];
    if (triangulation) bearing -= triangulated(triangulation, range > 0 ? range / field.per : Infinity);
    return {
      angle: (turnAngle(bearing) / TAU) * this.#turn,
      range,
      strength: Math.min(2 ** (strengths[0]?.width ?? 0) - 1, samples.strength?.[i] ?? 0),
      start: samples.start?.[i] ?? 0,
      time,
    };
  }

  /** Lines a sample up: where packets are numbered each angle has its place, and places that nothing was measured for stay empty. */
  #take(sample: Waiting): void {
    const waiting = this.#waiting;
    if (this.#layout.packet.angle.kind !== 'index') {
      waiting.push(sample);
      return;
    }
    const place = Math.floor(sample.angle + 0.5 + 1e-9) % this.#turn;
    if (Number.isNaN(this.#slot)) this.#slot = place;
    const behind = (this.#slot - place + this.#turn) % this.#turn;
    if (behind > 0 && behind < this.#turn / 2) {
      if (behind <= waiting.length) waiting[waiting.length - behind] = { ...sample, angle: place };
      return;
    }
    for (; this.#slot !== place; this.#slot = (this.#slot + 1) % this.#turn)
      waiting.push({ ...sample, angle: this.#slot, range: 0, strength: 0 });
    waiting.push({ ...sample, angle: place });
    this.#slot = (place + 1) % this.#turn;
  }

  /** @returns how many of the waiting samples make the next packet; 0: it is not complete yet. */
  #ready(): number {
    const waiting = this.#waiting;
    const { samples, startMark, angle } = this.#layout.packet;
    if (typeof samples.count === 'number') {
      if (angle.kind === 'index') while (waiting.length > 0 && waiting[0].angle % samples.count !== 0) waiting.shift();
      return waiting.length < samples.count + (angle.kind === 'next' ? 1 : 0) ? 0 : samples.count;
    }
    const { usual } = samples.count;
    if (waiting.length > 0 && startMark?.isAlone === true && waiting[0].start === 1) return 1;
    for (let k = 1; k < Math.min(usual, waiting.length); k++) if (waiting[k].start === 1) return k;
    return waiting.length < usual ? 0 : usual;
  }

  /** @returns the bytes of a packet of the first `count` waiting samples. */
  #packet(count: number, spin: number): Uint8Array {
    const { packet } = this.#layout;
    const { samples, check } = packet;
    const isCounted = typeof samples.count !== 'number';
    const out = new Uint8Array(packet.bytes + (isCounted ? count * samples.stride : 0));
    const start = this.#waiting.slice(0, count).some((sample) => sample.start === 1) ? 1 : 0;
    // of the values that may stand in fixed bits, take the one that also says the start mark
    for (const bits of packet.fixed) {
      const values = 'values' in bits ? bits.values : [bits.least];
      const isMark = bits.offset === packet.startMark?.offset;
      put(out, 0, bits, values.find((value) => !isMark || (value & 1) === start) ?? 0);
    }
    if (typeof samples.count !== 'number') put(out, 0, samples.count, count);
    if (packet.startMark) put(out, 0, packet.startMark, start);
    if (packet.freshMark) put(out, 0, packet.freshMark, this.#isFirst ? 1 : 0);
    this.#isFirst = false;
    this.#putAngles(out, count);
    for (let k = 0; k < count; k++) this.#putSample(out, k);
    if (packet.speed) put(out, 0, packet.speed, Math.round(Math.abs(spin) * packet.speed.per));
    const { time } = this.#waiting[count - 1];
    if (packet.time) put(out, 0, packet.time, Math.floor(time * packet.time.per) % packet.time.wraps);
    if (check && this.#checksum) put(out, 0, check.field, this.#checksum(out, 0, out.length));
    return out;
  }

  #putSample(out: Uint8Array, k: number): void {
    const { packet } = this.#layout;
    const each = eachOf(packet.range).length;
    const cell = packet.samples.first + Math.floor(k / each) * packet.samples.stride;
    const sample = this.#waiting[k];
    put(out, cell, eachOf(packet.range)[k % each], sample.range);
    if (packet.strength) put(out, cell, eachOf(packet.strength)[k % each], sample.strength);
    if (packet.noEcho) put(out, cell, eachOf(packet.noEcho)[k % each], sample.range === 0 ? 1 : 0);
    if (packet.angle.kind === 'each') put(out, cell, packet.angle.field, this.#rounded(k));
  }

  #putAngles(out: Uint8Array, count: number): void {
    const { angle, correction } = this.#layout.packet;
    if (angle.kind === 'index') {
      put(out, 0, angle.field, angle.zero + this.#waiting[0].angle / count);
      return;
    }
    if (angle.kind === 'each') return;
    const first = this.#rounded(0);
    put(out, 0, angle.first, first);
    if (angle.kind === 'ends') put(out, 0, angle.last, this.#rounded(count - 1));
    if (angle.kind !== 'next' || !correction) return;
    const { samples } = this.#layout.packet;
    const each = eachOf(correction).length;
    const span = (this.#rounded(count) - first + this.#turn) % this.#turn;
    for (let k = 0; k < count; k++) {
      const field = eachOf(correction)[k % each];
      const expected = first + (k / count) * span;
      const off = expected - this.#waiting[k].angle;
      const turned = off - this.#turn * Math.round(off / this.#turn);
      put(
        out,
        samples.first + Math.floor(k / each) * samples.stride,
        field,
        fitting(field, (turned / this.#turn) * field.per),
      );
    }
  }

  #rounded(k: number): number {
    return Math.round(this.#waiting[k].angle) % this.#turn;
  }
}

/** @returns the whole number nearest to `value` that the field holds, as its bits. */
function fitting(field: Field, value: number): number {
  const size = 2 ** (field.width + (field.more?.width ?? 0));
  const least = field.signed === true ? -size / 2 : 0;
  const whole = Math.max(least, Math.min(least + size - 1, Math.round(value)));
  return whole < 0 ? whole + size : whole;
}

/** Writes the low bits of `value` to a field of the packet or cell that begins at byte `at`. */
function put(out: Uint8Array, at: number, field: Bits, value: number): void {
  const { offset, width, more } = field;
  for (let bit = 0; bit < width; bit++) {
    const place = offset + bit;
    const mask = 1 << (place & 7);
    const byte = at + (place >> 3);
    out[byte] = (value >> bit) & 1 ? out[byte] | mask : out[byte] & ~mask;
  }
  if (more) put(out, at, more, value >> width);
}
