// block32, packetN and index22: every expected byte and value is worked by hand from the description of the layout.
import { describe, expect, test } from 'vitest';
import { Fault } from '../../../src/core/fault.js';
import { Decoder } from '../../../src/device/decoder.js';
import { findLayout } from '../../../src/device/layouts/builtIn.js';
import type { Layout } from '../../../src/device/layouts/layout.js';
import { wallTrials, withOptions } from '../../../src/device/layouts/options.js';
import { WireEncoder } from '../../../src/simulator/encode.js';
import { type HandCell, handBlock32, handIndex22, handPacketN } from '../../support/handEncoder.js';
import { handStanding, handStream, LAYOUT_NAMES } from '../../support/handStreams.js';

const deg = Math.PI / 180;
const block32 = findLayout('block32');
const packetN = findLayout('packetN');
const index22 = findLayout('index22');

/** @returns everything that the bytes released, bearings in degrees. */
function decode(layout: Layout, bytes: readonly number[]) {
  const decoder = new Decoder(layout);
  const found = decoder.push(Uint8Array.from(bytes));
  const rows = Array.from({ length: found.count }, (_, i) => ({
    degrees: found.bearing[i] / deg,
    range: found.range[i],
    strength: found.strength[i],
    start: found.start[i],
    index: found.index[i],
  }));
  return { decoder, rows };
}

describe('block32', () => {
  // First angle 10 degrees = 640/64 = 0x0280. Sample 1: 1000 mm, no correction: 1000 << 2 = 0x0fa0. Sample 2: 2000 mm, correction
  // 33 = 0b10_0001: 2000 << 2 | 0b10 = 0x1f42, its lower four bits 1 in the high nibble of the fifth byte. All others 0.
  // Exclusive or: 80 ^ 02 = 82, ^ a0 = 22, ^ 0f = 2d, ^ 42 = 6f, ^ 1f = 70, ^ 10 = 60: low nibble 0 to byte 0, high nibble 6 to byte 1.
  const packet = [0xa0, 0x56, 0x80, 0x02, 0xa0, 0x0f, 0x42, 0x1f, 0x10, ...new Array<number>(75).fill(0)];
  const cells = (k: number): HandCell => (k === 0 ? [1000, 0] : k === 1 ? [2000, 33] : [0, 0]);
  const next = handBlock32(
    26,
    Array.from({ length: 32 }, () => [3000, 0] as const),
  );

  test('a packet worked by hand', () => {
    expect(
      handBlock32(
        10,
        Array.from({ length: 32 }, (_, k) => cells(k)),
      ),
    ).toEqual(packet);
    const { rows, decoder } = decode(block32, [...packet, ...next]);
    expect(rows).toHaveLength(32);
    expect(rows[0]).toMatchObject({ range: 1, strength: 0, start: 0 });
    expect(rows[0].degrees).toBeCloseTo(10, 4);
    expect(rows[1].range).toBe(2);
    expect(rows[1].degrees).toBeCloseTo(10 + 16 / 32 - 33 / 8, 4); // 6.375
    expect(rows[31].range).toBe(0);
    expect(rows[31].degrees).toBeCloseTo(10 + (31 * 16) / 32, 4);
    expect(decoder.tally).toMatchObject({ packets: 1, samples: 32, takenBytes: 84, skippedBytes: 0, badChecks: 0 });
    expect(decoder.pendingBytes).toBe(84);
    expect(decoder.seenIndex - rows[31].index).toBe(32);
    expect(decoder.seenBegin).toBe(84);
  });

  test("corrections in two's complement, by option: 33 is -31", () => {
    const signed = withOptions(block32, { correction_signed: true });
    expect(decode(signed, [...packet, ...next]).rows[1].degrees).toBeCloseTo(10.5 + 31 / 8, 4);
    expect(wallTrials(block32)).toEqual([{ correction_signed: false }, { correction_signed: true }]);
  });

  test('nothing is read out before the next packet is whole, also over the turn', () => {
    const last = handBlock32(
      352,
      Array.from({ length: 32 }, () => [1500, 0] as const),
    );
    const first = handBlock32(
      8,
      Array.from({ length: 32 }, () => [1500, 0] as const),
    );
    const decoder = new Decoder(block32);
    expect(decoder.push(Uint8Array.from([...last, ...first.slice(0, 83)])).count).toBe(0);
    const found = decoder.push(Uint8Array.from(first.slice(83)));
    expect(found.count).toBe(32);
    expect(found.bearing[31] / deg).toBeCloseTo((352 + 15.5) % 360, 4);
  });

  test('a flipped bit of any packet loses it and the one before, and no other', () => {
    const stream = handStream('block32', 0, 6 * 32);
    for (let bit = 0; bit < 84 * 8; bit++) {
      const broken = [...stream];
      broken[2 * 84 + (bit >> 3)] ^= 1 << (bit & 7);
      const { rows, decoder } = decode(block32, broken);
      expect(rows.map(({ degrees }) => Math.round(degrees * 10) / 10)).toEqual(
        [0, 3, 4].flatMap((p) => Array.from({ length: 32 }, (_, k) => Math.round((p * 32 + k) * 9) / 10)),
      );
      expect(rows[32].index - rows[0].index).toBe(3 * 32); // those lost are counted
      expect(decoder.tally.locks).toBe(1);
    }
  });

  test('a packet that is missing as a whole gives no stretched bearings', () => {
    const stream = handStream('block32', 0, 6 * 32);
    const { rows } = decode(block32, [...stream.slice(0, 3 * 84), ...stream.slice(4 * 84)]);
    expect(rows.map(({ degrees }) => Math.round(degrees / 0.9))).toEqual(
      [0, 1, 4].flatMap((p) => Array.from({ length: 32 }, (_, k) => p * 32 + k)),
    );
  });

  test('neither silence nor a new start is bridged', () => {
    const decoder = new Decoder(block32);
    decoder.push(Uint8Array.from(packet));
    decoder.forget();
    expect(decoder.push(Uint8Array.from(next)).count).toBe(0);
    const fresh = handBlock32(
      26,
      Array.from({ length: 32 }, () => [3000, 0] as const),
      true,
    );
    const again = handBlock32(
      42,
      Array.from({ length: 32 }, () => [3000, 0] as const),
    );
    const { rows } = decode(block32, [...packet, ...fresh, ...again]);
    expect(rows).toHaveLength(32);
    expect(rows[0].degrees).toBeCloseTo(26, 4);
  });
});

describe('packetN', () => {
  // Type 0, 2 samples, 359.5 degrees = 23008/64 << 1 | 1 = 0xb3c1, 0.5 degree = 32/64 << 1 | 1 = 0x0041, 300 mm = 1200/4 = 0x04b0, 0.
  // Words: 55aa ^ 0200 = 57aa, ^ b3c1 = e46b, ^ 0041 = e42a, ^ 04b0 = e09a, ^ 0000.
  const packet = [0xaa, 0x55, 0x00, 0x02, 0xc1, 0xb3, 0x41, 0x00, 0x9a, 0xe0, 0xb0, 0x04, 0x00, 0x00];

  test('a packet worked by hand, over the turn', () => {
    expect(handPacketN(false, 359.5, 0.5, [300, 0])).toEqual(packet);
    const { rows, decoder } = decode(withOptions(packetN, { bearings_corrected: true }), packet);
    expect(rows.map(({ degrees }) => Math.round(degrees * 1e4) / 1e4)).toEqual([359.5, 0.5]);
    expect(rows.map(({ range }) => range)).toEqual([Math.fround(0.3), 0]);
    expect(decoder.tally).toMatchObject({ packets: 1, samples: 2, takenBytes: 14, skippedBytes: 0 });
  });

  test('the bearing follows the range: -3.9 degrees at 0.3 m, -7.7 at 4 m', () => {
    const rows = decode(packetN, handPacketN(false, 90, 92, [300, 4000, 0])).rows.map(({ degrees }) => degrees);
    // atan(21.8 (155.3 - 300) / (155.3 x 300)) = atan(-0.067707); for 4000 mm atan(-0.134923); without end atan(-21.8 / 155.3)
    expect(rows[0]).toBeCloseTo(90 - 3.8734, 3);
    expect(rows[1]).toBeCloseTo(91 - 7.684, 3);
    expect(rows[2]).toBeCloseTo(92 - 7.9907, 3);
    const asItCame = withOptions(packetN, { empty_bearing: 'angle' });
    expect(decode(asItCame, handPacketN(false, 90, 92, [300, 4000, 0])).rows[2].degrees).toBeCloseTo(92, 4);
  });

  test('the packet that begins a revolution holds one sample and says so', () => {
    const bytes = [
      ...handPacketN(false, 356, 359, [1000, 1000, 1000, 1000]),
      ...handPacketN(true, 0, 0, [1100]),
      ...handPacketN(false, 1, 2, [1200, 1200]),
    ];
    const { rows, decoder } = decode(packetN, bytes);
    expect(rows.map(({ start }) => start)).toEqual([0, 0, 0, 0, 1, 0, 0]);
    expect(rows.map(({ index }) => index - rows[0].index)).toEqual([0, 1, 2, 3, 4, 5, 6]);
    expect(decoder.tally).toMatchObject({ packets: 3, samples: 7, skippedBytes: 0, locks: 1 });
  });

  test('a repeated packet of one sample is held', () => {
    const lone = handPacketN(true, 0, 0, [1100]);
    const { rows, decoder } = decode(packetN, [
      ...handPacketN(false, 358, 359, [900, 900]),
      ...lone,
      ...lone,
      ...handPacketN(false, 1, 2, [900, 900]),
    ]);
    expect(rows).toHaveLength(5);
    expect(decoder.tally.heldSamples).toBe(1);
  });

  test('255 samples are read; none are not', () => {
    const { rows } = decode(
      packetN,
      handPacketN(
        false,
        10,
        110,
        Array.from({ length: 255 }, () => 500),
      ),
    );
    expect(rows).toHaveLength(255);
    expect(
      decode(packetN, [...handPacketN(false, 10, 10, []), ...handPacketN(false, 10, 12, [1, 1])]).rows,
    ).toHaveLength(2);
  });

  test('one flipped bit anywhere loses this packet and no other, also where it changes the count', () => {
    const body = handStream('packetN', 90, 60);
    for (let bit = 0; bit < 50 * 8; bit++) {
      const broken = [...body];
      broken[bit >> 3] ^= 1 << (bit & 7);
      const { rows, decoder } = decode(withOptions(packetN, { bearings_corrected: true }), broken);
      expect(rows).toHaveLength(40);
      expect(rows[0].degrees).toBeCloseTo(108, 1);
      expect(decoder.tally.skippedBytes).toBe(50);
    }
  });
});

describe('index22', () => {
  // Packet 1: 4 to 7 degrees. 300 turns a minute = 19200/64 = 0x4b00. 1234 mm, strength 100; 1000 mm weak = 0x43e8, strength 10;
  // invalid with 0x35 in the range; nothing. c = 2 c + word: a1fa, 18ef4, 322ba, 645d8, ccf98, 199f3a, 33bea9, 677d52, cefaa4, 19df548;
  // low 15 bits 7548 + 33b above = 7883.
  const packet = [
    0xfa, 0xa1, 0x00, 0x4b, 0xd2, 0x04, 0x64, 0x00, 0xe8, 0x43, 0x0a, 0x00, 0x35, 0x80, 0x00, 0x00, 0x00, 0x00, 0x00,
    0x00, 0x83, 0x78,
  ];

  test('a packet worked by hand', () => {
    expect(
      handIndex22(1, 300, [
        [1234, 100],
        [1000, 10, 'weak'],
        [0x35, 0, 'invalid'],
        [0, 0],
      ]),
    ).toEqual(packet);
    const { rows, decoder } = decode(index22, packet);
    expect(rows.map(({ degrees }) => Math.round(degrees * 1e4) / 1e4)).toEqual([4, 5, 6, 7]);
    expect(rows.map(({ range }) => range)).toEqual([Math.fround(1.234), 1, 0, 0]);
    expect(rows.map(({ strength }) => strength)).toEqual([100, 10, 0, 0]);
    expect(decoder.tally).toMatchObject({ packets: 1, samples: 4, takenBytes: 22, skippedBytes: 0 });
  });

  test('a weak echo is none, by option; and the sense is one', () => {
    expect(decode(withOptions(index22, { weak_is_echo: false }), packet).rows.map(({ range }) => range)).toEqual([
      Math.fround(1.234),
      0,
      0,
      0,
    ]);
    expect(index22.sense).toBe('counterclockwise');
    expect(withOptions(index22, { sense: 'clockwise' }).sense).toBe('clockwise');
  });

  test('lost packets are counted by their numbers, the last leads over to the first', () => {
    const at = (p: number): number[] =>
      handIndex22(
        p,
        300,
        Array.from({ length: 4 }, () => [1000, 1] as const),
      );
    const { rows } = decode(index22, [...at(87), ...at(89), ...at(0)]);
    expect(rows.map(({ index }) => index - rows[0].index)).toEqual([0, 1, 2, 3, 8, 9, 10, 11, 12, 13, 14, 15]);
    expect(rows[8].degrees).toBe(0);
  });

  test('a packet whose number was damaged so that the check still agrees is doubted; one that the next bears out is not', () => {
    const at = (p: number): number[] =>
      handIndex22(
        p,
        300,
        Array.from({ length: 4 }, () => [1000 + p, 1] as const),
      );
    const bearings = (packets: readonly number[]): number[] =>
      decode(index22, packets.flatMap(at)).rows.flatMap(({ degrees }, i) => (i % 4 === 0 ? [Math.round(degrees)] : []));
    expect(bearings([10, 11, 40, 13, 14])).toEqual([40, 44, 52, 56]);
    expect(bearings([10, 11, 40, 41, 42])).toEqual([40, 44, 160, 164, 168]); // what lay between was lost
    expect(bearings([10, 11, 40])).toEqual([40, 44]); // not yet known
  });

  test.each([0x9f, 0xfa])('%i is no packet number', (number) => {
    const bytes = handIndex22(
      number - 0xa0,
      300,
      Array.from({ length: 4 }, () => [1000, 1] as const),
    );
    expect(decode(index22, bytes).rows).toHaveLength(0);
  });
});

describe.each(LAYOUT_NAMES.filter((name) => name !== 'sample5'))('%s', (name) => {
  test('of a stalled motor at most the first packet is evidence', () => {
    const layout = findLayout(name);
    const { decoder, rows } = decode(layout, handStanding(name, 12));
    expect(decoder.isStalled).toBe(true);
    expect(rows.length).toBeLessThanOrEqual(4);
    const before = decoder.tally.samples;
    decoder.push(Uint8Array.from(handStream(name, 120, 200)));
    expect(decoder.isStalled).toBe(false);
    expect(decoder.tally.samples - before).toBeGreaterThanOrEqual(160);
  });

  test('a repeated stretch is held, and what follows it goes on', () => {
    const layout = findLayout(name);
    const stream = handStream(name, 40, 192);
    const size = stream.length / 192;
    const [from, to] = name === 'packetN' ? [100, 200] : [size * 64, size * 128].map((at) => at); // whole packets
    const again = [...stream.slice(0, to), ...stream.slice(from, to), ...stream.slice(to)];
    const whole = decode(layout, stream);
    const { rows } = decode(layout, again);
    const degrees = (list: typeof rows): number[] => list.map((row) => row.degrees);
    expect(degrees(rows)).toEqual(degrees(whole.rows));
  });
});

describe('the encoder, against bytes made by hand', () => {
  test('block32: evenly spaced samples need no correction, uneven ones get theirs', () => {
    const encoder = new WireEncoder(block32);
    const degrees = Array.from({ length: 33 }, (_, k) => (k === 1 ? 10.5 - 33 / 8 : 10 + k / 2));
    const range = degrees.map((_, k) => (k === 0 ? 1 : k === 1 ? 2 : k === 32 ? 3 : 0));
    const bytes = encoder.encode({ count: 33, bearing: degrees.map((d) => -d * deg), range }, 0, 10);
    const cells = Array.from({ length: 32 }, (_, k): HandCell => (k === 0 ? [1000, 0] : k === 1 ? [2000, 33] : [0, 0]));
    expect([...bytes]).toEqual(handBlock32(10, cells, true)); // the first one after a start
  });

  test('packetN: a lone start, then what the declaration calls usual; bearings on the way back', () => {
    const encoder = new WireEncoder(packetN);
    const count = 43; // two before the start, the start, forty after it
    const wire = (k: number): number => (358 + k) % 360;
    const ranges = Array.from({ length: count }, (_, k) => (k === 4 ? 0 : 0.3 + k / 100));
    const correction = (range: number): number =>
      range === 0 ? Math.atan(-21.8 / 155.3) : Math.atan((21.8 * (155.3 - 1000 * range)) / (155.3 * 1000 * range));
    const bearing = ranges.map((range, k) => -(wire(k) * deg + correction(range)));
    const bytes = encoder.encode(
      { count, bearing, range: ranges, start: ranges.map((_, k) => (k === 2 ? 1 : 0)) },
      0,
      10,
    );
    const mm = ranges.map((range) => Math.round(range * 1000));
    expect([...bytes]).toEqual([
      ...handPacketN(false, 358, 359, mm.slice(0, 2)),
      ...handPacketN(true, 0, 0, mm.slice(2, 3)),
      ...handPacketN(false, 1, 40, mm.slice(3)),
    ]);
  });

  test('index22: every sample in its place, a place without one is invalid, counter-clockwise', () => {
    const encoder = new WireEncoder(index22);
    const degrees = [2, 3, 4, 5, 7, 8]; // 6 is missing; 2 and 3 belong to a packet that is not whole
    const range = [9, 9, 1.234, 1, 0, 9];
    const bytes = encoder.encode(
      { count: 6, bearing: degrees.map((d) => d * deg), range, strength: [1, 1, 100, 10, 0, 1] },
      0,
      5,
    );
    expect([...bytes]).toEqual(
      handIndex22(1, 300, [
        [1234, 100],
        [1000, 10],
        [0, 0, 'invalid'],
        [0, 0, 'invalid'],
      ]),
    );
  });

  test.each(LAYOUT_NAMES)('%s: what is encoded is decoded', (name) => {
    const layout = findLayout(name);
    const encoder = new WireEncoder(layout);
    const decoder = new Decoder(layout);
    const step = name === 'index22' ? 1 : 0.9;
    const angles = Array.from({ length: 720 }, (_, i) => (i * step) % 360);
    const sign = layout.sense === 'clockwise' ? -1 : 1;
    const range = angles.map(() => 2); // one range: triangulation turns all alike
    const bytes = encoder.encode(
      { count: 720, bearing: angles.map((d) => sign * d * deg), range, start: angles.map((d) => (d < step ? 1 : 0)) },
      0,
      10,
    );
    const found = decoder.push(bytes);
    expect(found.count).toBeGreaterThan(600);
    for (let i = 0; i < found.count; i++) {
      expect(found.range[i]).toBeCloseTo(2, 3);
      const off = (found.bearing[i] / deg / step) % 1;
      expect(Math.min(off, 1 - off)).toBeLessThan(0.03);
    }
    expect(decoder.tally.skippedBytes).toBe(0);
  });
});

describe('options', () => {
  const faultOf = (act: () => unknown): Fault => {
    try {
      act();
    } catch (error) {
      if (error instanceof Fault) return error;
    }
    throw new Error('no fault');
  };
  test('one that the layout has not is named with those it has', () => {
    expect(faultOf(() => withOptions(index22, { weak: true })).facts).toMatchObject({
      key: 'sensor.layout_options.weak',
      limits: 'options of this layout: sense, weak_is_echo',
    });
    expect(faultOf(() => withOptions(findLayout('sample5'), { toString: true })).code).toBe('LAYOUT_OPTION_BAD');
  });
  test.each([
    { layout: block32, values: { correction_signed: 'yes' }, limits: 'false | true' },
    { layout: packetN, values: { beam_offset_m: 1 }, limits: 'a number, -0.1 to 0.1' },
    { layout: packetN, values: { beam_meets_m: Number.NaN }, limits: 'a number, 0.01 to 100' },
  ])('$values is refused', ({ layout, values, limits }) => {
    expect(faultOf(() => withOptions(layout, values)).facts).toMatchObject({ limits });
  });
  test('the layout itself stays as it was', () => {
    const before = JSON.stringify(packetN);
    expect(withOptions(packetN, { beam_offset_m: 0.02, bearings_corrected: true }).triangulation).toEqual({
      offset: 0.02,
      at: 0.1553,
      isDone: true,
      empty: 'beam',
    });
    expect(JSON.stringify(packetN)).toBe(before);
  });
});
