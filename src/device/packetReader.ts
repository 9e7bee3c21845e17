import { crc8, crc8Table } from './layouts/crc8.js';
import type { Bits, Field, Layout } from './layouts/layout.js';

/** The reader may look this many bytes past a packet's end (their value does not matter): buffers leave room for it. */
export const READ_AHEAD = 4;

/** Bits of a packet made ready for reading: value = (three bytes from `byte` >>> shift) & mask. */
interface Place {
  readonly byte: number;
  readonly shift: number;
  readonly mask: number;
  readonly signBit: number;
}

function place(bits: Bits | Field, firstByte = 0): Place {
  if (!(bits.width >= 1 && bits.width <= 16 && bits.offset >= 0)) {
    throw new RangeError(`place: ${bits.width} bits at ${bits.offset}`);
  }
  return {
    byte: firstByte + (bits.offset >> 3),
    shift: bits.offset & 7,
    mask: 2 ** bits.width - 1,
    signBit: 'signed' in bits && bits.signed === true ? 2 ** (bits.width - 1) : 0,
  };
}

function read(bytes: Readonly<Uint8Array>, at: number, place: Place): number {
  const i = at + place.byte;
  const value = ((bytes[i] | (bytes[i + 1] << 8) | (bytes[i + 2] << 16)) >>> place.shift) & place.mask;
  return place.signBit !== 0 && value >= place.signBit ? value - 2 * place.signBit : value;
}

/** Where the decoder puts a packet's samples, as columns. */
export interface SampleColumns {
  readonly bearing: Float32Array;
  readonly range: Float32Array;
  readonly strength: Uint16Array;
  readonly start: Uint8Array;
}

/** Reads the fields of one layout's packets, as declared. All positions are of the packet's first byte. */
export class PacketReader {
  /** Length of a packet, bytes, and samples in it. */
  readonly bytes: number;
  readonly count: number;
  /** Bytes from a packet's first that tell whether it is likely. */
  readonly likelyBytes: number;
  /** Counts of the angle in one turn. */
  readonly turn: number;
  /** Each packet carries its time: no two within `wraps` are the same. */
  readonly hasTime: boolean;
  readonly #fixed: readonly (Place & { readonly allowed: Uint8Array })[];
  readonly #check:
    | { readonly table: Uint8Array; readonly initial: number; first: number; last: number; at: number }
    | undefined;
  readonly #first: Place;
  readonly #last: Place | undefined;
  readonly #ranges: readonly Place[];
  readonly #perMetre: number;
  readonly #strengths: readonly Place[];
  readonly #noEchoes: readonly Place[];
  readonly #startMark: Place | undefined;

  /** @throws {RangeError} the declaration contradicts itself: whoever made the layout made a mistake. */
  constructor(layout: Layout) {
    const { packet } = layout;
    const { angle, check, samples } = packet;
    if (angle.kind === 'each' && samples.count !== 1)
      throw new RangeError(`${layout.name}: an angle in each of several cells`);
    if (angle.kind === 'ends' && angle.first.per !== angle.last.per)
      throw new RangeError(`${layout.name}: two angle units`);
    if (samples.first + samples.count * samples.stride > packet.bytes)
      throw new RangeError(`${layout.name}: cells past the end`);
    this.bytes = packet.bytes;
    this.count = samples.count;
    const cells = (bits: Bits | Field | undefined): Place[] =>
      bits ? Array.from({ length: samples.count }, (_, k) => place(bits, samples.first + k * samples.stride)) : [];
    this.#fixed = packet.fixed.map((bits) => {
      const allowed = new Uint8Array(256);
      for (const value of bits.values) allowed[value] = 1;
      return { ...place(bits), allowed };
    });
    this.likelyBytes = Math.max(0, ...packet.fixed.map((bits) => ((bits.offset + bits.width - 1) >> 3) + 1));
    this.#check = check && { ...check, table: crc8Table(check.polynomial) };
    const firstCell = angle.kind === 'each' ? samples.first : 0;
    this.#first = place(angle.kind === 'each' ? angle.field : angle.first, firstCell);
    this.#last = angle.kind === 'ends' ? place(angle.last) : undefined;
    this.turn = angle.kind === 'each' ? angle.field.per : angle.first.per;
    this.#ranges = cells(packet.range);
    this.#perMetre = packet.range.per;
    this.#strengths = cells(packet.strength);
    this.#noEchoes = cells(packet.noEcho);
    this.#startMark = packet.startMark && place(packet.startMark);
    this.hasTime = packet.time !== undefined;
  }

  get hasCheck(): boolean {
    return this.#check !== undefined;
  }

  /** @returns whether the bits that are fixed in every packet are right. */
  isLikely(bytes: Readonly<Uint8Array>, at: number): boolean {
    for (let i = 0; i < this.#fixed.length; i++) {
      const fixed = this.#fixed[i];
      if (fixed.allowed[read(bytes, at, fixed)] !== 1) return false;
    }
    return true;
  }

  /** @returns whether the check agrees; true where there is none. */
  isSound(bytes: Readonly<Uint8Array>, at: number): boolean {
    const check = this.#check;
    if (!check) return true;
    return crc8(check.table, bytes, at + check.first, at + check.last, check.initial) === bytes[at + check.at];
  }

  /** @returns the first sample's angle, counts, as it stands: it may overshoot the turn. */
  firstAngle(bytes: Readonly<Uint8Array>, at: number): number {
    return read(bytes, at, this.#first);
  }

  /** @returns counts, [0, turn): how far the last sample lies past the first; 0 for a packet of one sample. */
  span(bytes: Readonly<Uint8Array>, at: number): number {
    if (!this.#last) return 0;
    const span = (read(bytes, at, this.#last) - read(bytes, at, this.#first)) % this.turn;
    return span < 0 ? span + this.turn : span;
  }

  isStart(bytes: Readonly<Uint8Array>, at: number): boolean {
    return this.#startMark !== undefined && read(bytes, at, this.#startMark) === 1;
  }

  /** Writes the packet's samples to rows row .. row + count - 1. */
  samples(bytes: Readonly<Uint8Array>, at: number, out: SampleColumns, row: number): void {
    const first = this.firstAngle(bytes, at) % this.turn;
    const step = this.count > 1 ? this.span(bytes, at) / (this.count - 1) : 0;
    const perCount = (2 * Math.PI) / this.turn;
    for (let k = 0; k < this.count; k++) {
      const angle = first + k * step;
      out.bearing[row + k] = (angle >= this.turn ? angle - this.turn : angle) * perCount;
      const isEmpty = this.#noEchoes.length > 0 && read(bytes, at, this.#noEchoes[k]) !== 0;
      out.range[row + k] = isEmpty ? 0 : read(bytes, at, this.#ranges[k]) / this.#perMetre;
      out.strength[row + k] = this.#strengths.length > 0 ? read(bytes, at, this.#strengths[k]) : 0;
      out.start[row + k] = k === 0 && this.isStart(bytes, at) ? 1 : 0;
    }
  }
}
