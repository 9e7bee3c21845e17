// The whole daemon at 8000 echoes/s (sample5 at 460800 baud through a pseudo-terminal) with 5 subscribers, for LEEWAY_SOAK_S seconds (600).
// Required: under 15 % of one core, under 120 MB resident, flat.
import { spawn } from 'node:child_process';
import { mkdtempSync, readFileSync } from 'node:fs';
import { cpus, loadavg, tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { TAU } from '../../src/core/angles.js';
import { findLayout } from '../../src/device/layouts/builtIn.js';
import { WireEncoder } from '../../src/simulator/encode.js';
import { serve } from '../support/leeway.js';
import { openPtySensor, type Timed } from '../support/ptySensor.js';
import { seededRandom } from '../support/random.js';

const SECONDS = Number(process.env.LEEWAY_SOAK_S ?? 600);
const SEED = 5;
const RATE = 8000; // echoes/s
const SAMPLES = 800; // a revolution
const RECORD = 16; // samples
const TICKS = 100; // clock ticks a second of /proc/PID/stat: USER_HZ on every Linux that Node runs on

/** A box of 6 x 4 m, 5 mm noise, 1.5 % drop-outs, and somebody who walks past in front; from second `from` on. */
function* room(from: number, seconds: number): Generator<Timed> {
  const encoder = new WireEncoder(findLayout('sample5'));
  const random = seededRandom(SEED + from);
  for (let i = from * RATE; i < (from + seconds) * RATE; i += RECORD) {
    const index = Array.from({ length: RECORD }, (_, j) => i + j);
    const bearing = index.map((j) => -((j + 0.3) / SAMPLES) * TAU);
    const walker = 0.8 * Math.sin(i / RATE);
    const range = bearing.map((b) => {
      if (random() < 0.015) return 0;
      const wall = Math.min(3 / Math.abs(Math.cos(b)), 2 / Math.abs(Math.sin(b)));
      const isWalker = Math.abs(Math.atan2(Math.sin(b - walker), Math.cos(b - walker))) < 0.12;
      return (isWalker ? 1.5 : wall) + 0.01 * (random() + random() + random() - 1.5);
    });
    const start = index.map((j) => (j % SAMPLES === 0 ? 1 : 0));
    yield { at: (i + RECORD) / RATE, bytes: encoder.encode({ count: RECORD, bearing, range, start }, 0, 10) };
  }
}

interface Use {
  readonly cpu: number; // s
  readonly resident: number; // MB
}

function use(pid: number): Use {
  const fields = readFileSync(`/proc/${pid}/stat`, 'utf8')
    .replace(/^.*\) /, '')
    .split(' ');
  const resident = /VmRSS:\s+(\d+) kB/.exec(readFileSync(`/proc/${pid}/status`, 'utf8'));
  return { cpu: (Number(fields[11]) + Number(fields[12])) / TICKS, resident: Number(resident?.[1]) / 1024 };
}

test('the daemon under its usual load', async () => {
  const link = join(mkdtempSync(join(tmpdir(), 'leeway-')), 'tty');
  const sensor = await openPtySensor(link);
  const settings = { source: 'serial', port: link, baud: 460800, layout: 'sample5' };
  const served = await serve(Object.entries(settings).flatMap(([key, value]) => ['--set', `sensor.${key}=${value}`]));
  const clients = spawn(process.execPath, ['tests/support/feedListener.mjs', served.url, '5'], {
    stdio: ['ignore', 'ignore', 'inherit'],
  });
  const piece = 10; // s of sensor at a time
  const uses: Use[] = [];
  sensor.play(room(0, piece));
  for (let second = 0; second < SECONDS; second += piece) {
    sensor.play(room(second + piece, piece)); // one piece ahead: the line must not fall silent
    await new Promise((resolve) => setTimeout(resolve, piece * 1000));
    uses.push(use(served.pid));
  }
  clients.kill();
  const health = served.log.filter(({ code }) => code !== undefined).map(({ code, msg }) => `${msg} ${code}`);
  await served.stop();
  await sensor.pull();

  const warm = uses.slice(Math.min(3, Math.floor(uses.length / 3)));
  const cpu = (warm[warm.length - 1].cpu - warm[0].cpu) / ((warm.length - 1) * piece);
  const half = Math.floor(warm.length / 2);
  const mean = (part: readonly Use[]): number => part.reduce((sum, { resident }) => sum + resident, 0) / part.length;
  const growth = ((mean(warm.slice(half)) - mean(warm.slice(0, half))) / (half * piece)) * 3600;
  const most = Math.max(...uses.map(({ resident }) => resident));
  console.log(
    `${cpus()[0].model}, Node ${process.version}, seed ${SEED}, load ${loadavg()[1].toFixed(1)}: ${SECONDS} s at ${RATE} echoes/s, 5 subscribers: ` +
      `${(100 * cpu).toFixed(1)} % of a core, at most ${most.toFixed(0)} MB resident, ${growth.toFixed(1)} MB/h; listening after ${served.took.toFixed(2)} s; ${health.join(', ')}`,
  );
  console.log(uses.map(({ resident }) => resident.toFixed(0)).join(' '));
  expect(cpu).toBeLessThan(0.15);
  expect(most).toBeLessThan(120);
});
