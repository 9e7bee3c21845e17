import { type ChildProcessByStdio, spawn } from 'node:child_process';
import { createInterface } from 'node:readline';
import type { Readable, Writable } from 'node:stream';
import { fileURLToPath } from 'node:url';
import { onTestFinished } from 'vitest';

const SCRIPT = fileURLToPath(new URL('./ptySensor.py', import.meta.url));

/** Bytes and when they go out. */
export interface Timed {
  /** s after the first of all went out. */
  readonly at: number;
  readonly bytes: Readonly<Uint8Array>;
}

/** A sensor at the far end of a pseudo-terminal that keeps its own time, in a process of its own. */
export interface PtySensor {
  /** What the near end has written so far, hexadecimal. */
  received(): string;
  /** ns of CLOCK_MONOTONIC (process.hrtime) at which each record was written, in order. */
  readonly written: readonly bigint[];
  play(records: Iterable<Timed>): void;
  /** Pulls the cable. */
  pull(): Promise<void>;
}

/** @param link path under which the terminal is found. */
export async function openPtySensor(link: string): Promise<PtySensor> {
  const child: ChildProcessByStdio<Writable, Readable, null> = spawn('python3', [SCRIPT, link], {
    stdio: ['pipe', 'pipe', 'inherit'],
  });
  onTestFinished(() => void child.kill('SIGKILL'));
  const written: bigint[] = [];
  let received = '';
  const ended = new Promise<void>((resolve) => child.once('exit', () => resolve()));
  child.stdin.on('error', () => {}); // killed while it was being told
  await new Promise<void>((resolve, reject) => {
    child.once('exit', (code) => reject(new Error(`the pseudo-terminal did not open: ${code}`)));
    createInterface({ input: child.stdout }).on('line', (line) => {
      const [kind, first, second] = line.split(' ');
      if (kind === 'ready') resolve();
      else if (kind === 'w') written.push(BigInt(second));
      else if (kind === 'r') received += first;
    });
  });
  return {
    received: () => received,
    written,
    play: (records) => {
      const parts: Uint8Array[] = [];
      for (const { at, bytes } of records) {
        const head = Buffer.alloc(12);
        head.writeDoubleLE(at, 0);
        head.writeUInt32LE(bytes.length, 8);
        parts.push(head, Uint8Array.from(bytes));
      }
      child.stdin.write(Buffer.concat(parts)); // in one piece: many small ones take seconds
    },
    pull: () => {
      child.kill('SIGKILL');
      return ended;
    },
  };
}
