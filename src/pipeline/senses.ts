import type { Clock } from '../core/clock.js';
import type { Fault } from '../core/fault.js';
import { Health, type HealthValues } from '../health/health.js';
import { Feed, type ServerMessage } from '../messages/codec.js';
import {
  clearanceMessage,
  type HelloFacts,
  healthMessage,
  helloMessage,
  motionMessage,
  moversMessage,
  shapesMessage,
  sweepMessage,
} from '../messages/toMessage.js';
import { blindBeyondOutline } from '../perception/clearance/blindRing.js';
import { Clearance, type ClearanceValues } from '../perception/clearance/clearance.js';
import { Pacer } from '../perception/clearance/pacer.js';
import type { ClearanceSetting } from '../perception/clearance/setting.js';
import { type Percept, Perception, type PerceptionSetting } from '../perception/perceive.js';
import { Assembler } from '../sweep/assembler.js';
import type { EchoBatch } from '../sweep/echoBatch.js';
import type { Sweep } from '../sweep/sweep.js';
import { wholeSweep } from '../sweep/wholeSweep.js';
import { FeedMessage } from './feedMessage.js';

/** What the link tells (device/link.ts), as far as the senses ask. */
export type LinkEvent =
  | { readonly kind: 'batch'; readonly batch: EchoBatch }
  /** A whole revolution that was recorded elsewhere; s, what it took, 0: all samples at one time. */
  | { readonly kind: 'sweep'; readonly batch: EchoBatch; readonly period: number }
  | {
      readonly kind: 'status';
      readonly status: Readonly<{ phase: string; fault?: Fault; findings: readonly Fault[] }>;
    };

/** What is said of the run being recorded or played. */
export type RunBody = NonNullable<ServerMessage['run']>;

/** Numbers of the link that only grow. */
export interface LinkTally {
  readonly receivedBytes: number;
  readonly skippedBytes: number;
  readonly badChecks: number;
}

const REMARK = 2; // s, how long a remark stands after the last time
const PERCEPT_FEEDS = [Feed.FEED_MOTION, Feed.FEED_MOVERS, Feed.FEED_SHAPES];
const HEALTH_REGULAR = 1; // s between Health messages when nothing changes

/**
 * The daemon's senses: link events in, feed messages out, in order and at once. Knows no timer: {@link wakeAt} says when it
 * wants to be woken.
 */
export class Senses {
  readonly #clock: Clock;
  readonly #hello: HelloFacts;
  readonly #clearance: Clearance;
  readonly #assembler = new Assembler();
  readonly #health: Health;
  readonly #pacer = new Pacer();
  readonly #sequences: Map<number, number>;
  readonly #remarksOf: () => readonly Fault[];
  #run: RunBody = {};
  #status: Readonly<{ phase: string; fault?: Fault; findings: readonly Fault[] }> = { phase: 'opening', findings: [] };
  /** Whole recorded sweeps come, and Clearance goes with each, instead of bytes. */
  readonly #isWhole: boolean;
  #newestEcho = NaN;
  #wholeSweeps = 0;
  #wokenAt = -Infinity; // s, of the newest wake
  #sweep: Sweep | undefined;
  #percept: Percept | undefined;
  readonly #perception: Perception;
  #healthSent: HealthValues | undefined;
  #remarked: { readonly fault: Fault; readonly at: number } | undefined;

  constructor(parts: {
    clearance: ClearanceSetting;
    perception: PerceptionSetting;
    hello: HelloFacts;
    tally: LinkTally;
    clock: Clock;
    /** Whole recorded sweeps come: start rules do not apply. */
    isLocked?: boolean;
    /** Counts each feed's messages; given where others were sent before. */
    sequences?: Map<number, number>;
    /** What else a person should know now. */
    remarks?: () => readonly Fault[];
  }) {
    this.#clock = parts.clock;
    this.#hello = parts.hello;
    this.#sequences = parts.sequences ?? new Map();
    this.#remarksOf = parts.remarks ?? (() => []);
    this.#isWhole = parts.isLocked === true;
    this.#clearance = new Clearance(parts.clearance, this.#isWhole);
    this.#perception = new Perception(parts.perception);
    this.#health = new Health(
      {
        link: () => ({
          isStreaming: this.#status.phase === 'streaming',
          ...this.#status,
          findings: [...this.#status.findings, ...this.#remarks()],
        }),
        tally: parts.tally,
        beam: this.#clearance,
        blindBeyondOutline: blindBeyondOutline(parts.clearance),
      },
      parts.clock,
    );
  }

  /** Takes one event of the link. @yields the messages it makes, each as soon as it is made: Clearance waits for no shapes. */
  *take(event: LinkEvent): Generator<FeedMessage> {
    if (event.kind === 'status') {
      yield* this.#takeStatus(event.status);
      return;
    }
    const { batch } = event;
    if (event.kind === 'sweep') {
      yield* this.#takeWhole(batch, event.period);
      return;
    }
    this.#health.push(batch);
    if (this.#clearance.push(batch)) this.#pacer.suspect();
    if (batch.count > 0) this.#newestEcho = batch.time[batch.count - 1];
    yield* this.#clearanceIfDue();
    for (const sweep of this.#assembler.push(batch)) yield* this.#perceive(sweep);
  }

  *#takeWhole(batch: EchoBatch, period: number): Generator<FeedMessage> {
    this.#health.push(batch);
    if (period === 0) this.#clearance.reset(true); // all samples at one time: no evidence is carried over, there is no age to give it
    this.#clearance.push(batch, period);
    const last = batch.time[batch.count - 1]; // as of it: between two sweeps there is nothing to be said
    this.#newestEcho = last;
    yield this.#message(Feed.FEED_CLEARANCE, this.#clock.now(), false, this.#clearance.read(last));
    yield* this.#perceive(wholeSweep(batch, ++this.#wholeSweeps, period).sweep);
  }

  *#perceive(sweep: Sweep): Generator<FeedMessage> {
    this.#sweep = sweep;
    yield this.#message(Feed.FEED_SWEEP, this.#clock.now());
    this.#percept = this.#perception.perceive(sweep);
    for (const feed of PERCEPT_FEEDS) yield this.#message(feed, this.#clock.now());
  }

  /** Time has passed. @returns the messages that are due. */
  wake(): FeedMessage[] {
    const now = this.#clock.now();
    if (now >= this.#clearance.nextExpiry(this.#wokenAt)) this.#pacer.suspect();
    this.#wokenAt = now;
    return this.#isWhole ? this.#healthIfDue() : [...this.#clearanceIfDue(), ...this.#healthIfDue()];
  }

  /** @returns s, Clock: when to call {@link wake} at the latest. */
  get wakeAt(): number {
    if (this.#isWhole) return Math.max(this.#clock.now(), this.#wokenAt) + HEALTH_REGULAR / 2;
    return this.#pacer.wakeAt(this.#clearance.nextExpiry(this.#clock.now()));
  }

  /** @returns the newest message of a feed, made anew for sending now; undefined where there is none yet. */
  newest(feed: number): FeedMessage | undefined {
    if (!this.#sequences.has(feed)) return undefined;
    const now = this.#clock.now();
    if (feed !== Feed.FEED_CLEARANCE) return this.#make(feed, now, this.#sequences.get(feed) ?? 0);
    const values = this.#clearance.read(now);
    this.#clearance.alsoSent(values);
    return this.#make(feed, now, this.#sequences.get(feed) ?? 0, false, values);
  }

  /** @param run the run being recorded or played. @returns the message that says so. */
  run(run: RunBody): FeedMessage {
    this.#run = run;
    return this.#message(Feed.FEED_RUN, this.#clock.now());
  }

  hello(role: string, run = this.#hello.run): FeedMessage {
    const now = this.#clock.now();
    return new FeedMessage(Feed.FEED_UNSPECIFIED, {
      sequence: 0,
      timeS: now,
      sentS: now,
      hello: helloMessage({ ...this.#hello, run }, role),
    });
  }

  /** Notes something a person should know; it stays a finding for a while after the last time. */
  remark(fault: Fault): void {
    this.#remarked = { fault, at: this.#clock.now() };
  }

  /** @returns the senses' health now. */
  get health(): HealthValues {
    return this.#health.read();
  }

  #remarks(): readonly Fault[] {
    const remark = this.#remarked;
    const isNew = remark !== undefined && this.#clock.now() - remark.at < REMARK;
    return isNew ? [remark.fault, ...this.#remarksOf()] : this.#remarksOf();
  }

  #takeStatus(status: Readonly<{ phase: string; fault?: Fault; findings: readonly Fault[] }>): FeedMessage[] {
    const wasStreaming = this.#status.phase === 'streaming';
    this.#status = status;
    if (wasStreaming && status.phase !== 'streaming') {
      this.#clearance.reset();
      this.#assembler.reset();
      this.#pacer.suspect();
    }
    return [...this.#clearanceIfDue(), ...this.#healthIfDue()];
  }

  #clearanceIfDue(): FeedMessage[] {
    const now = this.#clock.now();
    const due = this.#pacer.next(now);
    if (due === 'wait') return [];
    const values = this.#clearance.read(now);
    const urgent = this.#clearance.isUrgent(values);
    if (due === 'look' && !urgent) {
      this.#pacer.looked(now);
      return [];
    }
    this.#pacer.sent(now, urgent);
    this.#clearance.sent(values);
    return [this.#message(Feed.FEED_CLEARANCE, now, urgent, values)];
  }

  #healthIfDue(): FeedMessage[] {
    const health = this.#health.read();
    const before = this.#healthSent;
    const isNews = before === undefined || before.state !== health.state || codes(before) !== codes(health);
    if (!isNews && health.at - before.at < HEALTH_REGULAR) return [];
    this.#healthSent = health;
    return [this.#message(Feed.FEED_HEALTH, health.at)];
  }

  #message(feed: number, now: number, urgent = false, values?: ClearanceValues): FeedMessage {
    const sequence = (this.#sequences.get(feed) ?? 0) + 1;
    this.#sequences.set(feed, sequence);
    return this.#make(feed, now, sequence, urgent, values);
  }

  #make(feed: number, now: number, sequence: number, urgent = false, values?: ClearanceValues): FeedMessage {
    const newest = Number.isNaN(this.#newestEcho) ? now : this.#newestEcho;
    const message: ServerMessage = { sequence, timeS: newest, sentS: now };
    if (feed === Feed.FEED_CLEARANCE) {
      const made = values ?? this.#clearance.read(now);
      message.clearance = clearanceMessage(made);
      message.timeS = Number.isNaN(made.newest) ? now : made.newest;
    } else if (feed === Feed.FEED_SWEEP && this.#sweep !== undefined) {
      message.sweep = sweepMessage(this.#sweep);
      message.timeS = this.#sweep.time[this.#sweep.count - 1];
    } else if (PERCEPT_FEEDS.includes(feed) && this.#percept !== undefined) {
      message.timeS = this.#percept.time;
      if (feed === Feed.FEED_MOTION) message.motion = motionMessage(this.#percept);
      else if (feed === Feed.FEED_MOVERS) message.movers = moversMessage(this.#percept);
      else message.shapes = shapesMessage(this.#percept);
    } else if (feed === Feed.FEED_HEALTH) message.health = healthMessage(this.#health.read());
    else if (feed === Feed.FEED_RUN) {
      message.run = this.#run;
      message.timeS = now;
    }
    return new FeedMessage(feed, message, urgent);
  }
}

function codes(health: HealthValues): string {
  return health.findings.map(({ code }) => code).join();
}
