import type { LineStates } from '../port.js';

/**
 * A sensor's wire layout as plain data: everything the one decoder (device/decoder.ts), the link and the encoder
 * need to know of a sensor, and nothing of any other. All of it can be written as JSON or YAML.
 *
 * Bits are numbered as the bytes come: bit 0 is the lowest bit of the packet's first byte, bit 8 the lowest of its second;
 * a field's lowest bit is its first. Integers of several bytes are therefore little-endian.
 */
export interface Layout {
  /** By shape, never by maker: sample5 is five bytes a sample. */
  readonly name: string;
  /** The usual baud rate, 8 data bits, no parity, one stop bit: 10 bits a byte. */
  readonly baud: number;
  /** Other rates at which sensors of this layout are known to send. */
  readonly otherBauds?: readonly number[];
  /** Samples a second that the sensor usually sends; a first guess only. */
  readonly samplesPerSecond: number;
  /** How the sensor's own angles run, seen from above with the sensor upright. */
  readonly sense: 'clockwise' | 'counterclockwise';
  /** Modem lines that make the motor run and stop; absent where the sensor has none to switch. */
  readonly lines?: { readonly running: LineStates; readonly stopped: LineStates };
  /** Commands and the one answer to start, as hexadecimal bytes such as `A5 20`; absent where there is none. */
  readonly start?: string;
  readonly stop?: string;
  readonly answer?: string;
  readonly packet: PacketLayout;
  /** The beam leaves beside the axis: bearings depend on the range. */
  readonly triangulation?: Triangulation;
  /** What is not the same, or not sure, for all sensors of this layout; see layouts/options.ts. */
  readonly options?: Readonly<Record<string, LayoutOption>>;
}

export interface PacketLayout {
  /** Length, bytes; where the samples are counted: without them. */
  readonly bytes: number;
  /** What tells a packet from other bytes, cheapest and most telling first. */
  readonly fixed: readonly FixedBits[];
  /** Absent: the decoder locks on a run of plausible bearings and releases a sample when two later ones agree. */
  readonly check?: Check;
  readonly samples: SampleCells;
  readonly angle: AngleSource;
  /** In the cell, counts a metre; 0 means received without an echo. */
  readonly range: Each<Field>;
  /** In the cell, the sensor's own unit. */
  readonly strength?: Each<Field>;
  /** In the cell; a value other than 0 means received without an echo, whatever the range says. */
  readonly noEcho?: Each<Bits>;
  /** In the cell; a value other than 0 means that the sensor itself doubts the echo. */
  readonly weak?: WeakMark;
  /** In the cell, counts a turn: taken off the sample's angle. */
  readonly correction?: Each<Field>;
  /** In the packet; 1 when its first sample is the first of a revolution. `isAlone`: such a packet holds one sample only. */
  readonly startMark?: Bits & { readonly isAlone?: boolean };
  /** In the packet; 1 when nothing connects it with the one before, as after a start. */
  readonly freshMark?: Bits;
  /** In the packet, counts for one revolution a second. */
  readonly speed?: Field;
  /** In the packet, counts a second, starting again at 0 after `wraps` counts. */
  readonly time?: Field & { readonly wraps: number };
}

/** One for each of the samples that share a cell; a lone one for a sample that has its cell to itself. */
export type Each<T> = T | readonly T[];

/** @param offset first bit of the packet (or of the sample's cell). @param width 1..16 bits. */
export interface Bits {
  readonly offset: number;
  readonly width: number;
  /** Where the number's higher bits lie, if not right behind. */
  readonly more?: { readonly offset: number; readonly width: number };
}

/** A number on the wire. */
export interface Field extends Bits {
  /** Counts in one unit: metre, turn, second, as said where it stands. */
  readonly per: number;
  /** Two's complement; absent: unsigned. */
  readonly signed?: boolean;
}

/** Bits (at most 8 wide) that hold one of a few values in every packet: those named, or all from `least` to `most`. */
export type FixedBits = Bits &
  ({ readonly values: readonly number[] } | { readonly least: number; readonly most: number });

/** @param isEcho whether a doubted echo is believed all the same. */
export interface WeakMark {
  readonly bits: Each<Bits>;
  readonly isEcho: boolean;
}

/** The samples lie in cells of `stride` bytes that follow each other from byte `first` on; as many in a cell as `range` has fields. */
export interface SampleCells {
  readonly count: number | SampleCount;
  readonly first: number;
  readonly stride: number;
}

/** The packet itself says how many samples it holds. */
export interface SampleCount extends Bits {
  readonly least: number;
  readonly most: number;
  /** What most packets hold; a first guess only. */
  readonly usual: number;
}

/** What makes sure that a packet is whole: a sum over the bytes `first` .. `last - 1` (absent: to its end), the sum itself left out. */
export type Check = CheckSpan &
  (
    | { readonly kind: 'crc8'; readonly polynomial: number; readonly initial: number }
    | { readonly kind: 'xor8' | 'xor16' | 'sum' | 'folded15' }
  );

/** @param field where the sum stands in the packet. */
export interface CheckSpan {
  readonly first: number;
  readonly last?: number;
  readonly field: Bits;
}

/**
 * Where bearings come from; counts a turn.
 * - `each`: a field of every cell.
 * - `ends`: first and last are fields of the packet, those between are interpolated over count - 1 intervals, past the turn if need be.
 * - `next`: first is a field of the packet, the others are interpolated up to the next packet's first, which must follow.
 * - `index`: the packet's number, counted from `zero`, `per` packets a turn; its samples divide its share of the turn evenly.
 */
export type AngleSource =
  | { readonly kind: 'each'; readonly field: Field }
  | { readonly kind: 'ends'; readonly first: Field; readonly last: Field }
  | { readonly kind: 'next'; readonly first: Field }
  | { readonly kind: 'index'; readonly field: Field; readonly zero: number };

/**
 * The bearing of an echo at range d is its angle plus atan(offset (1/d - 1/at)), in the sensor's own sense.
 * @param offset m, of the beam from the axis. @param at m, the range at which beam and angle agree.
 */
export interface Triangulation {
  readonly offset: number;
  readonly at: number;
  /** The sensor has done it already: nothing is added. */
  readonly isDone: boolean;
  /** The angle of a sample without echo: where the beam looks (d without end), or as it came. */
  readonly empty: 'beam' | 'angle';
}

/** Something about a layout that a person or a test has to settle. */
export interface LayoutOption {
  readonly why: string;
  /** The places in the layout that get the value, as keys with dots, such as `packet.correction.0.signed`. */
  readonly sets: readonly string[];
  readonly preset: boolean | string | number;
  /** What it may be: one of a few, or a number from `least` to `most`. */
  readonly values?: readonly (boolean | string)[];
  readonly least?: number;
  readonly most?: number;
  /** A near straight wall tells which value is right: it must come out straight. */
  readonly isSeenOnWall?: boolean;
}

/** @returns bytes and samples of a usual packet. */
export function usualPacket({ packet }: Layout): { readonly bytes: number; readonly samples: number } {
  const { count, stride } = packet.samples;
  if (typeof count === 'number') return { bytes: packet.bytes, samples: count };
  return { bytes: packet.bytes + (count.usual * stride) / eachOf(packet.range).length, samples: count.usual };
}

/** @returns samples in a revolution, where the layout fixes them; NaN where spin and rate do. */
export function samplesPerTurn({ packet }: Layout): number {
  const { angle, samples } = packet;
  return angle.kind === 'index' && typeof samples.count === 'number' ? angle.field.per * samples.count : NaN;
}

/** @returns the fields of the samples that share a cell. */
export function eachOf<T>(fields: Each<T> | undefined): readonly T[] {
  if (fields === undefined) return [];
  return isList(fields) ? fields : [fields];
}

function isList<T>(fields: Each<T>): fields is readonly T[] {
  return Array.isArray(fields);
}

/** @param range m, above 0; Infinity: no echo. @returns rad, to be added to the angle. */
export function triangulated({ offset, at, isDone, empty }: Triangulation, range: number): number {
  if (isDone || (range === Infinity && empty === 'angle')) return 0;
  return Math.atan(offset * (1 / range - 1 / at));
}

/** @returns the bytes of `A5 20`. @throws {RangeError} not pairs of hexadecimal digits. */
export function hexBytes(text: string): Uint8Array {
  const digits = text.replaceAll(' ', '');
  if (!/^([0-9a-f]{2})*$/i.test(digits)) throw new RangeError(`hexBytes: "${text}"`);
  return Uint8Array.from(digits.match(/../g) ?? [], (pair) => Number.parseInt(pair, 16));
}
