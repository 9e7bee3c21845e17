// What happens on a bench, to the built daemon: no sensor yet, a sensor, silence, the cable pulled and put back, another program on the port.
// Required: silence: all unknown within 0.35 s of the last echo at 10 revolutions/s; cable pulled: within 0.1 s; streaming again within 1 s of
// its return plus the start rules (two revolutions that agree, begun anywhere: 0.3 s).
import { spawn } from 'node:child_process';
import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { TAU } from '../../src/core/angles.js';
import { findLayout } from '../../src/device/layouts/builtIn.js';
import { Feed } from '../../src/messages/codec.js';
import { WireEncoder } from '../../src/simulator/encode.js';
import { join as connect, type FeedsClient, until } from '../support/feedsClient.js';
import { serve } from '../support/leeway.js';
import { hasPty } from '../support/ptyLine.js';
import { openPtySensor, type Timed } from '../support/ptySensor.js';

const RATE = 2000;
const SAMPLES = 200;
const UNKNOWN = 1;
const START = 'a520'; // of sample5; a sensor says nothing before it, and what nobody reads is lost

/** A round room of 3 m at sample5's own pace. */
function* room(seconds: number): Generator<Timed> {
  const encoder = new WireEncoder(findLayout('sample5'));
  for (let i = 0; i < seconds * RATE; i += 10) {
    const bearing = Array.from({ length: 10 }, (_, j) => -((i + j + 0.3) / SAMPLES) * TAU);
    const start = bearing.map((_, j) => ((i + j) % SAMPLES === 0 ? 1 : 0));
    yield {
      at: (i + 10) / RATE,
      bytes: encoder.encode({ count: 10, bearing, range: bearing.map(() => 3), start }, 0, 10),
    };
  }
}

const now = (): number => Number(process.hrtime.bigint()) / 1e9;
const isDark = (client: FeedsClient): boolean =>
  client.messages.findLast(({ clearance }) => clearance)?.clearance?.state?.every((state) => state === UNKNOWN) ===
  true;
const codes = (client: FeedsClient): string[] =>
  client.messages.findLast(({ health }) => health)?.health?.findings?.map(({ code }) => code ?? '') ?? [];

describe.skipIf(!hasPty())('the line', () => {
  test('missing, there, silent, pulled, back', { timeout: 60_000 }, async () => {
    const link = join(mkdtempSync(join(tmpdir(), 'leeway-')), 'tty');
    const served = await serve(['--set', 'sensor.source=serial', '--set', `sensor.port=${link}`]);
    const client = await connect(Number(new URL(served.url).port), { protocols: ['leeway.v1.proto'] });
    client.subscribe(Feed.FEED_CLEARANCE, Feed.FEED_HEALTH);
    await until(() => codes(client).includes('PORT_MISSING'), 'the missing port is told');
    expect((await fetch(`${served.url}/healthz`)).status).toBe(200);
    const ready = await fetch(`${served.url}/readyz`);
    expect(ready.status).toBe(503);
    expect(((await ready.json()) as { code: string }).code).toBe('PORT_MISSING');

    let sensor = await openPtySensor(link);
    const begun = now();
    await until(() => sensor.received().includes(START), 'the start command');
    sensor.play(room(3));
    await until(
      () => !isDark(client) && client.messages.some(({ clearance }) => clearance),
      'leeway after the sensor came',
    );
    const took = { later: now() - begun, silence: NaN, pull: NaN, back: NaN };

    await until(() => sensor.written.length === (3 * RATE) / 10, 'the sensor has said all');
    await until(() => isDark(client), 'silence makes it dark');
    took.silence = now() - Number(sensor.written.at(-1)) / 1e9;

    sensor.play(room(30));
    await until(() => !isDark(client), 'leeway again');
    const pulled = now();
    void sensor.pull();
    await until(() => isDark(client), 'the pulled cable makes it dark');
    took.pull = now() - pulled;
    await until(
      () => codes(client).some((code) => code === 'PORT_LOST' || code === 'PORT_MISSING'),
      'the pulled cable is told',
    );
    expect(served.log.some(({ code }) => code === 'PORT_LOST')).toBe(true);

    sensor = await openPtySensor(link);
    const returned = now();
    await until(() => sensor.received().includes(START), 'the start command again');
    sensor.play(room(30));
    await until(() => !isDark(client), 'leeway after the return');
    took.back = now() - returned;
    client.socket.close();
    expect((await served.stop()).code).toBe(0);
    await sensor.pull();
    console.log(
      Object.entries(took)
        .map(([name, seconds]) => `${name} ${(seconds * 1000).toFixed(0)} ms`)
        .join(', '),
    );
    expect(took.silence).toBeLessThan(0.35);
    expect(took.pull).toBeLessThan(0.1);
    expect(took.back).toBeLessThan(1.4);
    expect(took.later).toBeLessThan(1.9); // the back-off is at its longest by then
  });

  test('held by another program: its name is told, and service begins when it lets go', {
    timeout: 60_000,
  }, async () => {
    const link = join(mkdtempSync(join(tmpdir(), 'leeway-')), 'tty');
    const sensor = await openPtySensor(link);
    // TIOCEXCL would refuse even root's second open only without CAP_SYS_ADMIN: hold the lock that serial programs take, flock(2)
    const holder = spawn(
      'python3',
      [
        '-c',
        `import fcntl,time\nf=open('${link}','rb+',buffering=0)\nfcntl.flock(f,fcntl.LOCK_EX)\nprint('held',flush=True)\ntime.sleep(60)`,
      ],
      { stdio: ['ignore', 'pipe', 'inherit'] },
    );
    await new Promise((resolve) => holder.stdout.once('data', resolve));
    const served = await serve(['--set', 'sensor.source=serial', '--set', `sensor.port=${link}`]);
    const client = await connect(Number(new URL(served.url).port), { protocols: ['leeway.v1.proto'] });
    client.subscribe(Feed.FEED_CLEARANCE, Feed.FEED_HEALTH);
    await until(() => codes(client).includes('PORT_BUSY'), 'the busy port is told');
    const finding = client.messages
      .findLast(({ health }) => health)
      ?.health?.findings?.find(({ code }) => code === 'PORT_BUSY');
    expect(finding?.what).toMatch(/held by .*python3.* \(process \d+\)/); // the holder, or the far end's own hand on it
    holder.kill('SIGKILL');
    await until(() => sensor.received().includes(START), 'the start command');
    sensor.play(room(10));
    await until(
      () => !isDark(client) && client.messages.some(({ clearance }) => clearance),
      'leeway once it has let go',
    );
    client.socket.close();
    await served.stop();
    await sensor.pull();
  });
});
