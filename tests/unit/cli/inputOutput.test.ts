import {
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { addressHolder, listenersIn } from '../../../src/cli/addressHolder.js';
import { inputLines } from '../../../src/cli/inputLines.js';
import { openOutput } from '../../../src/cli/output.js';

let folder = '';
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'leeway-cli-'));
});
afterEach(() => rmSync(folder, { recursive: true }));

async function linesOf(bytes: Uint8Array | string): Promise<[number, string][]> {
  const path = join(folder, 'input');
  writeFileSync(path, bytes);
  const lines: [number, string][] = [];
  for await (const { number, text } of inputLines(path)) lines.push([number, text]);
  return lines;
}

describe('input lines', () => {
  test('with and without a last newline; blank ones count but are left out', async () => {
    expect(await linesOf('a\n\nb\r\n  \nc')).toEqual([
      [1, 'a'],
      [3, 'b\r'],
      [5, 'c'],
    ]);
    expect(await linesOf('a\n')).toEqual([[1, 'a']]);
    expect(await linesOf('')).toEqual([]);
    expect(await linesOf('x')).toEqual([[1, 'x']]);
  });
  test('longer than a chunk, and out of gzip, also of two members', async () => {
    const text = `${'ä'.repeat(300_000)}\n${'b'.repeat(100_000)}\n`;
    const plain = await linesOf(text);
    expect(plain.map(([, line]) => line.length)).toEqual([300_000, 100_000]);
    expect(await linesOf(gzipSync(text))).toEqual(plain);
    expect(await linesOf(Buffer.concat([gzipSync('a\nb'), gzipSync('c\n')]))).toEqual([
      [1, 'a'],
      [2, 'bc'],
    ]);
  });
  test('a cut or damaged gzip, a missing file and a folder cannot be read', async () => {
    const packed = gzipSync(Buffer.from(Array.from({ length: 50_000 }, (_, i) => 32 + (((i * i * 7919) % 8191) % 95))));
    await expect(linesOf(packed.subarray(0, packed.length - 20))).rejects.toMatchObject({ code: 'INPUT_UNREADABLE' });
    packed.fill(0xff, 100, 200);
    await expect(linesOf(packed)).rejects.toMatchObject({ code: 'INPUT_UNREADABLE' });
    await expect(inputLines(join(folder, 'none')).next()).rejects.toMatchObject({ code: 'INPUT_UNREADABLE' });
    await expect(inputLines(folder).next()).rejects.toMatchObject({ code: 'INPUT_UNREADABLE' });
  });
  test('bytes that are not UTF-8, and a line that never ends, are bad lines', async () => {
    await expect(linesOf(Uint8Array.of(0x61, 0x0a, 0xff, 0x0a))).rejects.toMatchObject({
      code: 'INPUT_LINE_BAD',
      facts: { line: 2 },
    });
    await expect(linesOf(new Uint8Array(17 * 1024 * 1024).fill(0x20))).rejects.toMatchObject({
      code: 'INPUT_LINE_BAD',
      facts: { line: 1 },
    });
  });
});

describe('an output file', () => {
  test('appears whole at the end, over an older one', async () => {
    const path = join(folder, 'out');
    writeFileSync(path, 'older');
    const output = openOutput(path);
    expect(await output.write('a')).toBe(true);
    expect(readFileSync(path, 'utf8')).toBe('older');
    await output.write('b');
    await output.finish();
    expect(readFileSync(path, 'utf8')).toBe('a\nb\n');
    expect(readdirSync(folder)).toEqual(['out']);
  });
  test('abandoned leaves what was there, and nothing else', async () => {
    const path = join(folder, 'out');
    const fresh = openOutput(path);
    await fresh.write('x'.repeat(1_000_000));
    await fresh.abandon();
    expect(readdirSync(folder)).toEqual([]);
    writeFileSync(path, 'older');
    const over = openOutput(path);
    await over.write('a');
    await over.abandon();
    expect(readFileSync(path, 'utf8')).toBe('older');
    expect(readdirSync(folder)).toEqual(['out']);
  });
  test('behind a link replaces what the link points to', async () => {
    writeFileSync(join(folder, 'target'), '');
    symlinkSync(join(folder, 'target'), join(folder, 'link'));
    const output = openOutput(join(folder, 'link'));
    await output.write('a');
    await output.finish();
    expect(readFileSync(join(folder, 'target'), 'utf8')).toBe('a\n');
    expect(readdirSync(folder).sort()).toEqual(['link', 'target']);
  });
  test('that is a device is written to and stays one', async () => {
    const output = openOutput('/dev/null');
    expect(await output.write('a')).toBe(true);
    await output.finish();
    expect(statSync('/dev/null').isCharacterDevice()).toBe(true);
  });
  test('on a full device cannot be written', async () => {
    const output = openOutput('/dev/full'); // full(4): every write fails with ENOSPC
    const write = async (): Promise<void> => {
      for (let i = 0; i < 10; i++) await output.write('x'.repeat(100_000));
      await output.finish();
    };
    await expect(write()).rejects.toMatchObject({ code: 'OUTPUT_UNWRITABLE' });
  });
  test('in a folder that is not there, or where a folder is, cannot be written', async () => {
    const lost = openOutput(join(folder, 'no', 'out'));
    const write = async (): Promise<void> => {
      await lost.write('a');
      await lost.finish();
    };
    await expect(write()).rejects.toMatchObject({ code: 'OUTPUT_UNWRITABLE' });
    await lost.abandon();
    mkdirSync(join(folder, 'sub'));
    const taken = openOutput(join(folder, 'sub'));
    const writeOver = async (): Promise<void> => {
      await taken.write('a');
      await taken.finish();
    };
    await expect(writeOver()).rejects.toMatchObject({ code: 'OUTPUT_UNWRITABLE' });
    await taken.abandon();
    expect(readdirSync(folder)).toEqual(['sub']);
  });
});

describe('who listens on a port', () => {
  // The columns as proc_pid_net(5) gives them: 14DB is 5339, 0A LISTEN, 01 ESTABLISHED.
  test('is found in the table of /proc', () => {
    const table = `  sl  local_address rem_address   st tx_queue rx_queue tr tm->when retrnsmt   uid  timeout inode
   0: 0100007F:14DB 00000000:0000 0A 00000000:00000000 00:00000000 00000000     0        0 11111 1 0000000000000000 100 0 0 10 0
   1: 0100007F:14DB 0100007F:9C40 01 00000000:00000000 00:00000000 00000000     0        0 22222 1 0000000000000000 20 4 30 10 -1
   2: 00000000000000000000000001000000:14DB 00000000000000000000000000000000:0000 0A 00000000:00000000 00:00000000 00000000     0        0 33333 1
   3: 0100007F:14DC 00000000:0000 0A 00000000:00000000 00:00000000 00000000     0        0 44444 1 0000000000000000 100 0 0 10 0
`;
    expect(listenersIn(table, 5339)).toEqual(['11111', '33333']);
  });
  test('is this process where it does', async () => {
    const server = createServer();
    await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
    const address = server.address();
    if (address === null || typeof address === 'string') throw new TypeError('no port');
    expect(addressHolder(address.port)).toContain(`(process ${process.pid})`);
    await new Promise((resolve) => server.close(resolve));
    expect(addressHolder(address.port)).toBeUndefined();
  });
});
