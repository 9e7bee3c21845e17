import { type ChildProcessByStdio, spawn, spawnSync } from 'node:child_process';
import type { Readable, Writable } from 'node:stream';
import { fileURLToPath } from 'node:url';

const SCRIPT = fileURLToPath(new URL('./ptyLine.py', import.meta.url));

/** @returns whether this machine can make a pseudo-terminal for a test; says plainly when not. */
export function hasPty(): boolean {
  const isThere = process.platform === 'linux' && spawnSync('python3', ['-c', 'import pty']).status === 0;
  if (!isThere) console.warn('SKIPPED: no python3 with pty here; the checks against a pseudo-terminal do not run.');
  return isThere;
}

/** The far end of a serial line: what a sensor would be. */
export interface PtyLine {
  /** What the near end has written so far, hexadecimal. */
  received(): string;
  /** bit/s, as the near end has set it last; NaN where this system does not tell. */
  baud(): number;
  send(bytes: Readonly<Uint8Array>): void;
  /** Pulls the cable: the terminal is gone. Resolves when it is. */
  pull(): Promise<void>;
}

/** @param link path under which the terminal is found, until it is pulled. */
export async function openPtyLine(link: string): Promise<PtyLine> {
  const child: ChildProcessByStdio<Writable, Readable, null> = spawn('python3', [SCRIPT, link], {
    stdio: ['pipe', 'pipe', 'inherit'],
  });
  let text = '';
  let received = '';
  let baud = NaN;
  const ended = new Promise<void>((resolve) => child.once('exit', () => resolve()));
  await new Promise<void>((resolve, reject) => {
    child.once('exit', () => reject(new Error(`the pseudo-terminal did not open: ${text}`)));
    let isOpen = false;
    child.stdout.setEncoding('utf8').on('data', (part: string) => {
      text += part;
      const lines = text.split('\n');
      text = lines.pop() ?? ''; // the line that is not whole yet
      for (const line of lines) {
        if (line.startsWith('baud ')) baud = Number(line.slice('baud '.length));
        else if (line.startsWith('open ')) isOpen = true;
        else received += line;
      }
      if (isOpen) resolve();
    });
  });
  return {
    received: () => received,
    baud: () => baud,
    send: (bytes) => void child.stdin.write(bytes),
    pull: () => {
      child.stdin.end();
      return ended;
    },
  };
}
