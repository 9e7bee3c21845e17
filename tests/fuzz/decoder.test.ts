import { cpus } from 'node:os';
import { describe, expect, test } from 'vitest';
import { Decoder } from '../../src/device/decoder.js';
import { findLayout } from '../../src/device/layouts/builtIn.js';
import type { Layout } from '../../src/device/layouts/layout.js';
import { withOptions } from '../../src/device/layouts/options.js';
import { Random } from '../../src/simulator/random.js';
import { LAYOUT_NAMES, type LayoutName } from '../support/handStreams.js';
import { type Outcome, outcome } from '../support/judgeDecoder.js';
import { DAMAGES, damage, recordedRows, soundStream } from '../support/wire.js';

/** MB of every kind and layout; the long run is LEEWAY_FUZZ_MB=100 (npm run fuzz). */
const MB = Number(process.env.LEEWAY_FUZZ_MB ?? 5);
const SEED = Number(process.env.LEEWAY_FUZZ_SEED ?? 1);
const STREAMS = ['worlds/room400.ndjson.gz', 'data/fr079-part1.ndjson.gz', 'data/lowcost360-a.ndjson.gz'];
const PART = 10; // MB at a time, for the memory's sake
console.log(`fuzz: seed ${SEED}, ${MB} MB of each kind, Node ${process.version}, ${cpus()[0]?.model}`);

/** Bearings that depend on the range are another matter (tests/unit/device/decoder.test.ts); here they are what the wire says. */
const asOnTheWire = (name: string): Layout =>
  withOptions(findLayout(name), name === 'packetN' ? { bearings_corrected: true } : {});

/** One position in so many passes sync bits and check by chance, and, of block32, the same of the packet that must follow. */
const CHANCE: Readonly<Record<LayoutName, number>> = {
  block32: 2 ** 32,
  index22: (2 ** 24 * 256) / 90,
  packet12: 2 ** 24,
  packetN: 2 ** 34,
  sample5: Infinity,
};

/**
 * Share of the sound packets that may be lost besides. block32: after 7/8 of a turn without two packets in a row, the next may look like
 * old bytes. packetN: an exclusive or lets pairs of flips pass, and the packet after one that was turned by them is doubted.
 */
const LOST: Readonly<Partial<Record<LayoutName, number>>> = { block32: 1 / 1000, packetN: 1 / 5000 };

describe.each(LAYOUT_NAMES)('%s', (name) => {
  const layout = asOnTheWire(name);

  test('random bytes: no throw, every byte counted, next to nothing found', { timeout: 600_000 }, () => {
    const random = new Random(SEED);
    const decoder = new Decoder(layout);
    const chunk = new Uint8Array(65536);
    const words = new Uint32Array(chunk.buffer);
    let spent = 0;
    for (let done = 0; done < MB * 1e6; done += chunk.length) {
      for (let i = 0; i < words.length; i++) words[i] = random.next();
      const before = performance.now();
      decoder.push(chunk);
      spent += performance.now() - before;
    }
    const { tally } = decoder;
    console.log(
      `${name} random: ${(tally.receivedBytes / spent / 1e3).toFixed(1)} MB/s, ${tally.packets} packets, ${tally.samples} samples, ${tally.badChecks} bad checks`,
    );
    expect(tally.takenBytes + tally.skippedBytes + decoder.pendingBytes).toBe(tally.receivedBytes);
    const expected = tally.receivedBytes / CHANCE[name];
    expect(tally.packets).toBeLessThanOrEqual(expected + 6 * Math.sqrt(expected) + (layout.packet.check ? 1 : 0)); // six sigma
  });

  test.each(DAMAGES)('real streams with damages of kind %s', { timeout: 1_800_000 }, (kind) => {
    const sum: Outcome = {
      damages: 0,
      released: 0,
      invented: 0,
      marred: 0,
      replayed: 0,
      lost: 0,
      lostMost: 0,
      soundPackets: 0,
      foundPackets: 0,
    };
    let seed = SEED;
    for (let done = 0; done < MB; ) {
      for (const stream of STREAMS) {
        const size = Math.min(PART, MB / STREAMS.length);
        const sound = soundStream(recordedRows(stream).rows, layout, size * 1e6);
        const part = outcome(sound, damage(sound, kind, seed++), layout, 1 / 400);
        for (const key of Object.keys(sum) as (keyof Outcome)[]) {
          (sum as Record<keyof Outcome, number>)[key] =
            key === 'lostMost' ? Math.max(sum[key], part[key]) : sum[key] + part[key];
        }
        done += size;
      }
    }
    const per = (count: number): string => ((count / sum.damages) * 1e5).toFixed(2);
    console.log(
      `${name} ${kind}: ${sum.damages} damages; invented ${per(sum.invented)}, marred ${per(sum.marred)}, replayed ${per(sum.replayed)} samples per 1e5; ` +
        `lost ${(sum.lost / sum.damages).toFixed(2)} a damage, at most ${sum.lostMost}; packets found ${sum.foundPackets} of ${sum.soundPackets}`,
    );
    if (layout.packet.check) {
      // every sound packet of the remainder, but for a damaged one that passes the check by chance and swallows it
      const allowed = (10 * sum.damages) / 1e5 + sum.soundPackets * (LOST[name] ?? 0);
      expect(sum.soundPackets - sum.foundPackets).toBeLessThanOrEqual(Math.ceil(allowed));
    } else {
      expect(sum.invented).toBeLessThanOrEqual(Math.ceil(sum.damages / 1e5));
      expect(sum.lost / sum.damages).toBeLessThanOrEqual(10);
      expect(sum.lostMost).toBeLessThanOrEqual(10);
    }
  });
});
