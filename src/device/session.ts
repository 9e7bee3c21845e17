import type { Clock } from '../core/clock.js';
import { Fault } from '../core/fault.js';
import type { EchoBatch } from '../sweep/echoBatch.js';
import type { ArrivalClock } from './arrivalClock.js';
import type { Decoder } from './decoder.js';
import type { Echoes } from './echoes.js';
import { hexBytes, type Layout } from './layouts/layout.js';
import type { Port } from './port.js';

/** s: what still comes so soon after opening was sent before, and is thrown away. */
const DRAIN = 0.02;
/** s to wait for the answer to start. From memory: such sensors answer within some 0.1 s. */
const ANSWER_WITHIN = 1;
/** s without a byte until it counts as silent; of silence until start is sent again, and until the port is opened anew. */
const SILENT = 0.5;
const RESTART = 2;
const REOPEN = 15;
/** s without a released sample until it no longer streams; s of bytes without one until the layout is doubted. */
const IDLE = 0.35;
const UNLOCKED = 3;
/** s without a byte after which the next one has nothing to do with the last. */
const GAP = 0.25;
/** s between looks at the above. */
const LOOK = 0.05;
/** s: stopping must not hold up the end. */
const STOP_WITHIN = 0.5;

/** What the parts of the link share through all openings of the port. */
export interface SessionParts {
  readonly port: Port;
  readonly layout: Layout;
  readonly clock: Clock;
  readonly decoder: Decoder;
  readonly timing: ArrivalClock;
  readonly echoes: Echoes;
}

/** Where a session tells what happens. */
export interface SessionReport {
  batch(batch: EchoBatch): void;
  /** The port is open; it streams, or not yet and why. */
  state(phase: 'starting' | 'streaming', fault?: Fault): void;
  finding(fault: Fault): void;
  discarded(bytes: number): void;
  /** The port has to be closed and opened anew. */
  failed(fault: Fault): void;
}

/** The port from open to closed: lines, start, answer, samples, silence. */
export class Session {
  readonly #parts: SessionParts;
  readonly #report: SessionReport;
  readonly #answersBefore: number;
  #isOver = false;
  #isDraining: boolean;
  readonly #began: number;
  /** NaN: not yet. */
  #startedAt = NaN;
  #byteAt = -Infinity;
  #sampleAt = -Infinity;
  #restartAt = -Infinity;
  #locks: number;
  #isAnswerDoubted = false;
  #cancelLook = (): void => {};

  constructor(parts: SessionParts, report: SessionReport) {
    this.#parts = parts;
    this.#report = report;
    this.#answersBefore = parts.decoder.tally.answers;
    this.#locks = parts.decoder.tally.locks;
    this.#isDraining = parts.layout.start !== undefined;
    this.#began = parts.clock.now();
    parts.timing.restart();
  }

  /** Makes the motor run and the sensor send. */
  async start(): Promise<void> {
    const { port, layout, clock } = this.#parts;
    this.#look();
    try {
      if (layout.lines && !(await port.setLines(layout.lines.running))) {
        this.#report.finding(new Fault('PORT_LINES_ABSENT', { port: port.name }));
      }
      if (layout.start === undefined) return;
      if (layout.stop !== undefined) await port.write(hexBytes(layout.stop));
      await new Promise<void>((resolve) => clock.after(DRAIN, resolve));
      if (!this.#isOver) await this.#sendStart(layout.start);
    } catch (error) {
      this.#fail(error);
    }
  }

  async #sendStart(command: string): Promise<void> {
    this.#isDraining = false;
    this.#startedAt = this.#restartAt = this.#parts.clock.now();
    await this.#parts.port.write(hexBytes(command));
  }

  /** Takes what came in. */
  bytes(chunk: Readonly<Uint8Array>, at: number): void {
    if (this.#isOver) return;
    const { decoder, timing, echoes } = this.#parts;
    if (at - this.#byteAt > GAP) decoder.forget();
    this.#byteAt = at;
    if (this.#isDraining) {
      this.#report.discarded(chunk.length);
      return;
    }
    const samples = decoder.push(chunk);
    const { tally, seenIndex, seenBegin } = decoder;
    if (tally.locks !== this.#locks) timing.restart(); // the count of samples may have jumped
    this.#locks = tally.locks;
    const received = tally.receivedBytes;
    const time = timing.stamp({ received, at, seenIndex, seenBegin }, samples.index, samples.begin, samples.count);
    if (samples.count > 0) this.#sampleAt = at;
    this.#assess(at); // before the batch: streaming is known by the time that its echoes come
    if (samples.count > 0) this.#report.batch(echoes.convert(samples, time));
  }

  /** From now on nothing is reported. */
  leave(): void {
    this.#isOver = true;
    this.#cancelLook();
  }

  /** Stops the sensor and closes the port; a port that does not take it any more is closed all the same. */
  async stop(): Promise<void> {
    const { port, layout, clock } = this.#parts;
    this.leave();
    let cancel = (): void => {};
    const late = new Promise<void>((resolve) => {
      cancel = clock.after(STOP_WITHIN, resolve);
    });
    const tidy = async (): Promise<void> => {
      if (layout.stop !== undefined) await port.write(hexBytes(layout.stop));
      if (layout.lines) await port.setLines(layout.lines.stopped);
    };
    await Promise.race([tidy().catch(ignoreLost), late]);
    cancel();
    await port.close();
  }

  #look(): void {
    this.#cancelLook = this.#parts.clock.after(LOOK, () => {
      const now = this.#parts.clock.now();
      this.#assess(now);
      this.#nudge(now);
      if (!this.#isOver) this.#look();
    });
  }

  /** Tells whether it streams, and if not, why. */
  #assess(now: number): void {
    const { decoder, port, layout } = this.#parts;
    const { isStalled } = decoder;
    const quiet = now - Math.max(this.#byteAt, this.#began);
    const idle = now - Math.max(this.#sampleAt, this.#began);
    if (quiet > SILENT) this.#report.state('starting', new Fault('PORT_SILENT', { port: port.name }));
    else if (isStalled) this.#report.state('starting', new Fault('SPIN_STALLED', { port: port.name }));
    else if (now - this.#sampleAt <= IDLE) this.#report.state('streaming');
    else if (idle > UNLOCKED) {
      this.#report.state(
        'starting',
        new Fault('LAYOUT_NOT_LOCKED', { port: port.name, layout: layout.name, baud: layout.baud }),
      );
    } else this.#report.state('starting', new Fault('SENSOR_STARTING', { port: port.name }));
    const isAnswerDue = layout.answer !== undefined && now - this.#startedAt > ANSWER_WITHIN;
    const isHeard = this.#byteAt > this.#startedAt;
    if (isAnswerDue && isHeard && !this.#isAnswerDoubted && decoder.tally.answers === this.#answersBefore) {
      this.#isAnswerDoubted = true;
      this.#report.finding(
        new Fault('SENSOR_ANSWER_WRONG', { port: port.name, layout: layout.name, answer: layout.answer ?? '' }),
      );
    }
  }

  /** Silence: start again, and after a while open anew. */
  #nudge(now: number): void {
    const { port, layout } = this.#parts;
    const quiet = now - Math.max(this.#byteAt, this.#began);
    if (quiet > REOPEN) {
      this.#fail(new Fault('PORT_SILENT', { port: port.name }));
    } else if (layout.start !== undefined && quiet > RESTART && now - this.#restartAt > RESTART) {
      this.#restartAt = now;
      port.write(hexBytes(layout.start)).catch((error: unknown) => this.#fail(error));
    }
  }

  /** @throws what is no Fault: a bug. */
  #fail(error: unknown): void {
    if (!(error instanceof Fault)) throw error;
    if (!this.#isOver) this.#report.failed(error);
  }
}

/** A port that went away while the sensor was being stopped needs no stopping; anything but a Fault is a bug. */
function ignoreLost(error: unknown): void {
  if (!(error instanceof Fault)) throw error;
}
