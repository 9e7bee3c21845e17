// From the byte that makes an echo decodable, written to a pseudo-terminal, to the Clearance that rests on it at a client process of
// this machine, with 10 other subscribers. The two later samples that a layout without checksum waits for are not counted.
// Required: p50 <= 1.5 ms, p99 <= 6 ms, at 2000 echoes/s (115200 baud) and 8000 echoes/s (460800 baud).
import { spawn } from 'node:child_process';
import { mkdtempSync } from 'node:fs';
import { cpus, loadavg, tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { expect, test } from 'vitest';
import { findLayout } from '../../src/device/layouts/builtIn.js';
import { WireEncoder } from '../../src/simulator/encode.js';
import { serve } from '../support/leeway.js';
import { openPtySensor, type Timed } from '../support/ptySensor.js';
import { seededRandom } from '../support/random.js';

const TAU = 2 * Math.PI;
const SEED = 21;
const SECONDS = Number(process.env.LEEWAY_LATENCY_S ?? 40);
const RECORDS = process.env.LEEWAY_LATENCY_RECORD === '1'; // with a run being recorded
const HELD_BACK = 2; // samples
const FAR = 3; // m, a round room
const NEAR = 1.2; // m, what steps in: below urgent_m

interface Event {
  readonly record: number;
  readonly sector: number;
}

/** A round room; in every second revolution something a sector wide stands near, each time elsewhere. One sample a record. */
function* scene(rate: number, events: Event[]): Generator<Timed> {
  const layout = findLayout('sample5');
  const encoder = new WireEncoder(layout);
  const random = seededRandom(SEED);
  const samples = rate / 10;
  let sector = 0;
  let record = 0;
  for (let i = 0; i < rate * SECONDS; i++) {
    const revolution = Math.floor(i / samples);
    if (i % samples === 0) sector = (sector + 29) % 72; // 29 and 72 have no common divisor: all are visited
    const bearing = -((i + 0.3) / samples) * TAU; // clockwise
    const at = Math.floor((((bearing / TAU) % 1) + 1) * 72) % 72;
    const isIn = revolution > 20 && revolution % 2 === 1 && at === sector;
    const range = (isIn ? NEAR : FAR) + 0.005 * (random() + random() - 1);
    if (
      isIn &&
      events.at(-1)?.record !== record - 1 &&
      !(events.length > 0 && record - (events.at(-1)?.record ?? 0) < samples / 2)
    )
      events.push({ record, sector });
    yield {
      at: i / rate,
      bytes: encoder.encode(
        { count: 1, bearing: [bearing], range: [range], start: [i % samples === 0 ? 1 : 0] },
        0,
        10,
      ),
    };
    record++;
  }
}

test.each([
  { rate: 2000, baud: 115200 },
  { rate: 8000, baud: 460800 },
])(
  '$rate echoes/s',
  async ({ rate, baud }) => {
    const link = join(mkdtempSync(join(tmpdir(), 'leeway-')), 'tty');
    const sensor = await openPtySensor(link);
    const served = await serve([
      '--set',
      'sensor.source=serial',
      '--set',
      `sensor.port=${link}`,
      '--set',
      `sensor.baud=${baud}`,
      '--set',
      'sensor.layout=sample5',
      ...(RECORDS
        ? ['--set', 'runs.record=true', '--set', `runs.folder=${mkdtempSync(join(tmpdir(), 'leeway-runs-'))}`]
        : []),
    ]);
    const client = spawn(process.execPath, ['tests/support/feedListener.mjs', served.url, '11'], {
      stdio: ['ignore', 'pipe', 'inherit'],
    });
    const seen: Array<{ came: bigint; leewayM: number[] }> = [];
    createInterface({ input: client.stdout }).on('line', (line) => {
      const { came, leewayM } = JSON.parse(line) as { came: string; leewayM: number[] };
      seen.push({ came: BigInt(came), leewayM });
    });
    const events: Event[] = [];
    sensor.play(scene(rate, events));
    await new Promise((resolve) => setTimeout(resolve, (SECONDS + 2) * 1000));
    client.kill();
    await served.stop();
    await sensor.pull();

    const late: number[] = [];
    for (const { record, sector } of events) {
      const sent = sensor.written[record + HELD_BACK];
      if (sent === undefined) continue; // the end came first
      const answer = seen.find(
        ({ came, leewayM }) => came > sent - 5_000_000n && leewayM[sector] < NEAR && leewayM[sector] > 0,
      );
      if (answer !== undefined && answer.came - sent < 200_000_000n) late.push(Number(answer.came - sent) / 1e6);
    }
    late.sort((a, b) => a - b);
    const at = (share: number): string => late[Math.min(late.length - 1, Math.floor(share * late.length))].toFixed(2);
    console.log(
      `${cpus()[0].model}, Node ${process.version}, seed ${SEED}, load ${loadavg()[0].toFixed(1)}: ${rate} echoes/s${RECORDS ? ' recorded' : ''}, ${late.length} of ${events.length} falls told: ` +
        `p50 ${at(0.5)} ms, p90 ${at(0.9)} ms, p99 ${at(0.99)} ms, most ${at(1)} ms; ${(seen.length / SECONDS).toFixed(0)} messages/s`,
    );
    expect(late.length).toBeGreaterThan(0.99 * events.length);
  },
  200_000,
);
