import { emitKeypressEvents, type Key } from 'node:readline';
import ansiEscapes from 'ansi-escapes';
import { createLogUpdate } from 'log-update';

const BACK_MS = 50; // the stop comes first

/** What the terminal calls back. */
export interface Handlers {
  /** A key: the character, or the name where it has none; `ctrl-c` with Ctrl. */
  readonly key: (name: string) => void;
  /** The terminal has another size, or has been given back after Ctrl-Z. */
  readonly resize: () => void;
  /** The terminal is gone. */
  readonly gone: () => void;
}

/**
 * The terminal while something is shown on it: another page of it, no cursor, keys one by one. What stood there before comes back
 * with {@link leave}, however the process ends.
 */
export class Screen {
  readonly #update = createLogUpdate(process.stdout, { showCursor: true }); // its own way of hiding goes to standard error
  readonly #handlers: Handlers;
  readonly #hasKeys = process.stdin.isTTY === true;
  #isShown = false;
  #isLeft = false;

  constructor(handlers: Handlers) {
    this.#handlers = handlers;
    if (this.#hasKeys) {
      emitKeypressEvents(process.stdin);
      process.stdin.on('keypress', this.#press);
      process.stdin.on('error', handlers.gone).on('end', handlers.gone);
    }
    process.stdout.on('error', handlers.gone).on('resize', this.#resize);
    process.on('exit', this.#hide);
    this.#enter();
  }

  get columns(): number {
    return process.stdout.columns ?? 80;
  }
  /** Lines that can be drawn: the library keeps one for the cursor. */
  get rows(): number {
    return (process.stdout.rows ?? 24) - 1;
  }

  /** Shows these lines. @returns false where the terminal is still busy with the last ones: they are left out. */
  draw(lines: readonly string[]): boolean {
    if (!this.#isShown || process.stdout.writableNeedDrain) return false;
    this.#update(lines.join('\n'));
    return true;
  }

  /** Gives the terminal back. */
  leave(): void {
    this.#isLeft = true;
    this.#hide();
    process.off('exit', this.#hide);
    process.stdout.off('resize', this.#resize);
    process.stdin.off('keypress', this.#press);
    process.stdin.pause();
  }

  readonly #enter = (): void => {
    if (this.#isLeft) return;
    if (this.#hasKeys) process.stdin.setRawMode(true).resume();
    if (!this.#isShown) process.stdout.write(ansiEscapes.enterAlternativeScreen + ansiEscapes.cursorHide);
    this.#isShown = true;
    this.#resize();
  };

  readonly #hide = (): void => {
    if (!this.#isShown) return;
    this.#isShown = false;
    this.#update.done();
    process.stdout.write(ansiEscapes.cursorShow + ansiEscapes.exitAlternativeScreen);
    if (this.#hasKeys) process.stdin.setRawMode(false);
  };

  readonly #resize = (): void => {
    this.#update.done(); // what it knows of the screen is no longer so
    process.stdout.write(ansiEscapes.clearViewport);
    this.#handlers.resize();
  };

  readonly #press = (text: string | undefined, key: Key): void => {
    if (key.ctrl && key.name === 'z') {
      this.#hide();
      process.kill(process.pid, 'SIGTSTP');
      setTimeout(this.#enter, BACK_MS); // runs when it goes on, or where nothing could stop it: no shell above it, as by `ssh HOST leeway watch`
    } else this.#handlers.key(key.ctrl ? `ctrl-${key.name}` : (text ?? key.name ?? ''));
  };
}

/** @returns whether the locale and the terminal can show more than ASCII. @source POSIX.1-2024, XBD 8.2: LC_ALL goes before LC_CTYPE before LANG. */
export function isUnicode(env: Readonly<Record<string, string | undefined>>): boolean {
  const locale = env.LC_ALL || env.LC_CTYPE || env.LANG || '';
  return /utf-?8/i.test(locale) && env.TERM !== 'linux'; // the console's font has no braille
}
