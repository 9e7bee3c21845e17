import { createInterface, type Interface } from 'node:readline';

/**
 * Leads a person through steps: one plain sentence a line on standard error, Enter when it is done. Nothing moves, nothing is
 * drawn, so a screen reader can follow. Where standard input is no terminal each of its lines is an Enter; at its end, and
 * with `isYes`, nobody is waited for.
 */
export class Guide {
  readonly #isYes: boolean;
  readonly #steps: number;
  readonly #lines: string[] = [];
  #input: Interface | undefined;
  #isEnded = false;
  #wake = (): void => {};
  #step = 0;

  /** @param steps how many there will be. */
  constructor(steps: number, isYes: boolean) {
    this.#steps = steps;
    this.#isYes = isYes;
  }

  /** Tells what to do and waits until it is done. */
  async step(text: string): Promise<void> {
    this.#step++;
    this.say(`Step ${this.#step} of ${this.#steps}. ${text}${this.#isYes ? '' : ' Then press Enter.'}`);
    if (!this.#isYes) await this.#enter();
  }

  /** Tells something that needs no answer. */
  say(text: string): void {
    process.stderr.write(`${text}\n`);
  }

  close(): void {
    this.#input?.close();
  }

  async #enter(): Promise<void> {
    if (this.#input === undefined) {
      this.#input = createInterface({ input: process.stdin });
      this.#input.on('line', (line) => {
        this.#lines.push(line);
        this.#wake();
      });
      this.#input.on('close', () => {
        this.#isEnded = true;
        this.#wake();
      });
    }
    if (this.#lines.length === 0 && !this.#isEnded) {
      await new Promise<void>((resolve) => {
        this.#wake = resolve;
      });
    }
    this.#lines.shift();
  }
}
