// Cost of the clearance machine: ns an echo to take it in, us to read the state, bytes allocated a revolution.
import { cpus } from 'node:os';
import { expect, test } from 'vitest';
import { TAU, wrapAngle } from '../../src/core/angles.js';
import { Clearance } from '../../src/perception/clearance/clearance.js';
import type { EchoBatch } from '../../src/sweep/echoBatch.js';
import { batchOf, clearanceSetting, type Sample } from '../support/clearanceRig.js';
import { seededRandom } from '../support/random.js';

const SEED = 3;
const REVOLUTIONS = 200;
const CHUNK = 8;

/** A box of 3 x 2 m around the sensor, 2 % drop-outs, 5 mm noise. */
function drive(samples: number): EchoBatch[] {
  const random = seededRandom(SEED);
  const batches: EchoBatch[] = [];
  let held: Sample[] = [];
  for (let i = 0; i < REVOLUTIONS * samples; i++) {
    const bearing = wrapAngle((i / samples) * TAU);
    const wall = Math.min(1.5 / Math.abs(Math.cos(bearing)), 1 / Math.abs(Math.sin(bearing)));
    held.push({
      time: i / (10 * samples),
      bearing,
      range: random() < 0.02 ? Infinity : wall + 0.01 * (random() - 0.5),
    });
    if (held.length === CHUNK) {
      batches.push(batchOf(held));
      held = [];
    }
  }
  return batches;
}

test.each([200, 400, 800, 1600])('%d samples a revolution', (samples) => {
  const batches = drive(samples);
  const machine = new Clearance(clearanceSetting());
  const warm = Math.floor(batches.length / 4);
  for (const batch of batches.slice(0, warm)) machine.push(batch);
  globalThis.gc?.();
  const heap = process.memoryUsage().heapUsed;
  const start = process.hrtime.bigint();
  for (let i = warm; i < batches.length; i++) machine.push(batches[i]);
  const push = Number(process.hrtime.bigint() - start) / ((batches.length - warm) * CHUNK);
  const grown = (process.memoryUsage().heapUsed - heap) / (REVOLUTIONS * 0.75);
  const now = REVOLUTIONS / 10;
  for (let i = 0; i < 200; i++) machine.read(now);
  const readStart = process.hrtime.bigint();
  for (let i = 0; i < 500; i++) machine.read(now);
  const read = Number(process.hrtime.bigint() - readStart) / 500 / 1000;
  console.log(
    `${cpus()[0].model}, Node ${process.version}, seed ${SEED}: ${samples} samples: push ${push.toFixed(0)} ns an echo, read ${read.toFixed(0)} us, about ${Math.max(0, grown).toFixed(0)} bytes a revolution`,
  );
  const share = (push * 10 * samples * 1e-9 + 25 * read * 1e-6) * 100;
  console.log(`  at 10 revolutions/s and 25 messages/s: ${share.toFixed(2)} % of a core`);
  expect(share).toBeLessThan(5); // a third of the whole daemon's budget
});
