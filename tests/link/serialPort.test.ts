import { spawn } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { systemClock } from '../../src/core/clock.js';
import { Fault } from '../../src/core/fault.js';
import { findLayout } from '../../src/device/layouts/builtIn.js';
import { type LinkEvent, openLink } from '../../src/device/link.js';
import { findHolder, owningGroup } from '../../src/device/portHolder.js';
import { openFault, SerialLine } from '../../src/device/serialPort.js';
import { hasPty, openPtyLine, type PtyLine } from '../support/ptyLine.js';
import { recordedRows, soundStream } from '../support/wire.js';

const clock = systemClock();
const folder = mkdtempSync(join(tmpdir(), 'leeway-pty-'));
const path = join(folder, 'line');
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const isPty = hasPty();
const sample5 = findLayout('sample5');
const ANSWER = Uint8Array.from([0xa5, 0x5a, 0x05, 0x00, 0x00, 0x40, 0x81]);
const silent = { bytes: () => {}, closed: () => {} };

/** Waits until `is` holds, at most 5 s: the only way to wait for another process. */
async function until(is: () => boolean, what: string): Promise<void> {
  const end = performance.now() + 5000;
  while (!is()) {
    if (performance.now() > end) throw new Error(`not within 5 s: ${what}`);
    await new Promise((resolve) => setTimeout(resolve, 2));
  }
}
const failure = (act: Promise<unknown>): Promise<Fault> =>
  act.then(
    () => Promise.reject(new Error('no fault')),
    (fault: Fault) => fault,
  );

test('a missing port', async () => {
  const fault = await failure(new SerialLine('/dev/ttyNone99', 115200, clock).open(silent));
  expect(fault).toBeInstanceOf(Fault);
  expect(fault.code).toBe('PORT_MISSING');
  expect(fault.message).toContain('/dev/ttyNone99');
});

test('something that is no serial port', async () => {
  const file = join(folder, 'file');
  writeFileSync(file, '');
  expect((await failure(new SerialLine(file, 115200, clock).open(silent))).code).toBe('PORT_OPEN_FAILED');
});

// The sentences of serialport 13 on Linux, its own words around strerror(3): measured here but for EACCES, whose text is POSIX's.
test.each([
  { text: 'Error: No such file or directory, cannot open /dev/null', code: 'PORT_MISSING' },
  { text: 'Error Resource temporarily unavailable Cannot lock port', code: 'PORT_BUSY' },
  { text: 'Error: Permission denied, cannot open /dev/null', code: 'PORT_NO_PERMISSION', names: 'usermod -aG root' },
  { text: 'Error: Input/output error, cannot open /dev/null', code: 'PORT_OPEN_FAILED', names: 'Input/output error' },
])('$code: $text', ({ text, code, names = '/dev/null' }) => {
  const fault = openFault('/dev/null', new Error(text));
  expect(fault.code).toBe(code);
  expect(fault.message).toContain(names);
});

test('the group that owns a device, by /etc/group', () => {
  expect(owningGroup('/dev/null')).toBe('root'); // gid 0 by the Linux Standard Base, users and groups
  expect(owningGroup('/dev/ttyNone99')).toBeUndefined();
});

describe.skipIf(!isPty)('on a pseudo-terminal', () => {
  test('bytes both ways, no lines, close asked for is no fault', async () => {
    const far = await openPtyLine(path);
    const port = new SerialLine(path, 115200, clock);
    const got: number[] = [];
    const closed: (Fault | undefined)[] = [];
    const before = clock.now();
    let at = 0;
    await port.open({
      bytes: (chunk, time) => {
        got.push(...chunk);
        at = time;
      },
      closed: (fault) => closed.push(fault),
    });
    expect(await port.setLines({ dtr: false, rts: false })).toBe(false);
    await port.write(Uint8Array.from([0xa5, 0x20]));
    await until(() => far.received() === 'a520', 'the command at the far end');
    far.send(ANSWER);
    await until(() => got.length === 7, 'the answer at the near end');
    expect(got).toEqual([...ANSWER]);
    expect(at).toBeGreaterThanOrEqual(before);
    expect(at).toBeLessThanOrEqual(clock.now());
    await port.close();
    await port.close();
    expect(closed).toEqual([undefined]);
    expect((await failure(port.write(ANSWER))).code).toBe('PORT_LOST');
    await far.pull();
  });

  test('a port that is held: by whom', async () => {
    const far = await openPtyLine(path);
    const first = new SerialLine(path, 115200, clock);
    await first.open(silent);
    expect((await failure(new SerialLine(path, 115200, clock).open(silent))).code).toBe('PORT_BUSY');
    expect(findHolder(path)).toBeUndefined(); // this process itself is not counted
    await first.close();

    const hold =
      'import fcntl,os,sys;f=os.open(sys.argv[1],os.O_RDWR|os.O_NOCTTY);fcntl.flock(f,fcntl.LOCK_EX);print(1,flush=True);sys.stdin.read()';
    const holder = spawn('python3', ['-c', hold, path], { stdio: ['pipe', 'pipe', 'inherit'] });
    const ended = new Promise((resolve) => holder.once('exit', resolve));
    await new Promise((resolve) => holder.stdout.once('data', resolve));
    const fault = await failure(new SerialLine(path, 115200, clock).open(silent));
    expect(fault.code).toBe('PORT_BUSY');
    expect(fault.facts).toMatchObject({ pid: holder.pid });
    expect(fault.message).toMatch(/is held by .*python3.*process \d+/);
    holder.stdin.end();
    await ended;
    await far.pull();
  });

  test('a pulled cable is told by itself, and the port opens again when it is back', async () => {
    let far = await openPtyLine(path);
    const port = new SerialLine(path, 115200, clock);
    let lost: Fault | undefined;
    await port.open({ bytes: () => {}, closed: (fault) => (lost = fault) });
    const pulled = performance.now();
    await far.pull();
    await until(() => lost !== undefined, 'the loss');
    console.log(`pulled to told, with the end of the far process: ${(performance.now() - pulled).toFixed(1)} ms`);
    expect(lost?.code).toBe('PORT_LOST');
    far = await openPtyLine(path);
    await port.open(silent);
    await port.close();
    await far.pull();
  });

  test('the link streams a recording, loses the cable, and streams again within 1 s of its return', {
    timeout: 20_000,
  }, async () => {
    const stream = soundStream(recordedRows('worlds/room400.ndjson.gz').rows, sample5, 60_000);
    const setting = {
      mount: { x: 0, y: 0, z: 0.15, yaw: 0, pitch: 0, roll: 0, upsideDown: false },
      reach: [0.15, 12] as const,
      range: { offset: 0, scale: 1 },
      masks: [],
    };
    const link = openLink(new SerialLine(path, 115200, clock), sample5, setting, clock);
    const seen: (LinkEvent & { at: number })[] = [];
    const subscription = link.events.subscribe((event) => seen.push({ ...event, at: performance.now() }));
    const phase = (): string =>
      seen.flatMap((event) => (event.kind === 'status' ? [event.status.phase] : [])).at(-1) ?? '';
    const isLost = (): boolean => phase() === 'lost';
    await until(isLost, 'a port that is missing');

    let far = await openPtyLine(path);
    let feeding = feed(() => far, stream);
    await until(() => phase() === 'streaming', 'streaming');
    await until(() => link.tally.samples > 1500, 'samples');
    const status = seen.flatMap((event) => (event.kind === 'status' ? [event.status] : [])).at(-1);
    expect(status?.findings.map((fault) => fault.code)).toEqual(['PORT_LINES_ABSENT']);
    expect(link.tally.takenBytes + link.tally.skippedBytes).toBeGreaterThan(link.tally.receivedBytes - 60);

    feeding.stop();
    await far.pull();
    await until(isLost, 'the loss');
    far = await openPtyLine(path);
    const back = performance.now();
    feeding = feed(() => far, stream);
    await until(() => phase() === 'streaming', 'streaming again');
    console.log(`back to streaming: ${(performance.now() - back).toFixed(0)} ms`);
    expect(performance.now() - back).toBeLessThan(1000);
    expect(link.tally.reopened).toBe(1);

    subscription.unsubscribe();
    await link.closed();
    await until(() => far.received().endsWith('a525'), 'the stop command');
    feeding.stop();
    await far.pull();
  });
});

/** The sensor: answers start, then sends 2000 samples/s in pieces of 5 ms. */
function feed(far: () => PtyLine, stream: Uint8Array): { stop: () => void } {
  let sent = 0;
  let began = NaN;
  const timer = setInterval(() => {
    if (!far().received().endsWith('a520')) return;
    if (Number.isNaN(began)) {
      began = performance.now();
      far().send(ANSWER);
    }
    const due = Math.min(stream.length, Math.floor(((performance.now() - began) / 1000) * 2000) * 5);
    if (due > sent) far().send(stream.subarray(sent, due));
    sent = due;
  }, 5);
  return { stop: () => clearInterval(timer) };
}
