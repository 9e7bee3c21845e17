import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { Decoder } from '../../src/device/decoder.js';
import { findLayout } from '../../src/device/layouts/builtIn.js';
import { handStanding, handStream, LAYOUT_NAMES, type LayoutName, PACKET, STEP } from '../support/handStreams.js';

const SEED = 4711;
const RUNS = { seed: SEED, numRuns: 200 };
console.log(`seed ${SEED}`);

const ANSWER = [0xa5, 0x5a, 0x05, 0x00, 0x00, 0x40, 0x81];

/** Stretches of sound packets that carry on from each other, repeats, noise, answers, standing bearings, cuts. */
const stream = (name: LayoutName): fc.Arbitrary<number[]> => {
  const piece = fc.oneof(
    {
      weight: 4,
      arbitrary: fc
        .tuple(fc.integer({ min: 0, max: 399 }), fc.integer({ min: 1, max: 60 + 4 * PACKET[name] }))
        .map(([at, n]) => handStream(name, (at * STEP[name]) % 360, n)),
    },
    { weight: 2, arbitrary: fc.array(fc.integer({ min: 0, max: 255 }), { maxLength: 120 }) },
    { weight: 1, arbitrary: fc.constant(ANSWER) },
    { weight: 1, arbitrary: fc.integer({ min: 1, max: 20 }).map((n) => handStanding(name, n)) },
  );
  return fc
    .tuple(fc.array(piece, { maxLength: 12 }), fc.array(fc.nat(3000), { maxLength: 6 }))
    .map(([pieces, cuts]) => {
      const bytes = pieces.flat();
      for (const cut of cuts) bytes.splice(cut, 3);
      return bytes;
    });
};
const sizes = fc.array(fc.integer({ min: 1, max: 97 }), { minLength: 1, maxLength: 40 });

function decode(name: LayoutName, bytes: readonly number[], cuts: readonly number[]) {
  const decoder = new Decoder(findLayout(name));
  const rows: number[][] = [];
  let isCounted = true;
  for (let at = 0, i = 0; at < bytes.length; i++) {
    const size = cuts[i % cuts.length];
    const found = decoder.push(Uint8Array.from(bytes.slice(at, at + size)));
    at = Math.min(bytes.length, at + size);
    for (let k = 0; k < found.count; k++) {
      rows.push([found.bearing[k], found.range[k], found.strength[k], found.start[k], found.index[k], found.begin[k]]);
    }
    const { takenBytes, skippedBytes, receivedBytes } = decoder.tally;
    if (receivedBytes !== at || takenBytes + skippedBytes + decoder.pendingBytes !== at) isCounted = false;
  }
  return { rows, decoder, isCounted };
}

describe.each(LAYOUT_NAMES)('%s', (name) => {
  test('cutting the stream elsewhere finds the same samples', () => {
    fc.assert(
      fc.property(stream(name), sizes, (bytes, cuts) => {
        const whole = decode(name, bytes, [Math.max(1, bytes.length)]);
        const cut = decode(name, bytes, cuts);
        expect(cut.rows).toEqual(whole.rows);
        expect(cut.decoder.tally).toEqual(whole.decoder.tally);
        expect(cut.decoder.isStalled).toBe(whole.decoder.isStalled);
      }),
      RUNS,
    );
  });

  test('every byte is taken, skipped or pending, after every chunk', () => {
    fc.assert(
      fc.property(stream(name), sizes, (bytes, cuts) => {
        const { isCounted, decoder } = decode(name, bytes, cuts);
        expect(isCounted).toBe(true);
        decoder.flush();
        expect(decoder.tally.takenBytes + decoder.tally.skippedBytes).toBe(bytes.length);
      }),
      RUNS,
    );
  });

  test('a flush and a forget leave a decoder that finds what follows', () => {
    fc.assert(
      fc.property(stream(name), fc.boolean(), (bytes, isFlush) => {
        const { decoder } = decode(name, bytes, [50]);
        if (isFlush) decoder.flush();
        else decoder.forget();
        const before = decoder.tally.samples;
        decoder.push(Uint8Array.from(handStream(name, 45.45, 320)));
        expect(decoder.tally.samples - before).toBeGreaterThanOrEqual(320 - Math.max(40, 2 * PACKET[name]));
      }),
      RUNS,
    );
  });
});

test('packet12: a sound packet that begins inside a damaged one is found', () => {
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 46 }), fc.integer({ min: 0, max: 399 }), (kept, from) => {
      const packets = handStream('packet12', from * 0.9, 36);
      const head = packets.slice(0, kept); // the rest of the first packet is lost: the second begins inside it
      const { rows } = decode('packet12', [...head, ...packets.slice(47)], [1000]);
      expect(rows.length).toBe(24);
      expect(rows[0][1]).toBeCloseTo(1.001, 6);
    }),
    RUNS,
  );
});

test.each([
  { name: 'block32' as const, size: 84, perPacket: 32, readable: 1 },
  { name: 'index22' as const, size: 22, perPacket: 4, readable: 2 },
  { name: 'packetN' as const, size: 50, perPacket: 20, readable: 2 },
])('$name: a sound packet that begins inside a damaged one is found', ({ name, size, perPacket, readable }) => {
  fc.assert(
    fc.property(fc.integer({ min: 1, max: size - 1 }), fc.integer({ min: 2, max: 40 }), (kept, packet) => {
      // never over the start of a revolution, where packetN sends a packet of one sample
      const packets = handStream(name, packet * 4, 3 * perPacket);
      const { rows, decoder } = decode(name, [...packets.slice(0, kept), ...packets.slice(size)], [1000]);
      expect(rows.length).toBe(readable * perPacket);
      expect(rows[0][5]).toBe(kept);
      expect(decoder.tally.skippedBytes).toBe(kept);
    }),
    RUNS,
  );
});

test('sample5: a run that begins inside a damaged sample is found', () => {
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 4 }), fc.integer({ min: 100, max: 300 }), (kept, from) => {
      const samples = handStream('sample5', from * 0.9, 40);
      const { rows } = decode('sample5', [...samples.slice(0, 100 + kept), ...samples.slice(105)], [1000]);
      const ranges = rows.map((row) => row[1]);
      // lost: the damaged sample, the two before it that nothing confirms, the two after it that lead on, the two at either end
      expect(ranges.length).toBeGreaterThanOrEqual(40 - 1 - 4 - 4);
      for (const row of rows) expect((row[1] - 1) * 10).toBeCloseTo(Math.round((row[1] - 1) * 10), 3);
    }),
    RUNS,
  );
});
