import { type Observable, Subject } from 'rxjs';
import { wrapAngle } from '../core/angles.js';
import type { Clock } from '../core/clock.js';
import { Fault, type FaultCode } from '../core/fault.js';
import { HEALTH } from '../health/health.js';
import { Feed, type ServerMessage } from '../messages/codec.js';
import { leeway } from '../messages/gen/leeway.js';
import { FeedMessage } from '../pipeline/feedMessage.js';
import { type Request, readRequest } from '../pipeline/feeds.js';
import { sizeOf } from '../runs/folder.js';
import type { RunNote } from '../runs/format.js';
import type { RunFile } from '../runs/runFile.js';
import { Replayed, type ReplaySettings, settle } from './replay.js';

const { RunState } = leeway.v1;
const WARM_UP = 1.2; // s played before the place that is sought: start rules take under 1 s at 4 revolutions/s and more
const WARM_TURNS = 7; // or so many turns, where the spin is known: three for the start rules, the rest for what moves
const WARM_LEAST = 0.5; // s
const FIRST_SWEEP = 0.25; // s after which perception has its first place
const SLICE = 0.004; // s of work at a time: the daemon beside it goes on
const TICK = 0.01; // s between looks while playing at a pace
const REGULAR = 1; // s

/**
 * A run as feeds that a client steers: play, pause, seek, step, pace. What it says is the run's alone: no client's asking changes
 * what another gets, or what comes next.
 */
export class ReplayFeeds {
  readonly messages: Observable<FeedMessage>;
  readonly helloChanged: Observable<void> = new Subject<void>();
  readonly #out = new Subject<FeedMessage>();
  readonly #newest = new Map<number, FeedMessage>();
  readonly #sequences = new Map<number, number>();
  readonly #run: RunFile;
  readonly #settings: ReplaySettings;
  readonly #version: string;
  readonly #clock: Clock;
  readonly #neededRole: string;
  readonly #size: number;
  readonly #until: number;
  #replayed: Replayed;
  #pace: number;
  #isPaused = false;
  /** Where the rover was when perception began anew in the middle. */
  #origin: Pose | undefined;
  #isMute = false;
  /** A step waits for so many sweeps. */
  #sweepsLeft = 0;
  #sweepTimes: number[] = [];
  #anchorAt = NaN;
  #anchorPlace = NaN;
  #isWorking = false;
  #wishes: Array<() => Promise<void>> = [];
  #isOver = false;
  /** What the run tells of its day, in order; told from this one on. */
  readonly #notes: readonly RunNote[];
  #nextNote = 0;
  #toldAt = -Infinity;
  #cancel = (): void => {};

  /** @param clock the real one, for the pace. @param neededRole to steer. */
  constructor(parts: {
    run: RunFile;
    settings: ReplaySettings;
    version: string;
    clock: Clock;
    pace: number;
    neededRole: string;
  }) {
    this.#run = parts.run;
    this.#settings = parts.settings;
    this.#version = parts.version;
    this.#clock = parts.clock;
    this.#pace = parts.pace;
    this.#neededRole = parts.neededRole;
    this.#size = sizeOf(parts.run.path);
    this.#until = parts.run.until;
    this.#notes = parts.run.events;
    this.messages = this.#out;
    this.#replayed = this.#start();
    this.#tell('started');
    this.#turn(0);
  }

  newest(feed: number): FeedMessage | undefined {
    return this.#newest.get(feed);
  }

  hello(role: string): FeedMessage {
    return this.#replayed.daemon.feeds.hello(role);
  }

  read(format: 'proto' | 'json', data: Uint8Array | string): Request {
    return readRequest(format, data);
  }

  /** @throws {Fault} ROLE_TOO_LOW; LIMIT_EXCEEDED. */
  act(request: Request, role: string): void {
    if (request.kind !== 'other' || !request.body.replay) return;
    if (this.#neededRole !== 'watch' && role === 'watch')
      throw new Fault('ROLE_TOO_LOW', { role, needed: this.#neededRole });
    const { atS, step, pace, paused } = request.body.replay;
    if (typeof pace === 'number' && !(pace >= 0 && pace <= 1000)) throw new Fault('LIMIT_EXCEEDED', { pace });
    if (typeof atS === 'number' && !Number.isFinite(atS)) throw new Fault('LIMIT_EXCEEDED', { at_s: atS });
    this.#wishes.push(async () => {
      if (typeof atS === 'number') await this.#seek(atS);
      if (typeof step === 'number' && step !== 0) await this.#step(step);
      if (typeof pace === 'number') this.#pace = pace;
      if (typeof paused === 'boolean') this.#isPaused = paused;
      this.#anchor();
      this.#tell('state');
    });
    this.#turn(0);
  }

  /** Whether the senses of the day vouched for anything; else the code of the first finding. */
  state(): { readonly ready: boolean; readonly code?: FaultCode } {
    const health = this.#newest.get(Feed.FEED_HEALTH)?.message.health;
    if (health && health.state !== HEALTH.blind) return { ready: true };
    return { ready: false, code: (health?.findings?.[0]?.code ?? 'SENSOR_STARTING') as FaultCode };
  }

  /** Ends it; the run is closed. */
  async stop(): Promise<void> {
    this.#isOver = true;
    this.#cancel();
    while (this.#isWorking) await settle();
    this.#out.complete();
    this.#run.close();
  }

  #start(from?: number): Replayed {
    const replayed = new Replayed(this.#run, this.#settings, this.#version, from, this.#sequences);
    replayed.daemon.feeds.messages.subscribe((message) => {
      if (replayed === this.#replayed || this.#replayed === undefined) this.#take(message);
    });
    this.#anchorAt = this.#clock.now();
    this.#anchorPlace = replayed.clock.now();
    return replayed;
  }

  #take(made: FeedMessage): void {
    const message = this.#origin && made.message.motion ? placed(made, made.message.motion, this.#origin) : made;
    this.#newest.set(message.feed, message);
    if (message.feed === Feed.FEED_SWEEP) {
      this.#sweepTimes.push(this.#replayed.clock.now());
      if (this.#sweepTimes.length > SWEEPS_KEPT) this.#sweepTimes.shift();
      this.#sweepsLeft--;
    }
    if (!this.#isMute) this.#out.next(message);
  }

  /** Plays on, now and then, as fast as it should go. */
  #turn(delay: number): void {
    this.#cancel();
    this.#cancel = this.#clock.after(delay, () => {
      if (this.#isWorking || this.#isOver) return;
      this.#isWorking = true;
      void this.#work().finally(() => {
        this.#isWorking = false;
        if (!this.#isOver) this.#turn(this.#isIdle ? TICK * 5 : this.#pace === 0 ? 0 : TICK);
      });
    });
  }

  get #isIdle(): boolean {
    return this.#wishes.length === 0 && (this.#isPaused || this.#replayed.player.isEnded);
  }

  async #work(): Promise<void> {
    for (let wish = this.#wishes.shift(); wish !== undefined; wish = this.#wishes.shift()) await wish();
    const { player } = this.#replayed;
    if (!this.#isPaused && !player.isEnded) {
      const began = this.#clock.now();
      const isEnough = (): boolean => this.#clock.now() - began > SLICE || this.#wishes.length > 0;
      const due = this.#pace === 0 ? Infinity : this.#anchorPlace + (began - this.#anchorAt) * this.#pace;
      await player.advance(due, isEnough);
      if (due - this.#replayed.clock.now() > LATE * Math.max(1, this.#pace)) this.#anchor(); // the machine cannot keep up: go on from here
      this.#tellNotes();
      if (player.isEnded) this.#tell('ended');
    }
    if (this.#clock.now() - this.#toldAt >= REGULAR) this.#tell('state');
  }

  #anchor(): void {
    this.#anchorAt = this.#clock.now();
    this.#anchorPlace = this.#replayed.clock.now();
  }

  async #seek(at: number): Promise<void> {
    const place = Math.min(Math.max(at, this.#run.about.began_s), this.#until);
    const { spin } = this.#run.placeAt(place) ?? { spin: NaN };
    const warmUp = spin > 0 ? Math.min(WARM_UP, Math.max(WARM_LEAST, WARM_TURNS / spin)) : WARM_UP;
    const from = Math.max(this.#run.about.began_s, place - warmUp);
    this.#origin = from > this.#run.about.began_s ? this.#run.placeAt(from + FIRST_SWEEP) : undefined;
    this.#isMute = true;
    const before = this.#replayed;
    this.#replayed = this.#start(from);
    void before.daemon.stop();
    this.#sweepTimes = [];
    await this.#replayed.player.advance(place, () => this.#isOver);
    this.#isMute = false;
    this.#nextNote = this.#notes.findIndex(({ at: time }) => time > place);
    if (this.#nextNote < 0) this.#nextNote = this.#notes.length;
    this.#tell('seeked');
    for (const feed of SHOWN) {
      const message = this.#newest.get(feed);
      if (message) this.#out.next(message);
    }
  }

  async #step(step: number): Promise<void> {
    this.#isPaused = true;
    if (step > 0) {
      this.#sweepsLeft = step;
      await this.#replayed.player.advance(Infinity, () => this.#isOver || this.#sweepsLeft <= 0);
      return;
    }
    const back = this.#sweepTimes.at(step - 1) ?? this.#replayed.clock.now() + step * 0.1;
    await this.#seek(back);
  }

  /** Marks and what else the run tells of its day, as they are passed. */
  #tellNotes(): void {
    const now = this.#replayed.clock.now();
    for (let note = this.#notes[this.#nextNote]; note?.at <= now; note = this.#notes[++this.#nextNote])
      this.#tell(note.kind, note.text, note.at);
  }

  #tell(what: string, text = '', at = NaN): void {
    this.#toldAt = this.#clock.now();
    const { about } = this.#run;
    const { player, clock } = this.#replayed;
    const sequence = (this.#sequences.get(Feed.FEED_RUN) ?? 0) + 1;
    this.#sequences.set(Feed.FEED_RUN, sequence);
    const now = clock.now();
    const state = player.isEnded
      ? RunState.RUN_STATE_ENDED
      : this.#isPaused
        ? RunState.RUN_STATE_PAUSED
        : RunState.RUN_STATE_PLAYING;
    const run: NonNullable<ServerMessage['run']> = {
      ...{
        run: about.name,
        what,
        atS: Number.isNaN(at) ? now : at,
        text,
        state,
        fromS: about.began_s,
        toS: this.#until,
        pace: this.#pace,
      },
      ...{ bytes: this.#size, pinned: about.pinned, title: about.title },
    };
    const message = new FeedMessage(Feed.FEED_RUN, { sequence, timeS: now, sentS: now, run });
    const standing = new FeedMessage(Feed.FEED_RUN, {
      sequence,
      timeS: now,
      sentS: now,
      run: { ...run, what: 'state', text: '', atS: now },
    });
    this.#newest.set(Feed.FEED_RUN, standing); // who comes later learns how it is, not what happened before
    this.#out.next(message);
  }
}

const SWEEPS_KEPT = 100;
const LATE = 0.5; // s behind at 1x after which the pace begins anew
/** Told anew after a seek, so that a client sees where it is. */
const SHOWN = [
  Feed.FEED_CLEARANCE,
  Feed.FEED_HEALTH,
  Feed.FEED_SWEEP,
  Feed.FEED_MOTION,
  Feed.FEED_MOVERS,
  Feed.FEED_SHAPES,
];

interface Pose {
  readonly x: number;
  readonly y: number;
  readonly heading: number;
}

/** @returns the message with its pose since the run began, where it was counted from `origin`. */
function placed(made: FeedMessage, motion: NonNullable<ServerMessage['motion']>, origin: Pose): FeedMessage {
  const c = Math.cos(origin.heading);
  const s = Math.sin(origin.heading);
  const [x, y] = [motion.xM ?? 0, motion.yM ?? 0];
  const [xx = 0, xy = 0, xh = 0, yy = 0, yh = 0, hh = 0] = motion.covariance ?? [];
  const moved = {
    ...motion,
    xM: origin.x + c * x - s * y,
    yM: origin.y + s * x + c * y,
    headingRad: wrapAngle(origin.heading + (motion.headingRad ?? 0)),
    covariance: [
      ...[c * c * xx - 2 * c * s * xy + s * s * yy, c * s * (xx - yy) + (c * c - s * s) * xy, c * xh - s * yh],
      ...[s * s * xx + 2 * c * s * xy + c * c * yy, s * xh + c * yh, hh],
    ],
  };
  return new FeedMessage(made.feed, { ...made.message, motion: moved }, made.urgent);
}
