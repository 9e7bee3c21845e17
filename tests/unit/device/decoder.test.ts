import { describe, expect, test } from 'vitest';
import { Decoder } from '../../../src/device/decoder.js';
import { findLayout } from '../../../src/device/layouts/builtIn.js';
import { WireEncoder } from '../../../src/simulator/encode.js';
import { handCrc, handPacket12, handSample5 } from '../../support/handEncoder.js';

const deg = Math.PI / 180;
const sample5 = findLayout('sample5');
const packet12 = findLayout('packet12');
const ANSWER = [0xa5, 0x5a, 0x05, 0x00, 0x00, 0x40, 0x81];

/** @returns everything that the bytes released, as plain numbers. */
function decode(layout: typeof sample5, bytes: readonly number[]) {
  const decoder = new Decoder(layout);
  const found = decoder.push(Uint8Array.from(bytes));
  const rows = Array.from({ length: found.count }, (_, i) => ({
    bearing: found.bearing[i],
    range: found.range[i],
    strength: found.strength[i],
    start: found.start[i],
    index: found.index[i],
  }));
  return { decoder, rows };
}

/** A revolution and more of sample5, one sample each 0.9 degree from `from` on; range 2 m + 1 mm a sample. */
const spin = (from: number, count: number): number[] =>
  Array.from({ length: count }, (_, i) => {
    const angle = (from + 0.9 * i) % 360;
    return handSample5(angle, 2 + i / 1000, 20, angle < 0.9);
  }).flat();

describe('sample5', () => {
  // Worked by hand from the description: 90.5 degrees = 5792/64: low 7 bits 32, high 45. 1.234 m = 4936/4 mm = 0x1348.
  // Strength 21, S = 0: 21 << 2 | 0b10 = 0x56. Byte 1: 32 << 1 | 1 = 0x41. Byte 2: 45 = 0x2d. Bytes 3, 4: 0x48 0x13.
  test('a sample worked by hand, among others', () => {
    expect(handSample5(90.5, 1.234, 21, false)).toEqual([0x56, 0x41, 0x2d, 0x48, 0x13]);
    const bytes = [...spin(90.5 - 9, 10), 0x56, 0x41, 0x2d, 0x48, 0x13, ...spin(91.4, 10)];
    const { rows } = decode(sample5, bytes);
    const row = rows.find((sample) => Math.abs(sample.bearing - 90.5 * deg) < 1e-6);
    expect(row).toMatchObject({ strength: 21, start: 0 });
    expect(row?.range).toBeCloseTo(1.234, 6);
  });

  test('all but the first two and the last two of a sound stream come out, in order', () => {
    const { rows, decoder } = decode(sample5, spin(0, 400));
    expect(rows.length).toBe(396);
    rows.forEach((row, i) => {
      expect(row.bearing).toBeCloseTo((Math.round((i + 2) * 0.9 * 64) / 64) * deg, 5);
      expect(row.range).toBeCloseTo(2 + (i + 2) / 1000, 3);
      if (i > 0) expect(row.index).toBe(rows[i - 1].index + 1);
    });
    expect(decoder.tally).toMatchObject({ packets: 398, samples: 396, heldSamples: 2, skippedBytes: 0, locks: 1 });
    expect(decoder.pendingBytes).toBe(10);
    expect(decoder.isLocked).toBe(true);
  });

  test('the start mark, a range of 0, and an angle that overshoots the turn', () => {
    const bytes = [
      ...spin(350, 11),
      ...handSample5(359.9, 0, 0, false),
      ...handSample5(360.8, 3, 9, true),
      ...spin(1.7, 10),
    ];
    const { rows } = decode(sample5, bytes);
    const empty = rows.find((row) => row.range === 0);
    expect(empty?.bearing).toBeCloseTo((Math.round(359.9 * 64) / 64) * deg, 5);
    const start = rows.find((row) => row.start === 1);
    expect(start?.bearing).toBeCloseTo((Math.round(360.8 * 64) / 64 - 360) * deg, 5);
    expect(start?.strength).toBe(9);
  });

  test('seven samples do not lock, eight and two do', () => {
    expect(decode(sample5, spin(10, 7)).decoder.isLocked).toBe(false);
    expect(decode(sample5, spin(10, 8)).decoder.isLocked).toBe(true);
    expect(decode(sample5, spin(10, 10)).rows.length).toBe(6);
  });

  test('the answer to start is taken, also in pieces, and no sample is made of it', () => {
    const decoder = new Decoder(sample5);
    decoder.push(Uint8Array.from([...ANSWER.slice(0, 4)]));
    expect(decoder.tally.answers).toBe(0);
    decoder.push(Uint8Array.from([...ANSWER.slice(4), ...spin(0, 20)]));
    expect(decoder.tally).toMatchObject({ answers: 1, skippedBytes: 0, samples: 16 });
  });

  test('a repeated stretch is held, and what follows it goes on', () => {
    const bytes = [...spin(30, 60), ...spin(30 + 0.9 * 40, 20), ...spin(30 + 0.9 * 60, 30)];
    const { rows, decoder } = decode(sample5, bytes);
    for (let i = 1; i < rows.length; i++) expect(rows[i].bearing).toBeGreaterThan(rows[i - 1].bearing);
    expect(decoder.tally.heldSamples).toBeGreaterThanOrEqual(15);
    expect(rows.length).toBeGreaterThanOrEqual(82);
  });

  test('a stalled motor neither locks nor hides', () => {
    const standing = Array.from({ length: 100 }, () => handSample5(90, 1, 20, false)).flat();
    const fresh = decode(sample5, standing);
    expect(fresh.rows).toEqual([]);
    expect(fresh.decoder.isStalled).toBe(true);
    expect(fresh.decoder.isLocked).toBe(false);
    const { decoder, rows } = decode(sample5, [...spin(0, 100), ...standing, ...spin(90.9, 100)]);
    expect(decoder.isStalled).toBe(false);
    expect(rows.filter((row) => Math.abs(row.bearing - 90 * deg) < 1e-4).length).toBeLessThanOrEqual(1);
    expect(decoder.tally.locks).toBe(2);
  });

  test('samples that are lost are counted', () => {
    const { rows } = decode(sample5, [...spin(0, 50), ...spin(0.9 * 60, 50)]); // ten are missing
    const at = rows.findIndex((row) => row.bearing > 50 * deg);
    expect(rows[at].index - rows[0].index).toBe(60);
  });
});

describe('packet12', () => {
  // Worked by hand from the description. Speed 3600 = 0x0e10; first 352.00 -> 35200 = 0x8980; last 0.40 degree -> 40 = 0x0028,
  // past the turn: 8.4 degrees over 11 intervals. Range of sample k: 1000 + k mm, strength 200 + k. Time 29999 = 0x752f.
  const samples = Array.from({ length: 12 }, (_, k) => [1000 + k, 200 + k] as const);
  const body = [
    0x54, 0x2c, 0x10, 0x0e, 0x80, 0x89, 0xe8, 0x03, 200, 0xe9, 0x03, 201, 0xea, 0x03, 202, 0xeb, 0x03, 203, 0xec, 0x03,
    204, 0xed, 0x03, 205, 0xee, 0x03, 206, 0xef, 0x03, 207, 0xf0, 0x03, 208, 0xf1, 0x03, 209, 0xf2, 0x03, 210, 0xf3,
    0x03, 211, 0x28, 0x00, 0x2f, 0x75,
  ];
  const packet = [...body, handCrc(body)];

  test('a packet worked by hand, over the turn', () => {
    expect(handPacket12(3600, 352, 0.4, samples, 29999)).toEqual(packet);
    const { rows, decoder } = decode(packet12, packet);
    expect(decoder.tally).toMatchObject({ packets: 1, samples: 12, takenBytes: 47, skippedBytes: 0, badChecks: 0 });
    rows.forEach((row, k) => {
      expect(row.bearing).toBeCloseTo(((352 + (k * 8.4) / 11) % 360) * deg, 5);
      expect(row.range).toBeCloseTo((1000 + k) / 1000, 6);
      expect(row.strength).toBe(200 + k);
      expect(row.start).toBe(0);
    });
  });

  test('a range of 0 is a sample without echo', () => {
    const { rows } = decode(
      packet12,
      handPacket12(
        3600,
        10,
        18,
        samples.map(([r, s], k) => (k === 3 ? [0, 0] : [r, s])),
        5,
      ),
    );
    expect(rows[3]).toMatchObject({ range: 0, strength: 0 });
  });

  test('one flipped bit anywhere loses this packet and no other', () => {
    const next = handPacket12(3600, 1.2, 9.6, samples, 2);
    for (let bit = 0; bit < 47 * 8; bit++) {
      const broken = [...packet];
      broken[bit >> 3] ^= 1 << (bit & 7);
      const { rows, decoder } = decode(packet12, [...broken, ...next]);
      expect(rows.length).toBe(12);
      expect(rows[0].bearing).toBeCloseTo(1.2 * deg, 5);
      expect(decoder.tally.takenBytes + decoder.tally.skippedBytes + decoder.pendingBytes).toBe(94);
    }
  });

  test('a repeated packet is held, a stalled motor is told', () => {
    const again = decode(packet12, [...packet, ...packet]);
    expect(again.decoder.tally).toMatchObject({ packets: 2, samples: 12, heldSamples: 12 });
    const still = [1, 4, 7, 10].flatMap((ms) => handPacket12(0, 90, 90, samples, ms));
    const { decoder } = decode(packet12, [...packet, ...still]);
    expect(decoder.isStalled).toBe(true);
    expect(decoder.tally).toMatchObject({ packets: 5, samples: 12, heldSamples: 48 });
  });
});

describe('the encoder, against bytes made by hand', () => {
  test('sample5: a clockwise layout sees the bearing -90.5 degrees at 90.5', () => {
    const encoder = new WireEncoder(sample5);
    const samples = {
      count: 2,
      bearing: [-90.5 * deg, 1e-9],
      range: [1.234, Infinity],
      strength: [21, 0],
      start: [0, 1],
    };
    expect([...encoder.encode(samples, 0, 10)]).toEqual([0x56, 0x41, 0x2d, 0x48, 0x13, ...handSample5(0, 0, 0, true)]);
    expect(encoder.bytesPerSample).toBe(5);
  });
  test('packet12: waits for twelve, then gives the packet', () => {
    const encoder = new WireEncoder(packet12);
    const bearing = Array.from({ length: 12 }, (_, k) => -(352 + (k * 8.4) / 11) * deg);
    const range = bearing.map((_, k) => (1000 + k) / 1000);
    const strength = bearing.map((_, k) => 200 + k);
    expect(encoder.encode({ count: 5, bearing, range, strength }, 0, 10).length).toBe(0);
    const time = 29.999 - 6 / 4500 + 1e-6; // the last of the seven is measured at 29.999 s
    const rest = { count: 7, bearing: bearing.slice(5), range: range.slice(5), strength: strength.slice(5) };
    const expected = handPacket12(
      3600,
      352,
      0.4,
      range.map((r, k) => [Math.round(r * 1000), strength[k]] as const),
      29999,
    );
    expect([...encoder.encode(rest, time, 10)]).toEqual(expected);
  });
});
