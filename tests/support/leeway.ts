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
function collect(child: ChildProcess, isImpatient: boolean): Promise<Ended> {
  return new Promise((resolve, reject) => {
    const texts = { stdout: '', stderr: '' };
    for (const name of ['stdout', 'stderr'] as const) {
      child[name]?.setEncoding('utf8').on('data', (text: string) => {
        texts[name] += text;
      });
    }
    const late = isImpatient ? setTimeout(() => child.kill('SIGKILL'), PATIENCE_MS) : undefined;
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
  return collect(child, true);
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
  const ended = collect(child, false);
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
