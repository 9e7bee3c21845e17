import { Observable, type Subscriber } from 'rxjs';
import type { Clock } from '../core/clock.js';
import { Fault } from '../core/fault.js';
import type { EchoBatch } from '../sweep/echoBatch.js';
import { ArrivalClock } from './arrivalClock.js';
import { Decoder } from './decoder.js';
import { Echoes } from './echoes.js';
import { type Layout, usualPacket } from './layouts/layout.js';
import type { Port } from './port.js';
import { Session, type SessionParts, type SessionReport } from './session.js';
import type { SensorSetting } from './setting.js';

export type LinkPhase = 'opening' | 'starting' | 'streaming' | 'lost';

/** How the link is; sent whenever any of it changes. */
export interface LinkStatus {
  /** streaming: the decoder is locked and samples come. */
  readonly phase: LinkPhase;
  /** s, Clock: when this phase began. */
  readonly since: number;
  /** Why it is lost, or not streaming yet (SPIN_STALLED: well-framed samples repeat one bearing and are held back). */
  readonly fault?: Fault;
  /** Lasting remarks while the port is open. */
  readonly findings: readonly Fault[];
}

export type LinkEvent =
  | { readonly kind: 'batch'; readonly batch: EchoBatch }
  | { readonly kind: 'status'; readonly status: LinkStatus };

/** Numbers that only grow. Every received byte is taken, skipped or pending; what is pending when the port closes is skipped. */
export interface LinkTally {
  receivedBytes: number;
  takenBytes: number;
  skippedBytes: number;
  /** Candidates that looked like a packet and failed its check. */
  badChecks: number;
  packets: number;
  /** Samples released. */
  samples: number;
  /** Well-framed samples not released: the bearing stands still, or was there already, or the feet were just found. */
  heldSamples: number;
  /** How often the decoder found its feet. */
  locks: number;
  /** Openings of the port after the first. */
  reopened: number;
}

export interface Link {
  /** Cold, for one subscriber: subscribing opens the port, unsubscribing stops the sensor and closes. Errors are bugs only. */
  readonly events: Observable<LinkEvent>;
  readonly tally: Readonly<LinkTally>;
  /** Resolves when the sensor is stopped and the port closed after unsubscribing; at once when nothing is open. Never rejects. */
  closed(): Promise<void>;
}

/** s between tries to open: doubles from the first to the last. A port that is back is found within the last. */
const RETRY_FIRST = 0.1;
const RETRY_LAST = 0.5;

/**
 * The line to a sensor, kept alive. Opens the port, starts the sensor as its layout says, decodes, times, and puts the echoes into
 * rover axes; opens again with back-off whenever the port is lost, silent or refuses. Faults are status events, never errors.
 * @param layout its `baud` is that of the line: transmission is taken off the arrival times by it.
 */
export function openLink(port: Port, layout: Layout, sensor: SensorSetting, clock: Clock): Link {
  const decoder = new Decoder(layout);
  const tally = new Tally(decoder);
  const { bytes, samples } = usualPacket(layout);
  const timing = new ArrivalClock(layout.baud, bytes, samples);
  const echoes = new Echoes(layout.sense, sensor);
  let ended: Promise<void> = Promise.resolve();
  const events = new Observable<LinkEvent>((subscriber) => {
    const keeper = new Keeper({ port, layout, clock, decoder, timing, echoes }, tally, subscriber);
    keeper.start();
    return () => {
      ended = keeper.end();
    };
  });
  return { events, tally, closed: () => ended };
}

/** The decoder's numbers, and those that only the link knows. */
class Tally implements LinkTally {
  discarded = 0;
  reopened = 0;
  readonly #decoder: Decoder;
  constructor(decoder: Decoder) {
    this.#decoder = decoder;
  }
  get receivedBytes(): number {
    return this.#decoder.tally.receivedBytes + this.discarded;
  }
  get takenBytes(): number {
    return this.#decoder.tally.takenBytes;
  }
  get skippedBytes(): number {
    return this.#decoder.tally.skippedBytes + this.discarded;
  }
  get badChecks(): number {
    return this.#decoder.tally.badChecks;
  }
  get packets(): number {
    return this.#decoder.tally.packets;
  }
  get samples(): number {
    return this.#decoder.tally.samples;
  }
  get heldSamples(): number {
    return this.#decoder.tally.heldSamples;
  }
  get locks(): number {
    return this.#decoder.tally.locks;
  }
}

/** One subscription: opens the port again and again until it ends. */
class Keeper {
  readonly #parts: SessionParts;
  readonly #tally: Tally;
  readonly #subscriber: Subscriber<LinkEvent>;
  #status: LinkStatus;
  #session: Session | undefined;
  #opening: Promise<void> = Promise.resolve();
  #isEnded = false;
  #openings = 0;
  #retry = RETRY_FIRST;
  #cancelRetry = (): void => {};

  constructor(parts: SessionParts, tally: Tally, subscriber: Subscriber<LinkEvent>) {
    this.#parts = parts;
    this.#tally = tally;
    this.#subscriber = subscriber;
    this.#status = { phase: 'opening', since: parts.clock.now(), findings: [] };
  }

  start(): void {
    this.#tell(this.#status);
    this.#open();
  }

  #open(): void {
    this.#opening = this.#tryToOpen().catch((error: unknown) => {
      if (error instanceof Fault) this.#lose(error);
      else this.#subscriber.error(error);
    });
  }

  /** Stops the sensor, closes the port. Never rejects. */
  async end(): Promise<void> {
    this.#isEnded = true;
    this.#cancelRetry();
    await this.#opening;
    await this.#session?.stop();
    this.#session = undefined;
    this.#parts.decoder.flush();
  }

  async #tryToOpen(): Promise<void> {
    const { port } = this.#parts;
    const early: { chunk: Uint8Array; at: number }[] = []; // what comes before open() has returned
    let session: Session | undefined;
    let isClosed: { fault: Fault | undefined } | undefined;
    await port.open({
      bytes: (chunk, at) =>
        this.#guard(() => (session ? session.bytes(chunk, at) : early.push({ chunk: chunk.slice(), at }))),
      closed: (fault) => {
        isClosed = { fault };
        if (session && session === this.#session) this.#lose(fault ?? new Fault('PORT_LOST', { port: port.name }));
      },
    });
    if (isClosed) throw isClosed.fault ?? new Fault('PORT_LOST', { port: port.name });
    if (this.#openings++ > 0) this.#tally.reopened++;
    session = this.#session = new Session(this.#parts, this.#reports());
    this.#change('starting', new Fault('SENSOR_STARTING', { port: port.name }));
    for (const { chunk, at } of early) session.bytes(chunk, at);
    if (!this.#isEnded) session.start().catch((error: unknown) => this.#subscriber.error(error));
  }

  #reports(): SessionReport {
    return {
      batch: (batch) => {
        this.#retry = RETRY_FIRST;
        this.#subscriber.next({ kind: 'batch', batch });
      },
      state: (phase, fault) => this.#change(phase, fault),
      finding: (fault) => this.#tell({ ...this.#status, findings: [...this.#status.findings, fault] }),
      discarded: (bytes) => {
        this.#tally.discarded += bytes;
      },
      failed: (fault) => {
        const session = this.#session;
        this.#lose(fault, session?.stop());
      },
    };
  }

  /** @param closing the next try waits for it. */
  #lose(fault: Fault, closing: Promise<void> = Promise.resolve()): void {
    this.#session?.leave();
    this.#session = undefined;
    this.#parts.decoder.flush();
    if (this.#isEnded) return;
    this.#change('lost', fault);
    this.#opening = closing;
    this.#cancelRetry = this.#parts.clock.after(this.#retry, () => {
      closing.then(() => {
        if (!this.#isEnded) this.#open();
      });
    });
    this.#retry = Math.min(2 * this.#retry, RETRY_LAST);
  }

  /** Tells a status that differs from the last one. */
  #change(phase: LinkPhase, fault?: Fault): void {
    const status = this.#status;
    if (status.phase === phase && status.fault?.code === fault?.code) return;
    const isSame = status.phase === phase;
    this.#tell({
      phase,
      since: isSame ? status.since : this.#parts.clock.now(),
      ...(fault && { fault }),
      findings: phase === 'lost' ? [] : status.findings,
    });
  }

  #tell(status: LinkStatus): void {
    this.#status = status;
    this.#subscriber.next({ kind: 'status', status });
  }

  /** A bug met while handling bytes is an error of the Observable, not of whoever brought them. */
  #guard(act: () => void): void {
    try {
      act();
    } catch (error) {
      this.#subscriber.error(error);
    }
  }
}
