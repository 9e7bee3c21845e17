// Cost of the way from bytes to echoes in rover axes: decoder, arrival clock, echoes. ns an echo, bytes allocated a second.
import { cpus } from 'node:os';
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { expect, test } from 'vitest';
import { ArrivalClock } from '../../src/device/arrivalClock.js';
import { Decoder } from '../../src/device/decoder.js';
import { Echoes } from '../../src/device/echoes.js';
import { findLayout } from '../../src/device/layouts/builtIn.js';
import { usualPacket } from '../../src/device/layouts/layout.js';
import type { SensorSetting } from '../../src/device/setting.js';
import { recordedRows, soundStream } from '../support/wire.js';

const RATE = 8000; // echoes/s
const CHUNKS = 200; // a second
const SECONDS = 60;
const sensor: SensorSetting = {
  mount: { x: 0, y: 0, z: 0.15, yaw: 0.3, pitch: 0, roll: 0, upsideDown: false },
  reach: [0.15, 12],
  range: { offset: 0.01, scale: 1.01 },
  masks: [{ from: 2.8, to: -2.8, upTo: 0.3 }],
};

setFlagsFromString('--expose-gc');
const collect = runInNewContext('gc') as () => void;
/** @returns bytes that `chunk` allocates in so many calls: growth from call to call, leaving out those in which the collector ran. */
function allocated(calls: number, chunk: () => void): number {
  collect();
  let grown = 0;
  for (let i = 0; i < calls; i++) {
    const before = process.memoryUsage();
    chunk();
    const after = process.memoryUsage();
    grown += Math.max(0, after.heapUsed - before.heapUsed) + Math.max(0, after.arrayBuffers - before.arrayBuffers);
  }
  return grown;
}

test.each(['sample5', 'packet12'])('%s', (name) => {
  const layout = findLayout(name);
  const { rows, from } = recordedRows('worlds/room400.ndjson.gz');
  const { bytes, samples: perPacket } = usualPacket(layout);
  const perSample = bytes / perPacket;
  const stream = soundStream(rows, layout, RATE * SECONDS * perSample);
  const size = Math.round((RATE * perSample) / CHUNKS);
  const decoder = new Decoder(layout);
  const timing = new ArrivalClock(RATE * perSample * 11, bytes, perPacket);
  const echoes = new Echoes(layout.sense, sensor);
  let at = 0;
  let count = 0;
  const run = (chunks: number): void => {
    for (let i = 0; i < chunks; i++, at++) {
      const samples = decoder.push(stream.subarray(at * size, (at + 1) * size));
      const { seenIndex, seenBegin, tally } = decoder;
      const arrival = { received: tally.receivedBytes, at: at / CHUNKS, seenIndex, seenBegin };
      count += echoes.convert(samples, timing.stamp(arrival, samples.index, samples.begin, samples.count)).count;
    }
  };
  run(10 * CHUNKS);
  const grown = allocated(CHUNKS, () => run(1)) - allocated(CHUNKS, () => {}); // the looking itself allocates
  count = 0;
  const start = process.hrtime.bigint();
  run((SECONDS - 12) * CHUNKS);
  const cost = Number(process.hrtime.bigint() - start) / count;
  const share = cost * RATE * 1e-9 * 100;
  console.log(
    `${cpus()[0]?.model}, Node ${process.version}, ${from}, no randomness: ${name}: ${cost.toFixed(0)} ns an echo, ` +
      `${(grown / 1024).toFixed(0)} KiB allocated a second at ${RATE} echoes/s in ${CHUNKS} chunks/s, ${share.toFixed(2)} % of a core`,
  );
  expect(cost).toBeLessThan(1500);
  expect(grown).toBeLessThan(2 * 1024 * 1024);
});
