// `leeway watch` as its user meets it: at a terminal and in a pipe, against the built daemon on its simulated source.
import { spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, onTestFinished, test } from 'vitest';
import { leeway, type Served, serve } from '../support/leeway.js';
import { hasPty } from '../support/ptyLine.js';
import { openTerminal, type Terminal } from '../support/ptyTerminal.js';

const ESC = '\u001b';
/** xterm's control sequences, "CSI ? Pm h" and "l": 1049 the other screen, 25 the cursor. */
const ENTERS = `${ESC}[?1049h`;
const LEAVES = `${ESC}[?1049l`;
const SHOWS_CURSOR = `${ESC}[?25h`;
const TOLD_WITHIN = 0.5; // s
const STOPS_WITHIN = 2; // s, the contract

const folder = mkdtempSync(join(tmpdir(), 'leeway-watch-'));
afterAll(() => rmSync(folder, { recursive: true }));

function watchAt(url: string, env: Record<string, string> = {}, size: [number, number] = [80, 24]): Terminal {
  const terminal = openTerminal(size, [process.execPath, 'dist/main.js', 'watch', '--url', url], env);
  onTestFinished(async () => {
    terminal.signal('SIGKILL');
    await terminal.ended;
  });
  return terminal;
}

/** s from `act` to the end, which must leave the terminal as it was found. */
async function expectEnd(terminal: Terminal, act: () => void): Promise<number> {
  const began = performance.now();
  act();
  expect(await terminal.ended).toEqual({ code: 0, isSame: true });
  const output = terminal.output();
  expect(output.lastIndexOf(LEAVES)).toBeGreaterThan(output.lastIndexOf(ENTERS));
  expect(output.lastIndexOf(SHOWS_CURSOR)).toBeGreaterThan(output.lastIndexOf(`${ESC}[?25l`));
  return (performance.now() - began) / 1000;
}

describe.skipIf(!hasPty())('at a terminal', () => {
  test('shows the rover, takes keys, gives the terminal back with q', async () => {
    const terminal = watchAt((await serve()).url);
    await terminal.until(/SENSES SOUND/);
    expect(terminal.output()).toContain(ENTERS);
    await terminal.until(/revolutions\/s[\s\S]*├─+┤ [12] m/); // the room, of some metres, fits

    let from = terminal.output().length;
    terminal.press('+'.repeat(12));
    await terminal.until(/├─+┤ 0\.5 m/, from);
    from = terminal.output().length;
    terminal.press('-'.repeat(12));
    await terminal.until(/├─+┤ 10 m/, from);
    from = terminal.output().length;
    terminal.press('0');
    await terminal.until(/├─+┤ [12] m/, from);

    from = terminal.output().length;
    terminal.press(' ');
    await terminal.until(/FROZEN at \d\d:\d\d:\d\d, not live[\s\S]*go on/, from);
    from = terminal.output().length;
    terminal.press(' ');
    await terminal.until(/SENSES SOUND.*since/, from);

    from = terminal.output().length;
    terminal.press('?');
    await terminal.until(/fit by itself/, from);

    from = terminal.output().length;
    terminal.resize(120, 40);
    await terminal.until(/127\.0\.0\.1:\d+/, from);

    expect(await expectEnd(terminal, () => terminal.press('q'))).toBeLessThan(STOPS_WITHIN);
  });

  test.each<[string, (terminal: Terminal) => void]>([
    ['Ctrl-C', (terminal) => terminal.press('\u0003')],
    ['SIGTERM', (terminal) => terminal.signal('SIGTERM')],
    ['SIGHUP', (terminal) => terminal.signal('SIGHUP')],
  ])('%s ends it cleanly', async (_, act) => {
    const terminal = watchAt((await serve()).url);
    await terminal.until(/SENSES SOUND/);
    expect(await expectEnd(terminal, () => act(terminal))).toBeLessThan(STOPS_WITHIN);
  });

  test('Ctrl-Z gives the terminal back, and it goes on where no shell stands above', async () => {
    const terminal = watchAt((await serve()).url);
    await terminal.until(/SENSES SOUND/);
    const from = terminal.output().length;
    terminal.press('\u001a');
    await terminal.until(/\?1049l[\s\S]*\?1049h[\s\S]*SENSES SOUND/, from);
    await expectEnd(terminal, () => terminal.press('q'));
  });

  test('NO_COLOR and a C locale: no colour, ASCII alone', async () => {
    const terminal = watchAt((await serve()).url, { NO_COLOR: '1', LC_ALL: 'C' });
    await terminal.until(/SENSES SOUND[\s\S]*revolutions/);
    await expectEnd(terminal, () => terminal.press('q'));
    const output = terminal.output();
    expect(output).not.toMatch(new RegExp(`${ESC}\\[(?:3\\d|4\\d|9\\d)`)); // ECMA-48, 8.3.117
    expect(output.replaceAll(ESC, '')).toMatch(/^[ -~\r\n\t]*$/);
    expect(output).toContain('////');
  });

  test('TERM=dumb: plain lines', async () => {
    const terminal = watchAt((await serve()).url, { TERM: 'dumb' });
    await terminal.until(/\d\d:\d\d:\d\d SENSES SOUND: .*ahead/);
    terminal.signal('SIGINT');
    expect(await terminal.ended).toEqual({ code: 0, isSame: true });
    expect(terminal.output()).not.toContain(ESC);
  });
});

describe.skipIf(!hasPty())('a daemon that goes', () => {
  test('killed: told within 0.5 s, nothing vouched for, and seen again when it is back', async () => {
    const gone = await serve();
    const terminal = watchAt(gone.url);
    await terminal.until(/SENSES SOUND/);
    const from = terminal.output().length;
    const told = terminal.until(/CONNECTION LOST[\s\S]*nothing is vouched for/, from);
    void gone.stop('SIGKILL');
    const took = await told;
    console.log(`a killed daemon was told after ${Math.round(took * 1000)} ms`);
    expect(took).toBeLessThan(TOLD_WITHIN);
    const back = terminal.output().length;
    await serve(['--set', `server.port=${new URL(gone.url).port}`]);
    await terminal.until(/SENSES SOUND/, back);
    await expectEnd(terminal, () => terminal.press('q'));
  });

  test('silent: told within 0.5 s, and q ends in time', async () => {
    const hung = await serve();
    const terminal = watchAt(hung.url);
    await terminal.until(/SENSES SOUND/);
    const from = terminal.output().length;
    const told = terminal.until(/STALE[\s\S]*nothing is vouched for/, from);
    process.kill(hung.pid, 'SIGSTOP');
    const took = await told;
    console.log(`a silent daemon was told after ${Math.round(took * 1000)} ms`);
    expect(took).toBeLessThan(TOLD_WITHIN);
    expect(await expectEnd(terminal, () => terminal.press('q'))).toBeLessThan(STOPS_WITHIN);
  });

  test('not there yet: says so and waits', async () => {
    const terminal = watchAt('127.0.0.1:9'); // RFC 863's port: nobody listens on loopback
    await terminal.until(/NO CONNECTION to 127\.0\.0\.1:9[\s\S]*nothing is vouched for/);
    await expectEnd(terminal, () => terminal.press('q'));
  });
});

/** Runs watch with its output in a pipe and ends it after `lines` lines. */
function piped(
  args: string[],
  lines: number,
  env: Record<string, string> = {},
): Promise<{ code: number | null; stdout: string; took: number }> {
  const began = performance.now();
  const child = spawn(process.execPath, ['dist/main.js', 'watch', ...args], { env: { ...process.env, ...env } });
  let stdout = '';
  child.stdout.setEncoding('utf8').on('data', (text: string) => {
    stdout += text;
    if (stdout.split('\n').length > lines) child.kill('SIGTERM');
  });
  return new Promise((resolve) =>
    child.on('close', (code) => resolve({ code, stdout, took: (performance.now() - began) / 1000 })),
  );
}

describe('in a pipe', () => {
  test('a line a second, without escape sequences', async () => {
    const { code, stdout, took } = await piped(['--url', (await serve()).url], 5);
    expect(code).toBe(0);
    expect(stdout).not.toContain(ESC);
    // the first may say that the sensor starts
    for (const line of stdout.trimEnd().split('\n').slice(2)) {
      expect(line).toMatch(/^\d\d:\d\d:\d\d SENSES SOUND: .*ahead .*nearest .*spin [\d.]+\/s, \d+ echoes\/s/);
    }
    expect(took).toBeGreaterThan(2);
    expect(took).toBeLessThan(6);
  });

  test('a reader that leaves ends it', async () => {
    const daemon = await serve();
    const child = spawn('sh', ['-c', '"$0" dist/main.js watch --url "$1" | head -1', process.execPath, daemon.url]);
    expect(await new Promise((resolve) => child.on('close', resolve))).toBe(0);
  });
});

test('--help: a token never stands on the command line', async () => {
  const { code, stdout } = await leeway(['watch', '--help']);
  expect(code).toBe(0);
  expect(stdout).toContain('--token-file <file>');
  expect(stdout).toContain('LEEWAY_TOKEN');
  expect(stdout).not.toMatch(/--token[ =]/);
});

describe('tokens', () => {
  const token = 'a-token-of-this-test-alone';
  const file = join(folder, 'token');
  const LET_IN = /^\d\d:\d\d:\d\d (?:SENSES SOUND|BLIND):/; // blind while the sensor starts
  const config = join(folder, 'guarded.yaml');
  writeFileSync(file, `${token}\n`, { mode: 0o600 });
  writeFileSync(
    config,
    `server:\n  tokens: [{ role: watch, sha256: ${createHash('sha256').update(token).digest('hex')} }]\n`,
  );
  const guarded = (): Promise<Served> => serve(['--config', config]);

  test('from a file', async () => {
    expect((await piped(['--url', (await guarded()).url, '--token-file', file], 1)).stdout).toMatch(LET_IN);
  });
  test('from the environment', async () => {
    expect((await piped(['--url', (await guarded()).url], 1, { LEEWAY_TOKEN: token })).stdout).toMatch(LET_IN);
  });
  test.each([
    ['none', [], 'TOKEN_WRONG', 'none given'],
    ['an unreadable file', ['--token-file', join(folder, 'absent')], 'TOKEN_FILE_UNREADABLE', 'absent'],
    ['a file with more in it', ['--token-file', 'package.json'], 'TOKEN_FILE_UNREADABLE', 'one token alone'],
  ])('%s', async (_, args, code, fact) => {
    const ended = await leeway(['watch', '--url', (await guarded()).url, ...args]);
    expect(ended.code).toBe(1);
    expect(ended.stderr).toContain(`[${code}]. Do: `);
    expect(ended.stderr).toContain(fact);
    expect(ended.stderr).not.toContain(token);
  });
  test.each([['http://'], ['ftp://rover'], ['http://a b']])('no address: %s', async (url) => {
    const ended = await leeway(['watch', '--url', url]);
    expect(ended.code).toBe(2);
    expect(ended.stderr).toContain('[USAGE_WRONG]');
  });
});
