// Every fault of bring-up, provoked by a simulated sensor on a pseudo-terminal: named rightly, and nothing else named.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, isAbsolute, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, describe, expect, test } from 'vitest';
import { layoutOfFile } from '../../src/cli/sensorLayout.js';
import { findLayout } from '../../src/device/layouts/builtIn.js';
import { withOptions } from '../../src/device/layouts/options.js';
import { Random } from '../../src/simulator/random.js';
import { BenchSensor, type BenchSetting, box, sceneOf, soundSensor } from '../support/benchSensor.js';
import { type Ended, talk } from '../support/leeway.js';
import { hasPty, openPtyLine, type PtyLine } from '../support/ptyLine.js';

const folder = mkdtempSync(join(tmpdir(), 'leeway-check-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const isPty = hasPty();
const OWN_LAYOUT = fileURLToPath(new URL('../../deploy/layout-example.yaml', import.meta.url));
const SECONDS = 5;
const HELD_UP_MOST = 0.1; // s; a case during which this process could not play its sensor for longer is played again
const TRIES = 4;
const AT_ONCE = 3; // the sensors of so many cases are played by this one process
const deg = Math.PI / 180;

interface Case {
  readonly fault: string;
  /** What must be named; undefined: nothing. */
  readonly code?: string;
  readonly layout?: string;
  readonly change?: Partial<BenchSetting>;
  readonly args?: readonly string[];
  /** Something that happens while it looks. */
  readonly meanwhile?: (line: PtyLine, sensor: BenchSensor) => Promise<PtyLine>;
}

const noise = new Random(5);
const randomBytes = (count: number): Uint8Array => Uint8Array.from({ length: count }, () => noise.next() & 0xff);
const console_ = (count: number): Uint8Array =>
  Buffer.from('[  12.345678] usb 1-1: new device found\r\n'.repeat(Math.ceil(count / 8)).slice(0, 5 * count));
/** An invented layout: head, length, counter, values that creep, sum. */
let counter = 0;
const unknownPackets = (count: number): Uint8Array => {
  const packets = Array.from({ length: Math.ceil(count / 10) }, () => {
    const values = Array.from({ length: 20 }, (_, i) => 60 + ((counter * 7 + i * 3) % 140));
    const packet = [0xc3, 0x3c, 20, counter++ & 0xff, ...values];
    return [...packet, packet.reduce((a, b) => a + b, 0) & 0xff];
  });
  return Uint8Array.from(packets.flat());
};
const flip =
  (share: number) =>
  (bytes: Uint8Array): Uint8Array =>
    Uint8Array.from(bytes, (byte) => (noise.uniform() < share ? byte ^ (1 << Math.floor(8 * noise.uniform())) : byte));
/** Plants all round and nothing straight: stems at many distances. */
const THICKET = sceneOf(
  [],
  Array.from({ length: 60 }, (_, i) => {
    const range = 1 + 2 * (((i * 37) % 60) / 60);
    return [range * Math.cos(i * 6 * deg), range * Math.sin(i * 6 * deg), 0.06 * range];
  }),
);

const CASES: readonly Case[] = [
  { fault: 'none (sample5)' },
  { fault: 'none (packet12)', layout: 'packet12' },
  { fault: 'none (block32)', layout: 'block32' },
  { fault: 'none (packetN)', layout: 'packetN', change: { world: sceneOf(box(-2.2, -1.8, 0.6, 2.0)) } },
  { fault: 'none (index22)', layout: 'index22' },
  { fault: 'none (a layout file)', layout: OWN_LAYOUT },
  { fault: 'none, streaming when opened', change: { isStreaming: true } },
  { fault: 'other baud, starts by command', code: 'BAUD_WRONG', change: { baud: 57600 } },
  { fault: 'other baud, sends by itself', code: 'BAUD_WRONG', layout: 'packet12', change: { baud: 115200 } },
  {
    fault: 'other layout and baud',
    code: 'LAYOUT_OTHER',
    layout: 'packet12',
    args: ['--set', 'sensor.layout=sample5'],
  },
  { fault: 'unknown layout', code: 'LAYOUT_NOT_LOCKED', change: { instead: unknownPackets, isStreaming: true } },
  {
    fault: 'random bytes',
    code: 'LAYOUT_NOT_LOCKED',
    change: { instead: (n) => randomBytes(5 * n), isStreaming: true },
  },
  { fault: 'text console', code: 'BYTES_TEXT', change: { instead: console_, isStreaming: true } },
  { fault: 'silence', code: 'PORT_SILENT', change: { answer: '', stands: 'silent' } },
  { fault: 'motor stands, bearing repeats', code: 'SPIN_STALLED', change: { stands: 'repeats' } },
  { fault: 'motor stands, bearing repeats', code: 'SPIN_STALLED', layout: 'packet12', change: { stands: 'repeats' } },
  { fault: 'motor stands, answer only', code: 'MOTOR_STILL', change: { stands: 'silent' } },
  { fault: 'answer is another', code: 'SENSOR_ANSWER_WRONG', change: { answer: 'A5 5A 01 00 00 00 06' } },
  { fault: 'spin of 3 revolutions/s', code: 'SPIN_SLOW', change: { spin: () => 3 } },
  { fault: 'spin wobbles', code: 'SPIN_UNSTEADY', change: { spin: (t) => 10 * (1 + 0.06 * Math.sin(4 * t)) } },
  { fault: 'spin dips', code: 'SUPPLY_WEAK', change: { spin: (t) => (t % 2 > 1.7 ? 7.5 : 10) } },
  { fault: 'spin sinks', code: 'SUPPLY_WEAK', change: { spin: (t) => 10 - 0.3 * t } },
  { fault: 'sensor restarts', code: 'SUPPLY_WEAK', change: { restartAfter: 1.2 } },
  { fault: 'bytes damaged', code: 'BYTES_SKIPPED', layout: 'packet12', change: { damage: flip(0.002) } },
  { fault: 'bytes damaged', code: 'BYTES_SKIPPED', change: { damage: flip(0.01) } },
  { fault: 'few samples', code: 'ECHOES_FEW', change: { rate: 0.6 } },
  { fault: 'no echo to the right', code: 'RETURNS_MISSING', change: { isBlind: (b) => b > -1.2 && b < -0.8 } },
  { fault: 'no echo all round', code: 'RETURNS_MISSING', change: { dropped: 0.3 } },
  { fault: 'noise', code: 'RANGE_NOISY', change: { noise: 5 } },
  { fault: 'coarse steps', code: 'RANGE_COARSE', change: { step: 0.03 } },
  { fault: 'no wall', code: 'WALL_MISSING', change: { world: THICKET } },
  { fault: 'a bar over the rover', code: 'BODY_SEEN', change: { body: sceneOf([[-0.17, 0.04, -0.17, 0.12]]) } },
  {
    fault: 'option of the layout',
    code: 'OPTION_OFF',
    layout: 'packetN',
    change: {
      layout: withOptions(findLayout('packetN'), { bearings_corrected: true }),
      world: sceneOf(box(-2.2, -1.8, 0.6, 2.0)),
    },
  },
  { fault: 'blind ring', code: 'BLIND_RING', args: ['--set', 'sensor.reach_m=[0.3, 12]'] },
  { fault: 'adapter of 16 ms', code: 'PORT_BATCHED', change: { batch: 0.016 } },
  {
    fault: 'cable pulled and back',
    code: 'PORT_LOST',
    meanwhile: async (line, sensor) => {
      await new Promise((resolve) => setTimeout(resolve, 5000));
      const link = sensor.path;
      sensor.stop();
      await line.pull();
      const again = await openPtyLine(link);
      new BenchSensor(again, link, sensor.setting);
      return again;
    },
  },
];

let number = 0;

/** Plays a sensor to `leeway check` and hears what it says. */
async function run({
  layout = 'sample5',
  change = {},
  args = [],
  meanwhile,
}: Case): Promise<Ended & { codes: string[]; took: number; heldUp: number }> {
  const path = join(folder, `line${number++}`);
  const line = await openPtyLine(path);
  const sensor = new BenchSensor(line, path, {
    ...soundSensor(isAbsolute(layout) ? layoutOfFile(layout) : findLayout(layout)),
    ...change,
  });
  const began = performance.now();
  const { ended } = talk(
    [
      'check',
      '--json',
      '--seconds',
      String(SECONDS),
      '--set',
      'sensor.source=serial',
      '--set',
      `sensor.port=${path}`,
      '--set',
      `sensor.layout=${layout}`,
      ...args,
    ],
    60,
  );
  const last = (await meanwhile?.(line, sensor)) ?? line;
  const result = await ended;
  sensor.stop();
  await last.pull();
  const told =
    result.stdout === '' ? { findings: [] } : (JSON.parse(result.stdout) as { findings: { code: string }[] });
  const refused = /\[(\w+)\]/.exec(result.stderr)?.[1];
  const codes = [...new Set(told.findings.map(({ code }) => code)), ...(refused === undefined ? [] : [refused])];
  return { ...result, codes, took: (performance.now() - began) / 1000, heldUp: sensor.heldUp };
}

describe.skipIf(!isPty)('leeway check', () => {
  test('names each fault and nothing else', { timeout: 400_000 }, async () => {
    const found = new Map<Case, Awaited<ReturnType<typeof run>>>();
    const waiting = [...CASES];
    const work = async (): Promise<void> => {
      for (let next = waiting.shift(); next !== undefined; next = waiting.shift()) {
        for (let tries = 1; tries <= TRIES; tries++) {
          const got = await run(next);
          found.set(next, got);
          if (got.heldUp <= HELD_UP_MOST) break;
          console.log(`${next.fault}: played again, this machine was held up for ${got.heldUp.toFixed(2)} s`);
        }
      }
    };
    await Promise.all(Array.from({ length: AT_ONCE }, work));
    const rows = CASES.map((one) => {
      const got = found.get(one);
      return {
        fault: one.fault,
        layout: basename(one.layout ?? 'sample5'),
        wanted: one.code ?? '-',
        named: got?.codes.join(' ') || '-',
        exit: got?.code,
        s: Number(got?.took.toFixed(1)),
      };
    });
    console.log(
      ['fault | layout | wanted | named | exit | s', ...rows.map((row) => Object.values(row).join(' | '))].join('\n'),
    );
    for (const one of CASES) {
      const got = found.get(one);
      expect({ fault: one.fault, codes: got?.codes, exit: got?.code }, got?.stdout).toEqual({
        fault: one.fault,
        codes: one.code === undefined ? [] : [one.code],
        exit: one.code === undefined ? 0 : 3,
      });
    }
  });
});
