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
}

export interface PacketLayout {
  /** Length, bytes. */
  readonly bytes: number;
  /** What tells a packet from other bytes, cheapest and most telling first. */
  readonly fixed: readonly FixedBits[];
  /** Absent: the decoder locks on a run of plausible bearings and releases a sample when two later ones agree. */
  readonly check?: Check;
  readonly samples: SampleCells;
  readonly angle: AngleSource;
  /** In the cell, counts a metre; 0 means received without an echo. */
  readonly range: Field;
  /** In the cell, the sensor's own unit. */
  readonly strength?: Field;
  /** In the cell; a value other than 0 means received without an echo, whatever the range says. */
  readonly noEcho?: Bits;
  /** In the packet; 1 when the packet's first sample is the first of a revolution. */
  readonly startMark?: Bits;
  /** In the packet, counts for one revolution a second. */
  readonly speed?: Field;
  /** In the packet, counts a second, starting again at 0 after `wraps` counts. */
  readonly time?: Field & { readonly wraps: number };
}

/** @param offset first bit of the packet (or of the sample's cell). @param width 1..16 bits. */
export interface Bits {
  readonly offset: number;
  readonly width: number;
}

/** A number on the wire. */
export interface Field extends Bits {
  /** Counts in one unit: metre, turn, second, as said where it stands. */
  readonly per: number;
  /** Two's complement; absent: unsigned. */
  readonly signed?: boolean;
}

/** Bits (at most 8 wide) that hold one of a few values in every packet. */
export interface FixedBits extends Bits {
  readonly values: readonly number[];
}

/** Sample k = 0 .. count-1 lies in the `stride` bytes that begin at byte `first + k stride`. */
export interface SampleCells {
  readonly count: number;
  readonly first: number;
  readonly stride: number;
}

/** CRC-8 (not reflected) over the bytes `first` .. `last - 1`, found in byte `at`. */
export interface Check {
  readonly kind: 'crc8';
  readonly polynomial: number;
  readonly initial: number;
  readonly first: number;
  readonly last: number;
  readonly at: number;
}

/**
 * Where bearings come from; counts a turn.
 * - `each`: a field of every cell.
 * - `ends`: first and last are fields of the packet, those between are interpolated over count - 1 intervals, past the turn if need be.
 */
export type AngleSource =
  | { readonly kind: 'each'; readonly field: Field }
  | { readonly kind: 'ends'; readonly first: Field; readonly last: Field };

/** @returns the bytes of `A5 20`. @throws {RangeError} not pairs of hexadecimal digits. */
export function hexBytes(text: string): Uint8Array {
  const digits = text.replaceAll(' ', '');
  if (!/^([0-9a-f]{2})*$/i.test(digits)) throw new RangeError(`hexBytes: "${text}"`);
  return Uint8Array.from(digits.match(/../g) ?? [], (pair) => Number.parseInt(pair, 16));
}
