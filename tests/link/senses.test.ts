// The whole chain from bytes to messages, in virtual time: link, clearance, sweeps, health, feeds.
import { describe, expect, test } from 'vitest';
import { findLayout } from '../../src/device/layouts/builtIn.js';
import { openLink } from '../../src/device/link.js';
import type { SensorSetting } from '../../src/device/setting.js';
import { leeway as wire } from '../../src/messages/gen/leeway.js';
import { startDaemon } from '../../src/pipeline/daemon.js';
import type { FeedMessage } from '../../src/pipeline/feedMessage.js';
import { WireEncoder } from '../../src/simulator/encode.js';
import { clearanceSetting, perceptionSetting } from '../support/clearanceRig.js';
import { fakeClock } from '../support/fakeClock.js';
import { FakePort } from '../support/fakePort.js';
import { seededRandom } from '../support/random.js';
import { recordedRows, soundStream } from '../support/wire.js';

const { Clearance, Feed, HealthState, SectorState, ServerMessage, Sweep } = { ...wire.v1 };
type Message = wire.v1.ServerMessage;

const TAU = 2 * Math.PI;
const sensor: SensorSetting = {
  mount: { x: 0, y: 0, z: 0.15, yaw: 0, pitch: 0, roll: 0, upsideDown: false },
  reach: [0.15, 12],
  range: { offset: 0, scale: 1 },
  masks: [],
};
const hello = {
  version: '0',
  rover: 'test',
  source: 'serial',
  outline: [],
  reach: [0.15, 12] as const,
  stop: 0.2,
  run: '',
};
const packet12 = findLayout('packet12');
const SAMPLES = 400;

function rig() {
  const clock = fakeClock();
  const port = new FakePort();
  const link = openLink(port, packet12, sensor, clock);
  const log = { info: () => {}, warn: () => {} };
  const bugs: unknown[] = [];
  const daemon = startDaemon(
    { link, clearance: clearanceSetting(), perception: perceptionSetting(), hello, clock, log },
    (error) => bugs.push(error),
  );
  const messages: Array<{ at: number; urgent: boolean; message: Message }> = [];
  daemon.feeds.messages.subscribe((message: FeedMessage) => {
    messages.push({
      at: clock.now(),
      urgent: message.urgent,
      message: ServerMessage.decode(message.bytes('proto') as Uint8Array),
    });
  });
  return { clock, port, daemon, messages, bugs };
}

/** An unchanging box of 3 x 2 m: noise of 5 mm, 1.5 % drop-outs, bearings that start elsewhere each revolution. */
function* box(seed: number): Generator<Uint8Array> {
  const random = seededRandom(seed);
  const encoder = new WireEncoder(packet12);
  for (let i = 0; ; i += 12) {
    const bearing = Array.from({ length: 12 }, (_, j) => -((i + j + 0.37) / SAMPLES) * TAU);
    const range = bearing.map((b) =>
      random() < 0.015
        ? 0
        : Math.min(1.5 / Math.abs(Math.cos(b)), 1 / Math.abs(Math.sin(b))) +
          0.01 * (random() + random() + random() - 1.5),
    );
    yield encoder.encode({ count: 12, bearing, range }, i / 4000, 10);
  }
}

describe('senses', () => {
  test('in an unchanging room at most 25 Clearance messages a second go out, and at least 20 less one', async () => {
    const { clock, port, messages, bugs } = rig();
    await clock.advanceAsync(0.01);
    const stream = box(11);
    for (let i = 0; i < 40 / 0.003; i++) {
      await clock.advanceAsync(0.003);
      port.send(stream.next().value as Uint8Array, clock.now());
    }
    expect(bugs).toEqual([]);
    const seconds = new Map<number, number>();
    for (const { at, message } of messages)
      if (message.clearance) seconds.set(Math.floor(at), (seconds.get(Math.floor(at)) ?? 0) + 1);
    const whole = [...seconds.values()].slice(2, -1);
    console.log(`Clearance messages a second: ${Math.min(...whole)} to ${Math.max(...whole)} over ${whole.length} s`);
    expect(Math.max(...whole)).toBeLessThanOrEqual(25);
    expect(Math.min(...whole)).toBeGreaterThanOrEqual(19);
  }, 60_000);

  test('silence: every sector unknown within 0.3 s of the last echo, messages go on; then health is blind', async () => {
    const { clock, port, daemon, messages } = rig();
    await clock.advanceAsync(0.01);
    const stream = box(12);
    for (let i = 0; i < 1.5 / 0.003; i++) {
      await clock.advanceAsync(0.003);
      port.send(stream.next().value as Uint8Array, clock.now());
    }
    expect(daemon.state().ready).toBe(true);
    const silent = clock.now();
    await clock.advanceAsync(1);
    const after = messages.filter(({ at, message }) => at > silent && message.clearance);
    const dark = after.find(({ message }) =>
      message.clearance?.state?.every((state) => state === SectorState.SECTOR_STATE_UNKNOWN),
    );
    expect((dark?.at ?? Infinity) - silent).toBeLessThan(0.2);
    expect(after.length).toBeGreaterThan(18);
    expect(daemon.state().ready).toBe(false);
    const health = messages.filter(({ message }) => message.health).at(-1)?.message.health;
    expect(health?.state).toBe(HealthState.HEALTH_STATE_BLIND);
  }, 60_000);

  test('the cable pulled: all unknown at once; after its return, the start rules again', async () => {
    const { clock, port, daemon, messages } = rig();
    await clock.advanceAsync(0.01);
    const stream = box(13);
    const play = async (seconds: number): Promise<void> => {
      for (let i = 0; i < seconds / 0.003; i++) {
        await clock.advanceAsync(0.003);
        port.send(stream.next().value as Uint8Array, clock.now());
      }
    };
    await play(1.5);
    const pulled = clock.now();
    port.pull();
    await clock.advanceAsync(0.001);
    const first = messages.find(({ at, message }) => at >= pulled && message.clearance);
    expect(first?.at).toBeLessThan(pulled + 0.01);
    expect(first?.urgent).toBe(true);
    expect(first?.message.clearance?.state?.every((state) => state === SectorState.SECTOR_STATE_UNKNOWN)).toBe(true);
    expect(daemon.state().code).toBe('PORT_LOST');
    await play(0.9);
    const isSeen = ({ message }: { message: Message }): boolean =>
      message.clearance?.state?.some((state) => state !== SectorState.SECTOR_STATE_UNKNOWN) === true;
    const back = messages.find((each) => each.at > pulled && isSeen(each));
    expect((back?.at ?? Infinity) - pulled).toBeGreaterThan(0.2); // two revolutions of 0.1 s that agree
    expect((back?.at ?? Infinity) - pulled).toBeLessThan(0.6);
    expect(daemon.state().ready).toBe(true);
  }, 60_000);

  test('the same bytes cut differently give the same sweeps, and the same clearance but for times', async () => {
    const { rows } = recordedRows('worlds/room400.ndjson.gz');
    const bytes = soundStream(rows, packet12, 60_000);
    const play = async (
      sizes: readonly number[],
    ): Promise<{ sweeps: unknown[]; state: number[]; leeway: number[] }> => {
      const { clock, port, daemon, messages } = rig();
      await clock.advanceAsync(0.01);
      for (let first = 0, turn = 0; first < bytes.length; turn++) {
        const last = Math.min(bytes.length, first + sizes[turn % sizes.length]);
        await clock.advanceAsync((last - first) * (10 / 156_667)); // 47 bytes for 12 samples at 4000 samples/s
        port.send(bytes.subarray(first, last), clock.now());
        first = last;
      }
      const sweeps = messages.flatMap(({ message }) =>
        message.sweep ? [{ ...Sweep.decode(Sweep.encode(message.sweep).finish()), firstTimeS: 0, periodS: 0 }] : [],
      );
      const end =
        ServerMessage.decode(daemon.feeds.newest(Feed.FEED_CLEARANCE)?.bytes('proto') as Uint8Array).clearance ??
        new Clearance();
      return { sweeps, state: end.state ?? [], leeway: end.leewayM ?? [] };
    };
    const whole = await play([47 * 8]);
    const cut = await play([1, 13, 100, 7]);
    expect(whole.sweeps.length).toBeGreaterThan(30);
    expect(cut.sweeps).toEqual(whole.sweeps);
    expect(cut.state).toEqual(whole.state);
    for (const [k, leeway] of whole.leeway.entries()) expect(Math.abs(cut.leeway[k] - leeway)).toBeLessThan(0.005); // paid by age
  }, 60_000);
});
