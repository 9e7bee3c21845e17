import { crc8, crc8Table } from './crc8.js';
import type { Check } from './layout.js';

/** Works out the sum of the packet of `length` bytes that begins at byte `at`. */
export type Checksum = (bytes: Readonly<Uint8Array>, at: number, length: number) => number;

/**
 * The sum of a declared check, as it should stand in its field. In short:
 * - `crc8`: not reflected, without a final exclusive or.
 * - `xor8`, `xor16`: exclusive or of the bytes, or of the words (low byte first).
 * - `sum`: of the bytes, as many low bits as the field is wide.
 * - `folded15`: c = 2 c + word in 32 bits, over the words; then its low 15 bits plus the bits above them, 15 bits of that.
 * The sum's own bytes are left out where they lie among the others.
 */
export function checksum(check: Check): Checksum {
  const { field } = check;
  const own = field.offset >> 3;
  const ownEnd = ((field.offset + field.width - 1) >> 3) + 1;
  const span = (length: number): number => check.last ?? length;
  switch (check.kind) {
    case 'crc8': {
      const table = crc8Table(check.polynomial);
      return (bytes, at, length) => crc8(table, bytes, at + check.first, at + span(length), check.initial);
    }
    case 'xor8':
      return (bytes, at, length) => {
        let sum = 0;
        for (let i = check.first; i < span(length); i++) if (i < own || i >= ownEnd) sum ^= bytes[at + i];
        return sum;
      };
    case 'xor16':
      return (bytes, at, length) => {
        let sum = 0;
        for (let i = check.first; i < span(length); i += 2) {
          if (i < own || i >= ownEnd) sum ^= bytes[at + i] | (bytes[at + i + 1] << 8);
        }
        return sum;
      };
    case 'sum':
      return (bytes, at, length) => {
        let sum = 0;
        for (let i = check.first; i < span(length); i++) if (i < own || i >= ownEnd) sum += bytes[at + i];
        return sum % 2 ** field.width;
      };
    case 'folded15':
      return (bytes, at, length) => {
        let sum = 0;
        for (let i = check.first; i < span(length); i += 2) {
          if (i < own || i >= ownEnd) sum = ((sum << 1) + (bytes[at + i] | (bytes[at + i + 1] << 8))) >>> 0;
        }
        return ((sum & 0x7fff) + (sum >>> 15)) & 0x7fff;
      };
  }
}
