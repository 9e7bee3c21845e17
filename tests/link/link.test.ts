import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { Fault } from '../../src/core/fault.js';
import { findLayout } from '../../src/device/layouts/builtIn.js';
import { type Link, type LinkEvent, type LinkStatus, openLink } from '../../src/device/link.js';
import type { SensorSetting } from '../../src/device/setting.js';
import { type FakeClock, fakeClock } from '../support/fakeClock.js';
import { FakePort } from '../support/fakePort.js';
import { simulatedLine } from '../support/simulatedLine.js';
import { recordedRows, soundStream } from '../support/wire.js';

// Commands, answer and lines of sample5: the description of the layout (A5 20, A5 25, A5 5A 05 00 00 40 81; DTR released runs).
const START = 'a520';
const STOP = 'a525';
const ANSWER = Uint8Array.from([0xa5, 0x5a, 0x05, 0x00, 0x00, 0x40, 0x81]);

const sensor: SensorSetting = {
  mount: { x: 0, y: 0, z: 0.15, yaw: 0, pitch: 0, roll: 0, upsideDown: false },
  reach: [0.15, 12],
  range: { offset: 0, scale: 1 },
  masks: [],
};
const sample5 = findLayout('sample5');
const stream = soundStream(recordedRows('worlds/room400.ndjson.gz').rows, sample5, 200_000);

let clock: FakeClock;
let port: FakePort;
let link: Link;
let seen: LinkEvent[];
let unsubscribe: () => void;
let sent: number;

const phases = (): string[] =>
  seen.flatMap((event) =>
    event.kind === 'status' ? [event.status.phase + (event.status.fault ? ` ${event.status.fault.code}` : '')] : [],
  );
const last = (): LinkStatus =>
  seen.flatMap((event) => (event.kind === 'status' ? [event.status] : []))[phases().length - 1];
const batches = (): number => seen.filter((event) => event.kind === 'batch').length;
/** Sends sound samples, 50 bytes each 5 ms: 2000 samples/s. */
async function play(seconds: number): Promise<void> {
  for (let i = 0; i < seconds * 200; i++) {
    await clock.advanceAsync(0.005);
    port.send(stream.subarray(sent % 150_000, (sent % 150_000) + 50), clock.now());
    sent += 50;
  }
}

function begin(): void {
  link = openLink(port, sample5, sensor, clock);
  const subscription = link.events.subscribe((event) => seen.push(event));
  unsubscribe = () => subscription.unsubscribe();
}

beforeEach(() => {
  clock = fakeClock();
  port = new FakePort();
  port.onWrite = (hex) => {
    if (hex === START) port.send(ANSWER, clock.now());
  };
  seen = [];
  sent = 0;
});
afterEach(async () => {
  unsubscribe();
  await clock.advanceAsync(1);
  await link.closed();
});

describe('the link', () => {
  test('sets lines, stops, starts, hears the answer, streams; and at the end stops, sets lines, closes', async () => {
    begin();
    await clock.advanceAsync(0.1);
    expect(port.calls).toEqual(['open', 'lines dtr=false rts=false', `write ${STOP}`, `write ${START}`]);
    await play(0.5);
    expect(phases()).toEqual(['opening', 'starting SENSOR_STARTING', 'streaming']);
    expect(link.tally.samples).toBeGreaterThan(980);
    expect(batches()).toBeGreaterThan(95);
    await play(1);
    expect(last().findings).toEqual([]);
    unsubscribe();
    await link.closed();
    expect(port.calls.slice(4)).toEqual([`write ${STOP}`, 'lines dtr=true rts=false', 'close']);
    expect(clock.waiting).toBe(0);
    expect(link.tally.takenBytes + link.tally.skippedBytes).toBe(link.tally.receivedBytes);
  });

  test('tells that it streams before the first batch', async () => {
    begin();
    await play(0.3);
    const first = seen.findIndex((event) => event.kind === 'batch');
    expect(first).toBeGreaterThan(0);
    expect(seen.slice(0, first).some((event) => event.kind === 'status' && event.status.phase === 'streaming')).toBe(
      true,
    );
  });

  test('what came before start is thrown away, and counted', async () => {
    begin();
    await Promise.resolve();
    await Promise.resolve();
    port.send(stream.subarray(0, 500), clock.now());
    expect(link.tally).toMatchObject({ receivedBytes: 500, skippedBytes: 500, samples: 0 });
  });

  test('a port without lines is a finding, not a failure', async () => {
    port.hasLines = false;
    begin();
    await play(0.3);
    expect(last().phase).toBe('streaming');
    expect(last().findings.map((fault) => fault.code)).toEqual(['PORT_LINES_ABSENT']);
  });

  test('no answer, but samples: a finding, and it streams', async () => {
    port.onWrite = () => {};
    begin();
    await play(1.5);
    expect(last().phase).toBe('streaming');
    expect(last().findings.map((fault) => fault.code)).toEqual(['SENSOR_ANSWER_WRONG']);
  });

  test('a pulled cable is told at once, and it streams again within 1 s of its return', async () => {
    begin();
    await play(0.5);
    port.refusal = new Fault('PORT_MISSING', { port: port.name });
    port.pull();
    expect(phases().at(-1)).toBe('lost PORT_LOST'); // in the same turn
    expect(last().findings).toEqual([]);
    await clock.advanceAsync(20);
    expect(phases().at(-1)).toBe('lost PORT_MISSING');
    port.refusal = undefined;
    const back = clock.now();
    for (let i = 0; i < 200 && last().phase !== 'streaming'; i++) await play(0.005);
    expect(last().phase).toBe('streaming');
    expect(clock.now() - back).toBeLessThan(1);
    expect(link.tally.reopened).toBe(1);
  });

  test('the port may come later', async () => {
    port.refusal = new Fault('PORT_BUSY', { port: port.name });
    begin();
    await clock.advanceAsync(10);
    expect(phases()).toEqual(['opening', 'lost PORT_BUSY']);
    port.refusal = undefined;
    await play(1);
    expect(last().phase).toBe('streaming');
    expect(link.tally.reopened).toBe(0);
  });

  test('silence: told, started again, and after a while opened anew', async () => {
    begin();
    await play(0.5);
    const before = port.calls.length;
    await clock.advanceAsync(0.4);
    expect(phases().at(-1)).toBe('starting SENSOR_STARTING');
    await clock.advanceAsync(0.3);
    expect(phases().at(-1)).toBe('starting PORT_SILENT');
    port.onWrite = () => {};
    await clock.advanceAsync(6);
    expect(port.calls.slice(before)).toEqual([`write ${START}`, `write ${START}`, `write ${START}`]);
    await clock.advanceAsync(10);
    expect(port.calls.slice(before)).toContain('close');
    expect(port.calls.filter((call) => call === 'open').length).toBe(2);
    expect(phases()).toContain('lost PORT_SILENT');
  });

  test('bytes that do not fit the layout', async () => {
    begin();
    for (let i = 0; i < 1000; i++) {
      await clock.advanceAsync(0.005);
      port.send(
        Uint8Array.from({ length: 50 }, (_, k) => (k * 37 + i * 11) & 0xff),
        clock.now(),
      );
    }
    expect(phases()).toEqual(['opening', 'starting SENSOR_STARTING', 'starting LAYOUT_NOT_LOCKED']);
    await play(0.5);
    expect(last().phase).toBe('streaming');
  });

  test('a motor that stalls is told, its samples are held, and it streams when it turns again', async () => {
    begin();
    await play(0.5);
    const released = link.tally.samples;
    // S = 0, angle 90 degrees = 5760/64: low 7 bits 0 << 1 | 1, high 8 bits 45; range 1 m = 4000/4 mm
    const standing = Uint8Array.from(Array.from({ length: 10 }, () => [0xa2, 0x01, 0x2d, 0xa0, 0x0f]).flat());
    for (let i = 0; i < 200; i++) {
      await clock.advanceAsync(0.005);
      port.send(standing, clock.now());
    }
    expect(phases().at(-1)).toBe('starting SPIN_STALLED');
    expect(link.tally.samples - released).toBeLessThanOrEqual(2);
    await play(0.5);
    expect(last().phase).toBe('streaming');
  });

  test('times of samples never fall, and are never later than their arrival', async () => {
    begin();
    await play(2);
    let newest = -Infinity;
    for (const event of seen) {
      if (event.kind !== 'batch') continue;
      for (const time of event.batch.time) {
        expect(time).toBeGreaterThanOrEqual(newest);
        newest = time;
      }
    }
    expect(newest).toBeLessThan(clock.now());
    expect(newest).toBeGreaterThan(clock.now() - 0.01);
  });

  test('unsubscribing while the port is being opened closes it', async () => {
    begin();
    unsubscribe();
    await clock.advanceAsync(1);
    await link.closed();
    expect(port.isOpen).toBe(false);
    expect(clock.waiting).toBe(0);
  });
});

test.each(['sample5', 'packet12'])('the simulated source speaks %s through the same link', async (name) => {
  const layout = findLayout(name);
  const simulated = openLink(simulatedLine({ layout, sensor }, clock).port, layout, sensor, clock);
  const events: LinkEvent[] = [];
  const subscription = simulated.events.subscribe((event) => events.push(event));
  await clock.advanceAsync(3);
  expect(events.flatMap((event) => (event.kind === 'status' ? [event.status.phase] : [])).at(-1)).toBe('streaming');
  expect(simulated.tally.skippedBytes).toBeLessThan(1500); // while it spins up its bearings hardly advance
  subscription.unsubscribe();
  await clock.advanceAsync(1);
  await simulated.closed();
});
