import { turnAngle } from '../core/angles.js';
import { type Checksum, checksum } from './layouts/check.js';
import { flawOf } from './layouts/flaw.js';
import {
  type Bits,
  type Each,
  eachOf,
  type Field,
  type FixedBits,
  type Layout,
  type Triangulation,
  triangulated,
  usualPacket,
} from './layouts/layout.js';

/** The reader may look this many bytes past a packet's end (their value does not matter): buffers leave room for it. */
export const READ_AHEAD = 4;

/**
 * Bits of a packet made ready for reading: value = (three bytes from `byte` >>> shift) & mask, and above it, `moreScale` times,
 * the same of the other place (0 times where there is none).
 */
interface Place {
  readonly byte: number;
  readonly shift: number;
  readonly mask: number;
  readonly moreByte: number;
  readonly moreShift: number;
  readonly moreMask: number;
  readonly moreScale: number;
  readonly signBit: number;
}

function place(bits: Bits | Field, firstByte = 0): Place {
  const { offset, width, more = { offset, width: 0 } } = bits;
  return {
    byte: firstByte + (offset >> 3),
    shift: offset & 7,
    mask: 2 ** width - 1,
    moreByte: firstByte + (more.offset >> 3),
    moreShift: more.offset & 7,
    moreMask: 2 ** more.width - 1,
    moreScale: more.width > 0 ? 2 ** width : 0,
    signBit: 'signed' in bits && bits.signed === true ? 2 ** (width + more.width - 1) : 0,
  };
}

function read(bytes: Readonly<Uint8Array>, at: number, place: Place): number {
  const i = at + place.byte;
  let value = ((bytes[i] | (bytes[i + 1] << 8) | (bytes[i + 2] << 16)) >>> place.shift) & place.mask;
  if (place.moreScale !== 0) {
    const j = at + place.moreByte;
    const more = (bytes[j] | (bytes[j + 1] << 8) | (bytes[j + 2] << 16)) >>> place.moreShift;
    value += place.moreScale * (more & place.moreMask);
  }
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
  /** Of a usual packet: length, bytes. Of any: the least length, and the most samples in so many bytes. */
  readonly bytes: number;
  readonly leastBytes: number;
  readonly samplesPerByte: number;
  /** Bytes from a packet's first that tell whether it is likely, and how long it is. */
  readonly likelyBytes: number;
  /** Counts of the angle in one turn. */
  readonly turn: number;
  /** Each packet carries its time: no two within `wraps` are the same. */
  readonly hasTime: boolean;
  /** A packet can be read out only when the next one is there. */
  readonly needsNext: boolean;
  /** The span of a packet is measured, not fixed: a standing bearing shows in it. */
  readonly hasSpan: boolean;
  /** Packets say how many samples they hold. */
  readonly isCounted: boolean;
  readonly #fixed: readonly (Place & { readonly allowed: Uint8Array })[];
  readonly #check: { readonly sum: Checksum; readonly field: Place } | undefined;
  readonly #count: number;
  readonly #counted: (Place & { readonly least: number; readonly most: number }) | undefined;
  readonly #headBytes: number;
  readonly #firstCell: number;
  readonly #stride: number;
  readonly #eachCell: number;
  readonly #first: Place;
  readonly #last: Place | undefined;
  readonly #zero: number;
  readonly #perFirst: number;
  readonly #ranges: readonly Place[];
  readonly #perMetre: number;
  readonly #strengths: readonly Place[];
  readonly #noEchoes: readonly Place[];
  readonly #corrections: readonly Place[];
  readonly #correctionScale: number;
  readonly #triangulation: Triangulation | undefined;
  readonly #startMark: Place | undefined;
  readonly #freshMark: Place | undefined;

  /** @throws {RangeError} the declaration contradicts itself: whoever made the layout made a mistake. */
  constructor(layout: Layout) {
    const flaw = flawOf(layout);
    if (flaw) throw new RangeError(`${layout.name}: ${flaw.path.join('.')} must be ${flaw.limits}`);
    const { packet } = layout;
    const { angle, check, samples } = packet;
    const counted = typeof samples.count === 'number' ? undefined : samples.count;
    this.bytes = usualPacket(layout).bytes;
    this.isCounted = counted !== undefined;
    this.#counted = counted && { ...place(counted), least: counted.least, most: counted.most };
    this.#count = typeof samples.count === 'number' ? samples.count : samples.count.usual;
    this.#headBytes = packet.bytes;
    this.#stride = samples.stride;
    this.#firstCell = samples.first;
    this.#eachCell = eachOf(packet.range).length;
    this.leastBytes = packet.bytes + (counted ? counted.least * samples.stride : 0);
    this.samplesPerByte = counted ? 1 / samples.stride : this.#count / packet.bytes;
    this.#fixed = packet.fixed.map((bits) => ({ ...place(bits), allowed: allowedValues(bits) }));
    this.likelyBytes = Math.max(0, ...[...packet.fixed, ...(counted ? [counted] : [])].map(endByte));
    this.#check = check && { sum: checksum(check), field: place(check.field) };
    const first = angle.kind === 'each' || angle.kind === 'index' ? angle.field : angle.first;
    this.#first = place(first, angle.kind === 'each' ? samples.first : 0);
    this.#last = angle.kind === 'ends' ? place(angle.last) : undefined;
    this.#zero = angle.kind === 'index' ? angle.zero : 0;
    this.#perFirst = angle.kind === 'index' ? this.#count : 1;
    this.turn = first.per * this.#perFirst;
    this.needsNext = angle.kind === 'next';
    this.hasSpan = angle.kind === 'ends' || angle.kind === 'next';
    this.#ranges = places(packet.range);
    this.#perMetre = eachOf(packet.range)[0].per;
    this.#strengths = places(packet.strength);
    this.#noEchoes = [...places(packet.noEcho), ...(packet.weak?.isEcho === false ? places(packet.weak.bits) : [])];
    this.#corrections = places(packet.correction);
    this.#correctionScale = this.turn / (eachOf(packet.correction)[0]?.per ?? 1);
    this.#triangulation = layout.triangulation;
    this.#startMark = packet.startMark && place(packet.startMark);
    this.#freshMark = packet.freshMark && place(packet.freshMark);
    this.hasTime = packet.time !== undefined;
  }

  get hasCheck(): boolean {
    return this.#check !== undefined;
  }

  /** @returns whether the bits that are fixed in every packet are right, and the count of samples is possible. */
  isLikely(bytes: Readonly<Uint8Array>, at: number): boolean {
    for (let i = 0; i < this.#fixed.length; i++) {
      const fixed = this.#fixed[i];
      if (fixed.allowed[read(bytes, at, fixed)] !== 1) return false;
    }
    if (!this.#counted) return true;
    const count = read(bytes, at, this.#counted);
    return count >= this.#counted.least && count <= this.#counted.most;
  }

  /** @returns whether the check agrees; true where there is none. The packet must be whole. */
  isSound(bytes: Readonly<Uint8Array>, at: number): boolean {
    const check = this.#check;
    return !check || check.sum(bytes, at, this.length(bytes, at)) === read(bytes, at, check.field);
  }

  /** @returns samples in a likely packet. */
  count(bytes: Readonly<Uint8Array>, at: number): number {
    return this.#counted ? read(bytes, at, this.#counted) : this.#count;
  }

  /** @returns bytes, of a likely packet. */
  length(bytes: Readonly<Uint8Array>, at: number): number {
    return this.#counted ? this.#headBytes + read(bytes, at, this.#counted) * this.#stride : this.#headBytes;
  }

  /** @returns the first sample's angle, counts, as it stands: it may overshoot the turn. */
  firstAngle(bytes: Readonly<Uint8Array>, at: number): number {
    return (read(bytes, at, this.#first) - this.#zero) * this.#perFirst;
  }

  /**
   * @returns counts from one sample to the next, corrections apart; 0 for a packet of one sample. Where {@link needsNext} the
   *   next packet must be there.
   */
  step(bytes: Readonly<Uint8Array>, at: number): number {
    if (this.needsNext) {
      const next = this.firstAngle(bytes, at + this.length(bytes, at));
      return modulo(next - this.firstAngle(bytes, at), this.turn) / this.#count;
    }
    if (!this.#last) return this.#perFirst > 1 ? 1 : 0;
    const count = this.count(bytes, at);
    return count > 1 ? modulo(read(bytes, at, this.#last) - read(bytes, at, this.#first), this.turn) / (count - 1) : 0;
  }

  isStart(bytes: Readonly<Uint8Array>, at: number): boolean {
    return this.#startMark !== undefined && read(bytes, at, this.#startMark) === 1;
  }

  /** @returns whether nothing connects the packet with the one before. */
  isFresh(bytes: Readonly<Uint8Array>, at: number): boolean {
    return this.#freshMark !== undefined && read(bytes, at, this.#freshMark) === 1;
  }

  /** Writes the packet's samples to the rows from `row` on. */
  samples(bytes: Readonly<Uint8Array>, at: number, out: SampleColumns, row: number): void {
    const count = this.count(bytes, at);
    const first = this.firstAngle(bytes, at) % this.turn;
    const step = this.step(bytes, at);
    const perCount = (2 * Math.PI) / this.turn;
    const each = this.#eachCell;
    let cell = at + this.#firstCell;
    for (let k = 0, i = 0; k < count; k++) {
      const range = this.#range(bytes, cell, i);
      let angle = first + k * step;
      if (this.#corrections.length > 0) angle -= this.#correctionScale * read(bytes, cell, this.#corrections[i]);
      let bearing = angle * perCount;
      if (this.#triangulation) bearing += triangulated(this.#triangulation, range === 0 ? Infinity : range);
      out.bearing[row + k] = turnAngle(bearing);
      out.range[row + k] = range;
      out.strength[row + k] = this.#strengths.length > 0 ? read(bytes, cell, this.#strengths[i]) : 0;
      out.start[row + k] = k === 0 && this.isStart(bytes, at) ? 1 : 0;
      if (++i === each) {
        i = 0;
        cell += this.#stride;
      }
    }
  }

  /** @returns m, of the sample number `i` in the cell at byte `cell`; 0: none. */
  #range(bytes: Readonly<Uint8Array>, cell: number, i: number): number {
    for (let k = i; k < this.#noEchoes.length; k += this.#eachCell)
      if (read(bytes, cell, this.#noEchoes[k]) !== 0) return 0;
    return read(bytes, cell, this.#ranges[i]) / this.#perMetre;
  }
}

function places(fields: Each<Bits | Field> | undefined): Place[] {
  return eachOf<Bits | Field>(fields).map((bits) => place(bits));
}

function allowedValues(bits: FixedBits): Uint8Array {
  const allowed = new Uint8Array(256);
  if ('values' in bits) for (const value of bits.values) allowed[value] = 1;
  else allowed.fill(1, bits.least, bits.most + 1);
  return allowed;
}

function endByte({ offset, width, more = { offset, width } }: Bits): number {
  return (Math.max(offset + width, more.offset + more.width) + 7) >> 3;
}

/** @returns [0, turn) */
function modulo(angle: number, turn: number): number {
  const rest = angle % turn;
  return rest < 0 ? rest + turn : rest;
}
