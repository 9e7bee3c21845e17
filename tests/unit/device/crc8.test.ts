import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { crc8, crc8Table } from '../../../src/device/layouts/crc8.js';
import { sharedPath } from '../../support/sharedData.js';

interface Catalogued {
  readonly name: string;
  readonly width: number;
  readonly poly: string;
  readonly init: string;
  readonly refin: boolean;
  readonly xorout: string;
  readonly check: string;
  readonly bytes_00_to_1f: string;
}

// Check values over "123456789": G. Cook, Catalogue of parametrised CRC algorithms (reveng.sourceforge.io/crc-catalogue), 8 bits,
// not reflected: CRC-8/SMBUS f4, CRC-8/SAE-J1850 4b (xorout ff), CRC-8/AUTOSAR df (xorout ff); from memory, and compared with
// the collected values below where they are there.
test.each([
  { name: 'SMBUS', polynomial: 0x07, initial: 0x00, xor: 0x00, check: 0xf4 },
  { name: 'SAE-J1850', polynomial: 0x1d, initial: 0xff, xor: 0xff, check: 0x4b },
  { name: 'AUTOSAR', polynomial: 0x2f, initial: 0xff, xor: 0xff, check: 0xdf },
])('CRC-8/$name of 123456789', ({ polynomial, initial, xor, check }) => {
  const bytes = Buffer.from('123456789');
  expect(crc8(crc8Table(polynomial), bytes, 0, bytes.length, initial) ^ xor).toBe(check);
});

// The description of packet12: the table of polynomial 0x4D begins 00 4D 9A D7.
test('the table of packet12 begins as its description says', () => {
  expect([...crc8Table(0x4d).subarray(0, 4)]).toEqual([0x00, 0x4d, 0x9a, 0xd7]);
});

const path = sharedPath('reference/framing.json');
describe.skipIf(path === undefined)('catalogued values', () => {
  const all = path ? (JSON.parse(readFileSync(path, 'utf8')) as { crc: { values: Catalogued[] } }).crc.values : [];
  const plain = all.filter((crc) => crc.width === 8 && !crc.refin);
  test.each(plain)('$name', (crc) => {
    const table = crc8Table(Number(crc.poly));
    const sum = (bytes: Uint8Array): number =>
      crc8(table, bytes, 0, bytes.length, Number(crc.init)) ^ Number(crc.xorout);
    expect(sum(Buffer.from('123456789'))).toBe(Number(crc.check));
    expect(sum(Uint8Array.from({ length: 32 }, (_, i) => i))).toBe(Number(crc.bytes_00_to_1f));
  });
  test('there are some', () => expect(plain.length).toBeGreaterThan(0));
});
