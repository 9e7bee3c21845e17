import { type ChildProcessByStdio, spawn } from 'node:child_process';
import { constants } from 'node:os';
import { createInterface } from 'node:readline';
import type { Readable, Writable } from 'node:stream';
import { fileURLToPath } from 'node:url';

const SCRIPT = fileURLToPath(new URL('./ptyTerminal.py', import.meta.url));

export interface TerminalEnd {
  /** Exit code; minus its number where a signal ended it. */
  readonly code: number;
  /** Whether the terminal's settings are what they were before. */
  readonly isSame: boolean;
}

/** A program at a terminal. */
export interface Terminal {
  /** All that was written so far, with its escape sequences. */
  output(): string;
  press(keys: string): void;
  resize(columns: number, rows: number): void;
  signal(name: NodeJS.Signals): void;
  /** Resolves with the s that passed until `pattern` was written after `from` characters of output; rejects after `patience` s. */
  until(pattern: RegExp, from?: number, patience?: number): Promise<number>;
  readonly ended: Promise<TerminalEnd>;
}

/** Runs `command` in a pseudo-terminal. See hasPty of ptyLine.ts. */
export function openTerminal(
  size: readonly [columns: number, rows: number],
  command: readonly string[],
  env: Readonly<Record<string, string>> = {},
): Terminal {
  const child: ChildProcessByStdio<Writable, Readable, null> = spawn(
    'python3',
    [SCRIPT, ...size.map(String), ...command],
    {
      stdio: ['pipe', 'pipe', 'inherit'],
      env: { ...process.env, NO_COLOR: '', TERM: 'xterm-256color', LC_ALL: 'C.UTF-8', ...env },
    },
  );
  let text = '';
  const looks = new Set<() => void>();
  const say = (message: object): void => void child.stdin.write(`${JSON.stringify(message)}\n`);
  child.stdin.on('error', () => {}); // the program may have ended: that is told by `ended`
  const ended = new Promise<TerminalEnd>((resolve, reject) => {
    child.on('error', reject);
    createInterface({ input: child.stdout })
      .on('line', (line) => {
        const message: { text?: string; code?: number; isSame?: boolean } = JSON.parse(line);
        text += message.text ?? '';
        for (const look of looks) look();
        if (message.code !== undefined) resolve({ code: message.code, isSame: message.isSame === true });
      })
      .on('close', () => reject(new Error(`the terminal closed without a word: ${text}`)));
  });
  ended.catch(() => {}); // told to whoever awaits it
  return {
    output: () => text,
    press: (keys) => say({ keys }),
    resize: (columns, rows) => say({ size: [columns, rows] }),
    signal: (name) => say({ signal: constants.signals[name] }),
    until: (pattern, from = 0, patience = 10) => {
      const began = performance.now();
      return new Promise((resolve, reject) => {
        const late = setTimeout(() => {
          looks.delete(look);
          reject(
            new Error(
              `${pattern} did not come within ${patience} s after: ${JSON.stringify(text.slice(from).slice(-2000))}`,
            ),
          );
        }, patience * 1000);
        const look = (): void => {
          if (!pattern.test(text.slice(from))) return;
          clearTimeout(late);
          looks.delete(look);
          resolve((performance.now() - began) / 1000);
        };
        looks.add(look);
        look();
      });
    },
    ended,
  };
}
