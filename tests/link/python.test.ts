// clients/python against the daemon, and against the TypeScript client on the messages that every client must read.
import { spawn, spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, onTestFinished, test } from 'vitest';
import { leewayTowards, readServerMessage } from '../../clients/typescript/src/client.js';
import { serve } from '../support/leeway.js';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));
const CLIENT = join(ROOT, 'clients/python');
const PYTHON = '/usr/bin/python3'; // Debian's own: another python3 earlier on PATH does not see Debian's modules
const golden = (name: string): string => join(ROOT, `clients/golden/${name}.bin`);

function whyNot(): string | undefined {
  for (const [name, module] of [
    ['protobuf', 'google.protobuf'],
    ['websockets', 'websockets'],
  ]) {
    if (spawnSync(PYTHON, ['-c', `import ${module}`]).status !== 0)
      return `${PYTHON} has no ${name} (apt-get install python3-${name})`;
  }
  return spawnSync('protoc', ['--version']).status === 0
    ? undefined
    : 'there is no protoc (apt-get install protobuf-compiler)';
}
const why = whyNot();
if (why !== undefined) console.warn(`SKIPPED: the Python client does not run here: ${why}`);

describe.skipIf(why !== undefined)('the Python client', () => {
  const folder = mkdtempSync(join(tmpdir(), 'leeway-python-client-'));
  beforeAll(() => {
    const protos = readdirSync(join(ROOT, 'proto/leeway/v1')).map((name) => `leeway/v1/${name}`);
    const { status, stderr } = spawnSync('protoc', ['-I', join(ROOT, 'proto'), `--python_out=${folder}`, ...protos]);
    expect(`${status} ${stderr}`).toBe('0 ');
  });
  afterAll(() => rmSync(folder, { recursive: true }));

  function ask(task: object): { unheard: number[]; rows: number[][]; rover: string } {
    const made = spawnSync(PYTHON, ['-B', join(ROOT, 'tests/support/pythonClient.py'), CLIENT, folder], {
      input: JSON.stringify({
        golden: [golden('hello'), golden('clearance')],
        waits: [0],
        bearings: [0],
        speed: 0,
        ...task,
      }),
      encoding: 'utf8',
    });
    expect(made.stderr).toBe('');
    return JSON.parse(made.stdout);
  }

  test('means the same as the TypeScript client by the messages that every client must read', () => {
    const bearings = Array.from({ length: 90 }, (_, i) => (i * Math.PI) / 45 - Math.PI);
    const { hello } = readServerMessage(readFileSync(golden('hello')));
    const { clearance } = readServerMessage(readFileSync(golden('clearance')));
    if (hello === undefined || clearance === undefined) throw new TypeError('the golden messages hold neither');
    const expected = bearings.map((bearing) => leewayTowards(bearing, clearance, hello.outlineM, hello.reachM[1]));
    const { rows, rover, unheard } = ask({ bearings });
    expect(rover).toBe('supply cart 2');
    expect(Math.max(...expected)).toBeGreaterThan(0);
    expect(Math.min(...expected)).toBe(0);
    for (const [i, leeway] of rows[0].entries()) expect(leeway).toBeCloseTo(expected[i], 6);
    expect(new Set(unheard)).toEqual(new Set([0])); // before the first message
  });

  test('holds for 0.2 s by its own clock; the way gone meanwhile is taken off', () => {
    // Ahead the outline sweeps sectors 0, 1 and 7 of the golden clearance (-0.125 rad, eighths of a turn): 0.0625 m is the least.
    const { rows } = ask({ waits: [0, 0.05, 0.19, 0.21, 5], speed: 0.25 });
    expect(rows.map(([leeway]) => Math.round(leeway * 1e4) / 1e4)).toEqual([0.0625, 0.05, 0.015, 0, 0]);
  });

  test('follows a daemon, and vouches for nothing once it is silent', async () => {
    const daemon = await serve();
    const child = spawn(PYTHON, ['-B', 'example.py', daemon.url], {
      cwd: CLIENT,
      env: { ...process.env, PYTHONPATH: folder },
    });
    onTestFinished(() => void child.kill());
    const lines: { readonly at: number; readonly text: string }[] = [];
    const looks = new Set<() => void>();
    createInterface({ input: child.stdout }).on('line', (text) => {
      lines.push({ at: performance.now() / 1000, text });
      for (const look of looks) look();
    });
    const next = (pattern: RegExp): Promise<number> =>
      new Promise((resolve) => {
        const look = (): void => {
          const last = lines.at(-1);
          if (last === undefined || !pattern.test(last.text)) return;
          looks.delete(look);
          resolve(last.at);
        };
        looks.add(look);
      });
    await next(/live leeway (?!0\.000)\d\.\d+ m, speed (?!0\.000)0\.\d+ m\/s/);
    const began = performance.now() / 1000;
    process.kill(daemon.pid, 'SIGSTOP');
    const took = (await next(/stale leeway 0\.000 m, speed 0\.000 m\/s/)) - began;
    console.log(`the Python client stood after ${Math.round(took * 1000)} ms of silence`);
    expect(took).toBeLessThan(0.4); // 0.2 s, its own 50 ms, and a busy machine
  });
});
