import { type ChildProcess, spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { createInterface } from 'node:readline';
import { onTestFinished } from 'vitest';

const MAIN = 'dist/main.js';
const PATIENCE_MS = 10_000; // far beyond what is asked of it: a busy machine must not fail a test that is about meaning

export interface Ended {
  readonly code: number | null;
  readonly signal: NodeJS.Signals | null;
  readonly stdout: string;
  readonly stderr: string;
}

function start(args: readonly string[]): ChildProcess {
  if (!existsSync(MAIN)) throw new Error(`${MAIN} is missing: npm run build makes it`);
  return spawn(process.execPath, [MAIN, ...args], { stdio: 'pipe', env: { ...process.env, NO_COLOR: '1' } });
}

/** @param isImpatient whether it must end by itself in time. */
function collect(child: ChildProcess, patienceMs?: number): Promise<Ended> {
  return new Promise((resolve, reject) => {
    const texts = { stdout: '', stderr: '' };
    for (const name of ['stdout', 'stderr'] as const) {
      child[name]?.setEncoding('utf8').on('data', (text: string) => {
        texts[name] += text;
      });
    }
    const late = patienceMs !== undefined ? setTimeout(() => child.kill('SIGKILL'), patienceMs) : undefined;
    child.on('error', reject);
    child.on('close', (code, signal) => {
      clearTimeout(late);
      resolve({ code, signal, ...texts });
    });
  });
}

/** Runs the built command line to its end. */
export function leeway(args: readonly string[], input: string | Uint8Array = ''): Promise<Ended> {
  const child = start(args);
  child.stdin?.on('error', () => {}); // it may end before it has read everything
  child.stdin?.end(input);
  return collect(child, PATIENCE_MS);
}

/** A command that talks with its user. */
export interface Dialogue {
  /** Resolves when standard error has said it, and forgets what was said up to there. */
  hear(what: RegExp): Promise<void>;
  /** Presses Enter. */
  enter(): void;
  /** Sends a signal. */
  kill(signal: NodeJS.Signals): void;
  readonly ended: Promise<Ended>;
}

/** Starts the built command line as somebody at a terminal would, but for the terminal. @param patience s, until it is ended. */
export function talk(args: readonly string[], patience: number): Dialogue {
  const child = start(args);
  let heard = '';
  let wake = (): void => {};
  child.stderr?.on('data', (text: Buffer) => {
    heard += text.toString();
    wake();
  });
  const ended = collect(child, patience * 1000);
  let isOver = false;
  void ended.then(() => {
    isOver = true;
    wake();
  });
  return {
    ended,
    enter: () => void child.stdin?.write('\n'),
    kill: (signal) => void child.kill(signal),
    hear: async (what) => {
      for (let found = what.exec(heard); ; found = what.exec(heard)) {
        if (found !== null) {
          heard = heard.slice(found.index + found[0].length);
          return;
        }
        if (isOver) throw new Error(`it ended without saying ${what}: ${(await ended).stderr}`);
        await new Promise<void>((resolve) => {
          wake = resolve;
        });
      }
    },
  };
}

export interface Served {
  readonly pid: number;
  readonly url: string;
  /** s, from the start of the process to the line that says `listening`. */
  readonly took: number;
  /** Every log line so far. */
  readonly log: readonly Readonly<Record<string, unknown>>[];
  /** Sends a signal and waits for the end. */
  stop(signal?: NodeJS.Signals): Promise<Ended>;
}

/** Starts the built daemon on a free port and waits until it listens. The caller stops it. */
export async function serve(args: readonly string[] = []): Promise<Served> {
  const began = performance.now();
  const child = start(['serve', '--set', 'server.port=0', ...args]);
  const ended = collect(child);
  onTestFinished(() => void child.kill('SIGKILL')); // a failed test must leave no daemon behind: it would take the next one's port
  const log: Record<string, unknown>[] = [];
  if (!child.stdout) throw new TypeError('no standard output');
  const lines = createInterface({ input: child.stdout });
  const url = await new Promise<string>((resolve, reject) => {
    lines.on('line', (line) => {
      const entry = JSON.parse(line) as Record<string, unknown>; // standard output holds JSON lines only
      log.push(entry);
      if (entry.msg === 'listening') resolve(String(entry.url));
    });
    ended.then(({ code, stderr }) => reject(new Error(`ended with ${code}: ${stderr}`)), reject);
  });
  const took = (performance.now() - began) / 1000;
  return {
    pid: child.pid ?? 0,
    url,
    took,
    log,
    stop: (signal = 'SIGTERM') => {
      child.kill(signal);
      const late = setTimeout(() => child.kill('SIGKILL'), PATIENCE_MS);
      return ended.finally(() => clearTimeout(late));
    },
  };
}
