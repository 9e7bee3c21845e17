// The same run gives the same messages on every feed: in one go, in steps of any size, fast or at its own pace, and however its blocks
// and chunks are cut.
import { copyFileSync } from 'node:fs';
import { DatabaseSync } from 'node:sqlite';
import { crc32, deflateSync, inflateSync } from 'node:zlib';
import fc from 'fast-check';
import { beforeAll, describe, expect, test } from 'vitest';
import { replaySettings } from '../../src/cli/replay.js';
import { ReplayFeeds } from '../../src/cli/replayFeeds.js';
import { systemClock } from '../../src/core/clock.js';
import { Feed, type ServerMessage } from '../../src/messages/codec.js';
import { ENTRY, type Entry, EntryWriter, readEntries } from '../../src/runs/format.js';
import { RunFile } from '../../src/runs/runFile.js';
import { recordedRun, replayHash } from '../support/recordedRun.js';

const SEED = 71;
console.log(`seed ${SEED}`);

let path = '';
let whole: Awaited<ReturnType<typeof replayHash>>;
beforeAll(async () => {
  path = await recordedRun(8);
  whole = await replayHash(path);
}, 60_000);

/** Copies a run with its entries cut into other blocks, and its chunks into pieces of the same time. */
function recut(
  from: string,
  to: string,
  blockSizes: readonly number[],
  pieces: readonly number[],
  stride: number,
): void {
  copyFileSync(from, to);
  const run = new RunFile(from);
  const entries: Entry[] = [];
  for (let block = run.block(0); block; block = run.block(block.atUs + 1)) entries.push(...block.entries);
  run.close();
  const cut = entries.flatMap((entry, i): Entry[] => {
    const at = pieces[i % pieces.length] % Math.max(1, entry.payload.length);
    if (entry.kind !== ENTRY.bytes || at === 0) return [entry];
    return [
      { ...entry, payload: entry.payload.subarray(0, at) },
      { ...entry, payload: entry.payload.subarray(at) },
    ];
  });
  const database = new DatabaseSync(to);
  database.exec('DELETE FROM blocks');
  database.prepare('UPDATE about SET value = ? WHERE key = ?').run(String(stride), 'stride');
  const writer = new EntryWriter();
  let lastUs = -1;
  const flush = (): void => {
    const atUs = writer.firstUs;
    const untilUs = writer.lastUs;
    const { heads, raw } = writer.take();
    const columns = new Uint8Array(raw.length);
    let k = 0;
    for (let column = 0; column < stride; column++)
      for (let i = column; i < raw.length; i += stride) columns[k++] = raw[i] - (i >= stride ? raw[i - stride] : 0);
    const data = deflateSync(Buffer.concat([new Uint8Array(Uint32Array.of(heads.length).buffer), heads, columns]));
    database.prepare('INSERT INTO blocks VALUES (?, ?, ?, ?, ?)').run(atUs, untilUs, raw.length, crc32(data), data);
    lastUs = atUs;
  };
  let turn = 0;
  let count = 0;
  for (const { kind, atUs, payload } of cut) {
    if (count >= blockSizes[turn % blockSizes.length] && atUs > lastUs && atUs > writer.firstUs) {
      flush();
      turn++;
      count = 0;
    }
    writer.add(kind, atUs, payload);
    count++;
  }
  if (count > 0) flush();
  database.close();
}

describe('replay', () => {
  test('says something on every feed', () => {
    for (const feed of [
      Feed.FEED_SWEEP,
      Feed.FEED_CLEARANCE,
      Feed.FEED_SHAPES,
      Feed.FEED_MOVERS,
      Feed.FEED_MOTION,
      Feed.FEED_HEALTH,
    ])
      expect(whole.counts[feed]).toBeGreaterThan(5);
    expect(whole.counts[Feed.FEED_CLEARANCE]).toBeGreaterThan(100);
  });

  test('again: the same', async () => {
    expect(await replayHash(path)).toEqual(whole);
  });

  test('in steps of any size: the same', async () => {
    await fc.assert(
      fc.asyncProperty(fc.double({ min: 0.0005, max: 3, noNaN: true }), async (slice) => {
        expect((await replayHash(path, slice)).hash).toBe(whole.hash);
      }),
      { numRuns: 6, seed: SEED },
    );
  }, 120_000);

  test('with its blocks and chunks cut elsewhere: the same', async () => {
    const sizes = fc.array(fc.integer({ min: 1, max: 400 }), { minLength: 1, maxLength: 5 });
    await fc.assert(
      fc.asyncProperty(sizes, sizes, fc.integer({ min: 1, max: 60 }), async (blocks, pieces, stride) => {
        recut(path, `${path}.recut.run`, blocks, pieces, stride);
        expect((await replayHash(`${path}.recut.run`)).hash).toBe(whole.hash);
      }),
      { numRuns: 6, seed: SEED },
    );
  }, 120_000);

  test('with other settings: not the same', async () => {
    expect((await replayHash(path, Infinity, ['clearance.sectors=36'])).hash).not.toBe(whole.hash);
  });

  test.each([1, 4, 0])(
    'as feeds, at pace %d, whatever clients ask for in between: the same',
    async (pace) => {
      const run = new RunFile(path);
      const feeds = new ReplayFeeds({
        ...{
          run,
          settings: replaySettings(run, undefined, []),
          version: 'test',
          clock: systemClock(),
          pace,
          neededRole: 'watch',
        },
      });
      const { createHash } = await import('node:crypto');
      const hash = createHash('sha256');
      await new Promise<void>((resolve) => {
        feeds.messages.subscribe((message) => {
          if (message.feed !== Feed.FEED_RUN) hash.update(message.bytes('proto'));
          feeds.newest(Feed.FEED_CLEARANCE); // a client that comes
          feeds.state();
          if (message.message.run?.what === 'ended') resolve();
        });
      });
      await feeds.stop();
      expect(hash.digest('hex')).toBe(whole.hash);
    },
    60_000,
  );
});

describe('entries', () => {
  test('come out as they went in, for any stride', () => {
    const entry = fc.record({
      kind: fc.constantFrom(...Object.values(ENTRY)),
      wait: fc.oneof(fc.nat(), fc.nat({ max: 200 }), fc.constant(0)),
      payload: fc.uint8Array({ maxLength: 300 }),
    });
    fc.assert(
      fc.property(
        fc.array(entry, { minLength: 1, maxLength: 40 }),
        fc.integer({ min: 1, max: 70 }),
        (given, stride) => {
          const writer = new EntryWriter();
          let atUs = 1000;
          const expected = given.map(({ kind, wait, payload }) => {
            atUs += wait;
            writer.add(kind, atUs, payload);
            return { atUs, kind, payload: Buffer.from(payload).toString('hex') };
          });
          const { firstUs } = writer;
          const { heads, raw } = writer.take();
          const columns = new Uint8Array(raw.length);
          let k = 0;
          for (let column = 0; column < stride; column++)
            for (let i = column; i < raw.length; i += stride)
              columns[k++] = raw[i] - (i >= stride ? raw[i - stride] : 0);
          const block = Buffer.concat([new Uint8Array(Uint32Array.of(heads.length).buffer), heads, columns]);
          const read = readEntries(inflateSync(deflateSync(block)), firstUs, stride);
          expect(read.map((each) => ({ ...each, payload: Buffer.from(each.payload).toString('hex') }))).toEqual(
            expected,
          );
        },
      ),
      { seed: SEED },
    );
  });

  test('a block that is cut anywhere is refused, never half read', () => {
    const writer = new EntryWriter();
    writer.add(ENTRY.bytes, 5, Uint8Array.of(1, 2, 3, 4));
    writer.add(ENTRY.line, 7, Buffer.from('{"what":"opened"}'));
    const { heads, raw } = writer.take();
    const block = Buffer.concat([new Uint8Array(Uint32Array.of(heads.length).buffer), heads, raw]);
    for (let length = 0; length < block.length; length++)
      expect(() => readEntries(block.subarray(0, length), 5, 1), `${length} bytes`).toThrow(RangeError);
  });
});

describe('a seek', () => {
  test('shows what the run shows there: state, place and walls, wherever it is asked from', async () => {
    const run = new RunFile(path);
    const settings = replaySettings(run, undefined, []);
    const at = run.about.began_s + 5.5;
    const { Replayed } = await import('../../src/cli/replay.js');
    const straight = new Replayed(run, settings, 'test');
    const known = new Map<number, ServerMessage>();
    straight.daemon.feeds.messages.subscribe(({ feed, message }) => known.set(feed, message));
    await straight.player.advance(at, () => false);
    const feeds = new ReplayFeeds({
      ...{ run, settings, version: 'test', clock: systemClock(), pace: 1, neededRole: 'watch' },
    });
    const seen: ServerMessage[] = [];
    for (const from of [7, 1, 3]) {
      for (const place of [run.about.began_s + from, at]) {
        const arrived = new Promise<void>((resolve) => {
          const subscription = feeds.messages.subscribe(({ message }) => {
            if (message.run?.what !== 'seeked') return;
            subscription.unsubscribe();
            resolve();
          });
        });
        feeds.act({ kind: 'other', body: { replay: { atS: place, paused: true } } }, 'watch');
        await arrived;
      }
      for (const feed of [Feed.FEED_CLEARANCE, Feed.FEED_MOTION, Feed.FEED_SHAPES])
        seen.push(feeds.newest(feed)?.message ?? {});
    }
    await feeds.stop();
    const bare = (message: ServerMessage): ServerMessage => ({ ...message, sequence: 0 });
    for (let k = 0; k < 3; k++) for (const other of [3, 6]) expect(bare(seen[k + other])).toEqual(bare(seen[k]));
    const [clearance, motion] = seen;
    expect(clearance.clearance?.state).toEqual(known.get(Feed.FEED_CLEARANCE)?.clearance?.state);
    expect(Math.abs((motion.motion?.xM ?? 9) - (known.get(Feed.FEED_MOTION)?.motion?.xM ?? 0))).toBeLessThan(0.1);
    expect(Math.abs((motion.motion?.yM ?? 9) - (known.get(Feed.FEED_MOTION)?.motion?.yM ?? 0))).toBeLessThan(0.1);
  }, 60_000);
});
