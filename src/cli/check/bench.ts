import type { Subscription } from 'rxjs';
import type { Look } from '../../bringup/look.js';
import type { Clock } from '../../core/clock.js';
import type { Fault, FaultCode } from '../../core/fault.js';
import { hexBytes, type Layout } from '../../device/layouts/layout.js';
import { type Link, type LinkEvent, type LinkStatus, openLink } from '../../device/link.js';
import type { Port, PortListener } from '../../device/port.js';
import type { SensorSetting } from '../../device/setting.js';
import { Assembler } from '../../sweep/assembler.js';
import type { EchoBatch } from '../../sweep/echoBatch.js';
import type { Sweep } from '../../sweep/sweep.js';

/** What keeps samples from coming, as far as the link can tell. */
export type Hindrance = 'silent' | 'unread' | 'stalled' | 'still';

const LOOK_EVERY = 0.05; // s
/** s without a byte, with bytes but no sample, with one bearing only, with nothing but the answer: time to say so. */
const SILENT = 1;
const UNREAD = 0.8;
const STALLED = 1;
const STILL = 4;
/** s without a sample in a stream: a break. */
const BREAK = 0.3;
/** The spin has settled when so many revolutions agree within a share, or after so long. */
const AGREE = 5;
const AGREE_SHARE = 0.03;
const SETTLE = 3; // s

const CANNOT_OPEN: ReadonlySet<FaultCode> = new Set([
  'PORT_BUSY',
  'PORT_MISSING',
  'PORT_NO_PERMISSION',
  'PORT_OPEN_FAILED',
]);

/** A sensor on the bench: the daemon's own link, and somebody who looks at what comes. */
export class Bench {
  readonly #layout: Layout;
  readonly #setting: SensorSetting;
  readonly #clock: Clock;
  readonly #tap: TapPort;
  readonly #link: Link;
  readonly #subscription: Subscription;
  readonly #began: number;
  #assembler = new Assembler();
  #status: LinkStatus;
  #bug: unknown;
  #sweeps: Sweep[] = [];
  #breaks: { from: number; to: number }[] = [];
  #losses = 0;
  #sampleAt = NaN;
  #firstSampleAt = NaN;

  /** Opens the port and starts the sensor. @param layout its `baud` is that of the line. */
  constructor(port: Port, layout: Layout, setting: SensorSetting, clock: Clock) {
    this.#layout = layout;
    this.#setting = setting;
    this.#clock = clock;
    this.#began = clock.now();
    this.#status = { phase: 'opening', since: this.#began, findings: [] };
    this.#tap = new TapPort(port, layout);
    this.#link = openLink(this.#tap, layout, setting, clock);
    this.#subscription = this.#link.events.subscribe({
      next: (event) => this.#take(event),
      error: (error) => {
        this.#bug = error;
      },
    });
  }

  /**
   * Waits for samples.
   * @param patience times the usual waiting.
   * @returns undefined when they come; else what keeps them from coming.
   * @throws {Fault} of a port that does not open.
   */
  async ready(patience = 1): Promise<Hindrance | undefined> {
    for (;;) {
      await this.#pause(LOOK_EVERY);
      const { fault, phase } = this.#status;
      if (!Number.isNaN(this.#firstSampleAt)) return undefined;
      const waited = this.#clock.now() - this.#began;
      const isPassing = fault?.code === 'PORT_BUSY' && fault.facts.pid === undefined && waited < SILENT; // closed a moment ago
      if (phase === 'lost' && fault !== undefined && CANNOT_OPEN.has(fault.code) && !isPassing) throw fault;
      const { firstAt, isAnswerOnly } = this.#tap;
      const isStalled = fault?.code === 'SPIN_STALLED';
      if (isStalled && waited > STALLED * patience) return 'stalled';
      if (Number.isNaN(firstAt)) {
        if (waited > SILENT * patience) return phase === 'lost' && fault !== undefined ? this.#lost(fault) : 'silent';
      } else if (isAnswerOnly) {
        if (waited > STILL * patience) return 'still';
      } else if (!isStalled && this.#clock.now() - firstAt > UNREAD * patience) return 'unread';
    }
  }

  /** Gathers some seconds; the first time it waits for the spin to settle. */
  async look(seconds: number): Promise<Look> {
    const began = this.#clock.now();
    this.#sweeps = [];
    this.#breaks = [];
    this.#losses = 0;
    while (!this.#isSettled() && this.#clock.now() - Math.max(began, this.#firstSampleAt) < SETTLE)
      await this.#pause(LOOK_EVERY);
    const from = this.#clock.now();
    const before = { ...grownOf(this.#link) };
    const chunks = this.#tap.listen();
    await this.#pause(seconds);
    const ended = this.#clock.now();
    const after = grownOf(this.#link);
    if (ended - this.#sampleAt > BREAK) this.#breaks.push({ from: this.#sampleAt, to: ended });
    // a motor that starts again and again never settles: then all that came is looked at
    const isEmpty = !this.#sweeps.some(({ firstTime }) => firstTime >= from);
    return {
      layout: this.#layout,
      setting: this.#setting,
      began,
      ended,
      settledAt: isEmpty ? began : from,
      sweeps: this.#sweeps,
      grown: {
        receivedBytes: after.receivedBytes - before.receivedBytes,
        skippedBytes: after.skippedBytes - before.skippedBytes,
        samples: after.samples - before.samples,
      },
      arrivals: chunks,
      breaks: this.#breaks,
      losses: this.#losses,
      remarks: this.#status.findings,
    };
  }

  /** The bytes of the last look, as they came. */
  get bytes(): Uint8Array {
    return Buffer.concat(this.#tap.kept);
  }

  /** Stops the sensor and closes the port. */
  async close(): Promise<void> {
    this.#subscription.unsubscribe();
    await this.#link.closed();
  }

  #lost(fault: Fault): never {
    throw fault;
  }

  async #pause(seconds: number): Promise<void> {
    await new Promise<void>((resolve) => this.#clock.after(seconds, resolve));
    if (this.#bug !== undefined) throw this.#bug;
  }

  #isSettled(): boolean {
    const last = this.#sweeps.slice(-AGREE).map(({ period }) => period);
    return last.length === AGREE && Math.max(...last) - Math.min(...last) < AGREE_SHARE * Math.min(...last);
  }

  #take(event: LinkEvent): void {
    if (event.kind === 'batch') {
      this.#takeBatch(event.batch);
      return;
    }
    const wasOpen = this.#status.phase !== 'lost' && this.#status.phase !== 'opening';
    if (event.status.phase === 'lost' && wasOpen && event.status.fault?.code === 'PORT_LOST') this.#losses++;
    this.#status = event.status;
  }

  #takeBatch(batch: EchoBatch): void {
    const first = batch.time[0];
    if (Number.isNaN(this.#firstSampleAt)) this.#firstSampleAt = first;
    if (first - this.#sampleAt > BREAK) {
      this.#breaks.push({ from: this.#sampleAt, to: first });
      this.#assembler.reset(); // no revolution leads across it
    }
    this.#sampleAt = batch.time[batch.count - 1];
    this.#sweeps.push(...this.#assembler.push(batch));
  }
}

function grownOf({ tally }: Link): Look['grown'] {
  return { receivedBytes: tally.receivedBytes, skippedBytes: tally.skippedBytes, samples: tally.samples };
}

/** A port with somebody who notes when bytes come. */
class TapPort implements Port {
  readonly name: string;
  /** s; NaN: nothing has come. */
  firstAt = NaN;
  /** Nothing but the answer to start has come. */
  isAnswerOnly = true;
  /** Chunks since the last {@link listen}. */
  kept: Uint8Array[] = [];
  readonly #port: Port;
  readonly #answer: Readonly<Uint8Array>;
  #received = 0;
  #chunks: { at: number[]; bytes: number[] } = { at: [], bytes: [] };

  constructor(port: Port, layout: Layout) {
    this.#port = port;
    this.name = port.name;
    this.#answer = hexBytes(layout.answer ?? '');
  }

  /** @returns lists that grow with each chunk from now on. */
  listen(): { readonly at: readonly number[]; readonly bytes: readonly number[] } {
    this.#chunks = { at: [], bytes: [] };
    this.kept = [];
    return this.#chunks;
  }

  open(listener: PortListener): Promise<void> {
    return this.#port.open({
      bytes: (chunk, at) => {
        this.#note(chunk, at);
        listener.bytes(chunk, at);
      },
      closed: (fault) => listener.closed(fault),
    });
  }
  setLines(lines: Parameters<Port['setLines']>[0]): Promise<boolean> {
    return this.#port.setLines(lines);
  }
  write(bytes: Readonly<Uint8Array>): Promise<void> {
    return this.#port.write(bytes);
  }
  close(): Promise<void> {
    return this.#port.close();
  }

  #note(chunk: Readonly<Uint8Array>, at: number): void {
    if (Number.isNaN(this.firstAt)) this.firstAt = at;
    for (
      let i = 0;
      i < chunk.length && this.isAnswerOnly;
      i++, this.#received++ // the answer may come more than once
    )
      this.isAnswerOnly = this.#answer.length > 0 && chunk[i] === this.#answer[this.#received % this.#answer.length];
    this.#chunks.at.push(at);
    this.#chunks.bytes.push(chunk.length);
    this.kept.push(chunk.slice());
  }
}
