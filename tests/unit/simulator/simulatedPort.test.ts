import { describe, expect, test } from 'vitest';
import type { Clock } from '../../../src/core/clock.js';
import { Decoder } from '../../../src/device/decoder.js';
import { builtInLayouts, findLayout } from '../../../src/device/layouts/builtIn.js';
import { hexBytes } from '../../../src/device/layouts/layout.js';
import { castRay } from '../../../src/simulator/cast.js';
import type { SensorFault } from '../../../src/simulator/simulatedPort.js';
import { fakeClock } from '../../support/fakeClock.js';
import { simulatedLine } from '../../support/simulatedLine.js';

const RUNNING = { dtr: false, rts: false };
const STOPPED = { dtr: true, rts: false };
const START = Uint8Array.of(0xa5, 0x20); // facts of hardware, from memory, as all of this layout
const STOP = Uint8Array.of(0xa5, 0x25);
const ANSWER = [0xa5, 0x5a, 0x05, 0x00, 0x00, 0x40, 0x81];
function rig(layoutName: string, { baud, seed = 1, late = 0 }: { baud?: number; seed?: number; late?: number } = {}) {
  const clock = fakeClock();
  let lateness = late; // s, of every timer: a host that is busy
  const host: Clock = {
    now: clock.now,
    wallLead: clock.wallLead,
    after: (delay, act) => clock.after(delay + lateness, act),
  };
  const layout = findLayout(layoutName);
  const { port, simulation } = simulatedLine({ layout, baud: baud ?? layout.baud, seed }, host);
  const heard: number[] = [];
  const chunks: { at: number; bytes: number }[] = [];
  let closed = 0;
  const listener = {
    bytes: (chunk: Readonly<Uint8Array>, at: number): void => {
      expect(at).toBe(clock.now());
      heard.push(...chunk);
      chunks.push({ at, bytes: chunk.length });
    },
    closed: (): void => {
      closed++;
    },
  };
  const run = (seconds: number): Promise<void> => clock.advanceAsync(seconds);
  const send = async (bytes: Uint8Array): Promise<void> => {
    const written = port.write(bytes);
    await run(0.01 + late);
    await written;
  };
  const sleep = (seconds: number): void => {
    lateness = seconds;
  };
  return { port, simulation, heard, chunks, listener, run, send, sleep, closedCount: () => closed };
}

async function started(options: Parameters<typeof rig>[1] = {}) {
  const r = rig('sample5', options);
  await r.port.open(r.listener);
  await r.port.setLines(RUNNING);
  await r.send(START);
  return r;
}

describe('sample5', () => {
  test('is silent until it is told to start, answers once, and sends only while the motor runs', async () => {
    const { port, heard, listener, run, send } = rig('sample5');
    await port.open(listener);
    await run(1);
    expect(heard).toEqual([]);
    await send(START); // the line DTR is asserted, as most systems open a port: the motor stands
    await run(1);
    expect(heard).toEqual(ANSWER);
    expect(await port.setLines(RUNNING)).toBe(true);
    await run(0.1);
    expect(heard.length).toBeGreaterThan(900);
    await port.setLines(STOPPED);
    const count = heard.length;
    await run(1);
    expect(heard.length).toBe(count);
  });

  test('ends with the stop command and begins anew with the next start', async () => {
    const { heard, run, send } = await started();
    await run(0.5);
    await send(STOP);
    const count = heard.length;
    await run(1);
    expect(heard.length).toBe(count);
    await send(START);
    expect(heard.slice(count, count + 7)).toEqual(ANSWER);
    await run(0.5);
    expect(heard.length).toBeGreaterThan(count + 4000);
  });

  test('sends well-formed samples, clockwise, one start mark a revolution, near walls 2 to 4 m off', async () => {
    const { heard, run } = await started();
    await run(5);
    const bytes = heard.slice(7);
    let last = NaN;
    const turns: number[] = [];
    let right = 0;
    let rights = 0;
    for (let i = 0; i + 5 <= bytes.length; i += 5) {
      const [a, b, c, d, e] = bytes.slice(i, i + 5);
      expect([1, 2]).toContain(a & 3);
      expect(b & 1).toBe(1);
      if (a & 1) turns.push(i / 5);
      const angle = ((b >> 1) | (c << 7)) / 64;
      if (i / 5 > 2100) {
        const step = (angle - last + 720) % 360;
        expect(step).toBeGreaterThan(1.7);
        expect(step).toBeLessThan(1.9);
        if (Math.abs(angle - 90) < 1 && (d | (e << 8)) > 0) {
          right += (d | (e << 8)) / 4000;
          rights++;
        }
      }
      last = angle;
    }
    const late = turns.filter((at) => at > 2100);
    for (let i = 1; i < late.length; i++) expect(Math.abs(late[i] - late[i - 1] - 200)).toBeLessThanOrEqual(1);
    expect(right / rights).toBeCloseTo(2, 2); // clockwise 90 degrees is the wall on the right, 2.0 m away
  });

  test('is paced as the line is, without drift, however late its timers are', async () => {
    for (const late of [0, 0.0031, 0.02]) {
      const { chunks, run } = await started({ late });
      await run(20);
      const [, first] = chunks;
      const last = chunks[chunks.length - 1];
      const sent = chunks.slice(2).reduce((sum, { bytes }) => sum + bytes, 0);
      // 2000 samples/s of 5 bytes; a chunk of 4 ms more or less at the ends
      expect(Math.abs(sent / (last.at - first.at) / 10_000 - 1)).toBeLessThan(0.002);
      const least = 0.004 + late; // never more than the line carries meanwhile: 11 520 bytes/s
      for (let i = 2; i < chunks.length; i++)
        expect(chunks[i].bytes).toBeLessThanOrEqual(11_520 * Math.max(least, chunks[i].at - chunks[i - 1].at) + 5);
    }
  });

  test('a host that sleeps for a second loses bytes, and the next are of now', async () => {
    const r = await started();
    const { chunks, port, run } = r;
    await run(2);
    const before = chunks.length;
    r.sleep(1);
    await run(0.01);
    r.sleep(0);
    await run(2);
    const burst = Math.max(...chunks.slice(before).map(({ bytes }) => bytes));
    expect(burst).toBeLessThanOrEqual(4096);
    expect(burst).toBeGreaterThan(4000);
    await port.close();
  });

  test('a faster line carries more samples: 8000 a second at 460 800 bit/s', async () => {
    const { heard, run } = await started({ baud: 460_800 });
    const before = heard.length;
    await run(2);
    expect((heard.length - before) / 5 / 2).toBeCloseTo(8000, -2);
  });
});

test('packet12 sends by itself from opening, 4500 samples/s, and its CRC holds', async () => {
  const { port, heard, listener, run } = rig('packet12');
  await port.open(listener);
  await run(4);
  expect(heard.length / 47 / 4).toBeCloseTo(375, -1);
  expect(heard.slice(0, 2)).toEqual([0x54, 0x2c]);
  // CRC-8, polynomial 0x4D, bit by bit over the 46 bytes before
  const packet = heard.slice(47 * 1000, 47 * 1001);
  let crc = 0;
  for (const byte of packet.slice(0, 46)) {
    crc ^= byte;
    for (let bit = 0; bit < 8; bit++) crc = crc & 0x80 ? ((crc << 1) ^ 0x4d) & 0xff : (crc << 1) & 0xff;
  }
  expect(packet[46]).toBe(crc);
  expect(Math.abs((packet[2] | (packet[3] << 8)) - 3600)).toBeLessThan(40); // deg/s
});

describe('two runs', () => {
  test('of one seed give the same bytes whatever the host does, of two seeds not', async () => {
    const bytesOf = async (seed: number, late: number): Promise<number[]> => {
      const { heard, run } = await started({ seed, late });
      await run(3);
      return heard.slice(0, 25_000);
    };
    const first = await bytesOf(1, 0);
    expect(await bytesOf(1, 0)).toEqual(first);
    expect(await bytesOf(1, 0.013)).toEqual(first);
    expect(await bytesOf(2, 0)).not.toEqual(first);
  });
  test('one after the other through the same port too', async () => {
    const { port, heard, listener, run, send, closedCount } = await started();
    await run(1);
    await port.close();
    await port.close();
    expect(closedCount()).toBe(1);
    const first = heard.splice(0);
    await run(1);
    expect(heard).toEqual([]);
    await expect(Promise.all([port.write(START), run(0.01)])).rejects.toMatchObject({ code: 'PORT_LOST' });
    await port.open(listener);
    await port.setLines(RUNNING);
    await send(START);
    await run(1);
    expect(heard).toEqual(first);
  });
});

describe('faults on demand', () => {
  /** Angles (degrees) of the samples among bytes that hold nothing else. */
  const angles = (bytes: readonly number[]): number[] =>
    Array.from(
      { length: Math.floor(bytes.length / 5) },
      (_, i) => ((bytes[5 * i + 1] >> 1) | (bytes[5 * i + 2] << 7)) / 64,
    );
  const failing = async (fault: SensorFault, seconds: number) => {
    const r = await started();
    await r.run(2);
    const before = r.heard.length;
    r.port.fail(fault, seconds);
    await r.run(seconds);
    const during = r.heard.slice(before);
    await r.run(2.5);
    return { ...r, during, after: r.heard.slice(before + during.length) };
  };
  test('a held motor repeats one bearing, and runs up again', async () => {
    const { during, after } = await failing('stall', 1);
    expect(new Set(angles(during).slice(10)).size).toBe(1);
    expect(new Set(angles(after)).size).toBeGreaterThan(1000);
  });
  test('a frozen buffer comes again and again', async () => {
    const { during, after } = await failing('frozen', 1);
    expect(new Set(angles(during)).size).toBeLessThan(20); // the 4 ms of the last chunk hold 8 samples
    expect(during.length).toBeGreaterThan(5000);
    expect(new Set(angles(after)).size).toBeGreaterThan(1000);
  });
  test('dust ends most beams near by or nowhere', async () => {
    const { during } = await failing('dust', 1);
    const near = angles(during).filter((_, i) => (during[5 * i + 3] | (during[5 * i + 4] << 8)) / 4000 < 0.6);
    expect(near.length / angles(during).length).toBeGreaterThan(0.7); // 0.5 in the dust, 0.3 and 1.5 % of the rest without echo
  });
  test.each(['brownOut', 'restart'] as const)('%s: silent, then it wants to be started again', async (fault) => {
    const { during, after, send, run, heard } = await failing(fault, 1);
    expect(during.length).toBeLessThanOrEqual(fault === 'restart' ? 64 + 50 : 50);
    expect(after).toEqual([]);
    const count = heard.length;
    await send(START);
    await run(0.5);
    expect(heard.slice(count, count + 7)).toEqual(ANSWER);
    expect(heard.length).toBeGreaterThan(count + 4000);
  });
});

test('a rover that is driven goes, also while its sensor is silent', async () => {
  const clock = fakeClock();
  const { port, simulation } = simulatedLine({}, clock);
  await port.open({ bytes: () => {}, closed: () => {} });
  port.drive(0.3, 0); // nothing is there yet to be driven
  await port.setLines(RUNNING);
  const written = port.write(START);
  await clock.advanceAsync(0.01);
  await written;
  await clock.advanceAsync(1);
  expect(simulation.distance).toBe(0);
  for (let i = 0; i < 20; i++) {
    port.drive(0.3, 0);
    if (i === 5) port.fail('brownOut', 10);
    await clock.advanceAsync(0.05);
  }
  expect(simulation.rover.x).toBeGreaterThan(2.2 + 0.15);
  await clock.advanceAsync(1);
  expect(simulation.rover.speed).toBeCloseTo(0, 9);
  await port.close();
  expect(clock.waiting).toBe(1); // the end of the fault
});

describe.each(builtInLayouts)('$name', (layout) => {
  test('what it sends, decoded, is the room', async () => {
    const { port, simulation, heard, listener, run, send } = rig(layout.name);
    await port.open(listener);
    if (layout.lines) await port.setLines(layout.lines.running);
    if (layout.start !== undefined) await send(hexBytes(layout.start));
    await run(3);
    await port.close();
    expect(heard.length).toBeLessThanOrEqual((3.1 * layout.baud) / 10);
    expect(heard.length).toBeGreaterThan((3 * 0.7 * layout.baud) / 10);
    const decoder = new Decoder(layout);
    const found = decoder.push(Uint8Array.from(heard));
    expect(decoder.tally.skippedBytes).toBe(0);
    const hit = { range: 0, thing: 0 };
    let close = 0;
    let echoes = 0;
    for (let i = 0; i < found.count; i++) {
      if (found.range[i] === 0) continue;
      echoes++;
      const bearing = layout.sense === 'clockwise' ? -found.bearing[i] : found.bearing[i];
      // half a step off is much near a corner: the nearest of three looks half a degree apart
      const off = [-0.5, 0, 0.5].map((degrees) => {
        const truth = castRay(simulation.scene, 2.2, 2, 0.15, bearing + (degrees * Math.PI) / 180, 0, hit);
        return Math.abs(found.range[i] - truth) - 3 * Math.hypot(0.005, (truth * truth * 0.005) / 6);
      });
      if (Math.min(...off) <= 0.01) close++;
    }
    expect(echoes).toBeGreaterThan(0.8 * found.count);
    expect(close / echoes).toBeGreaterThan(0.97);
  });
});
