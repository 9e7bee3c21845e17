import type { Clock } from '../core/clock.js';
import { Fault } from '../core/fault.js';
import { hexBytes, type Layout } from './layouts/layout.js';
import type { Port } from './port.js';
import { type Recognition, recognise } from './recognise.js';

/** What was found by trying rates. */
export interface Probe {
  /** bit/s, of what `recognition` says; undefined: nothing was recognised at any rate. */
  readonly baud?: number;
  readonly recognition: Recognition;
  /** The sensor answered a start command as a layout says, and then sent nothing. */
  readonly isAnswered: boolean;
}

/** Rates beyond those that layouts name, the likelier first; common practice. */
const USUAL_RATES: readonly number[] = [115200, 230400, 128000, 256000, 460800, 921600, 57600, 38400, 19200, 9600];
/** s: a sensor that sends has sent within this. */
const LISTEN = 0.05;
/** s between start commands of different layouts, and after the last. */
const BETWEEN = 0.03;
const ANSWER = 0.1;
/** Bytes that tell a layout, and s to wait for so many. */
const ENOUGH = 1500;
const GATHER = 0.13;
/** Bytes to wait for at least where the line is slow, and bits of each on it. */
const FEW_BYTES = 500;
const BITS = 10;
/** s from an answer until the motor is up to speed and samples come. */
const SPIN_UP = 2.5;
const OPEN_TRIES = 10;
/** Bytes of text that are no chance. */
const TEXT_LEAST = 48;

/**
 * Tries rate after rate, the given one first, until bytes are recognised. Where nothing comes it starts the sensor as each layout
 * would, with the modem lines set to run.
 * @param openAt the port at a rate. Each is closed again.
 * @throws {Fault} as {@link Port.open} does.
 */
export async function probeLine(
  openAt: (baud: number) => Port,
  layouts: readonly Layout[],
  first: number,
  clock: Clock,
): Promise<Probe> {
  const rates = [
    ...new Set([first, ...layouts.flatMap(({ baud, otherBauds = [] }) => [baud, ...otherBauds]), ...USUAL_RATES]),
  ];
  let heard = recognise(new Uint8Array(0), layouts);
  let answered = false;
  for (const baud of rates) {
    const ear = new Ear(openAt(baud), clock);
    await ear.open();
    try {
      const bytes = await listen(ear, layouts, baud);
      answered ||= isAnswer(bytes, layouts);
      const recognition = recognise(bytes, layouts);
      const { verdict } = recognition;
      if (verdict === 'layout' || (verdict === 'text' && bytes.length >= TEXT_LEAST))
        return { baud, recognition, isAnswered: false };
      if (answered) return { baud, recognition, isAnswered: true };
      if (bytes.length > heard.evidence.bytes) heard = recognition;
    } finally {
      await ear.close();
    }
  }
  return { recognition: heard, isAnswered: false };
}

/** @returns what comes: by itself, or after one of the start commands. */
async function listen(ear: Ear, layouts: readonly Layout[], baud: number): Promise<Uint8Array> {
  const lines = layouts.find((layout) => layout.lines !== undefined)?.lines;
  if (lines !== undefined) await ear.port.setLines(lines.running);
  await ear.wait(LISTEN);
  if (ear.count === 0) {
    for (const start of new Set(layouts.flatMap((layout) => layout.start ?? []))) {
      await ear.port.write(hexBytes(start));
      await ear.wait(BETWEEN);
      if (ear.count > 0) break;
    }
    await ear.wait(ANSWER);
  }
  for (let waited = 0; isAnswer(ear.bytes, layouts) && waited < SPIN_UP; waited += BETWEEN) await ear.wait(BETWEEN);
  if (ear.count > 0) await ear.wait(Math.max(GATHER, FEW_BYTES * (BITS / baud)), ENOUGH);
  return ear.bytes;
}

/** Is it nothing but an answer to a start command, once or several times? */
function isAnswer(bytes: Readonly<Uint8Array>, layouts: readonly Layout[]): boolean {
  const text = Buffer.from(bytes).toString('hex');
  const answers = layouts.flatMap(({ answer }) =>
    answer === undefined ? [] : Buffer.from(hexBytes(answer)).toString('hex'),
  );
  return text.length > 0 && answers.some((answer) => text.replaceAll(answer, '') === '');
}

/** Keeps what a port says. */
class Ear {
  readonly port: Port;
  count = 0;
  readonly #clock: Clock;
  readonly #chunks: Uint8Array[] = [];
  #wake = (): void => {};

  constructor(port: Port, clock: Clock) {
    this.port = port;
    this.#clock = clock;
  }

  get bytes(): Uint8Array {
    return Buffer.concat(this.#chunks);
  }

  /** A port closed a moment ago may still be locked, by nobody that can be named. */
  async open(): Promise<void> {
    for (let tries = 1; ; tries++) {
      try {
        await this.port.open({ bytes: (chunk) => this.#keep(chunk), closed: () => {} });
        return;
      } catch (error) {
        const isPassing = error instanceof Fault && error.code === 'PORT_BUSY' && error.facts.pid === undefined;
        if (!isPassing || tries === OPEN_TRIES) throw error;
        await this.wait(BETWEEN);
      }
    }
  }

  #keep(chunk: Readonly<Uint8Array>): void {
    this.#chunks.push(chunk.slice());
    this.count += chunk.length;
    this.#wake();
  }

  /** Waits for some seconds, or until so many bytes more have come. */
  async wait(seconds: number, bytes = Infinity): Promise<void> {
    const enough = this.count + bytes;
    await new Promise<void>((resolve) => {
      const cancel = this.#clock.after(seconds, resolve);
      this.#wake = () => {
        if (this.count < enough) return;
        cancel();
        resolve();
      };
    });
    this.#wake = () => {};
  }

  close(): Promise<void> {
    return this.port.close();
  }
}
