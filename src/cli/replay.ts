import { type Observable, Subject } from 'rxjs';
import type { Config } from '../config/config.js';
import { loadSettings } from '../config/load.js';
import type { Clock } from '../core/clock.js';
import { Fault, type FaultCode } from '../core/fault.js';
import type { Layout } from '../device/layouts/layout.js';
import { openLink } from '../device/link.js';
import { HEALTH } from '../health/health.js';
import { Feed, type ServerMessage } from '../messages/codec.js';
import { leeway } from '../messages/gen/leeway.js';
import { type Daemon, startDaemon } from '../pipeline/daemon.js';
import { FeedMessage } from '../pipeline/feedMessage.js';
import { type Request, readRequest } from '../pipeline/feeds.js';
import { sizeOf } from '../runs/folder.js';
import { Player } from '../runs/player.js';
import { ReplayClock } from '../runs/replayClock.js';
import { ReplayPort } from '../runs/replayPort.js';
import type { RunFile } from '../runs/runFile.js';
import { clearanceSetting, helloFacts, perceptionSetting } from './compose.js';
import { sensorLayout } from './sensorLayout.js';
import { SweepLink } from './sweepLink.js';

const { RunState } = leeway.v1;
const SILENT = { info: () => {}, warn: () => {} };
const WARM_UP = 1.2; // s played before the place that is sought: start rules take under 1 s at 4 revolutions/s and more
/** Lets all promises that are settled run on: a turn of the event loop. */
const settle = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));

/** How a run is played again. */
export interface ReplaySettings {
  readonly config: Config;
  readonly layout: Layout;
}

/**
 * Settings for a run: those of the day, over them the file and each `KEY=VALUE`.
 * @throws {Fault} of the configuration and the layout.
 */
export function replaySettings(run: RunFile, file: string | undefined, sets: readonly string[]): ReplaySettings {
  const { config } = loadSettings(file, sets, run.about.settings);
  const then = loadSettings(undefined, [], run.about.settings).config.sensor;
  const now = config.sensor;
  const isSame =
    then.layout === now.layout &&
    then.baud === now.baud &&
    JSON.stringify(then.layoutOptions) === JSON.stringify(now.layoutOptions);
  // the layout itself is in the run: its file may be gone
  return { config, layout: isSame && run.about.layout ? (run.about.layout as Layout) : sensorLayout(now) };
}

/** The daemon's senses on a run, in the time of its day: one start of them, to be played on. */
export class Replayed {
  readonly clock: ReplayClock;
  readonly daemon: Daemon;
  readonly player: Player;

  /** @param from s, Clock: begin there instead of at the beginning. @param sequences of each feed, messages that went before. */
  constructor(run: RunFile, settings: ReplaySettings, version: string, from?: number, sequences?: Map<number, number>) {
    const { config, layout } = settings;
    const { about } = run;
    this.clock = new ReplayClock(from ?? about.began_s);
    const port = new ReplayPort(about.port, true);
    const isSweeps = about.form === 'sweeps';
    const lines = new SweepLink(config);
    const link = isSweeps ? lines : openLink(port, layout, config.sensor, this.clock);
    this.daemon = startDaemon(
      {
        link,
        clearance: clearanceSetting(config),
        perception: perceptionSetting(config),
        hello: { ...helloFacts(config, version), source: 'run', rover: about.rover, run: about.name },
        clock: this.clock,
        log: SILENT,
        isLocked: isSweeps,
        ...(sequences && { sequences }),
      },
      (error) => {
        throw error;
      },
    );
    const hearers = { sweep: (line: string) => lines.take(line) };
    this.player = new Player({ run, clock: this.clock, port, hearers, settle, ...(from !== undefined && { from }) });
  }
}

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
  #isMute = false;
  /** A step waits for so many sweeps. */
  #sweepsLeft = 0;
  #sweepTimes: number[] = [];
  #anchorAt = NaN;
  #anchorPlace = NaN;
  #isWorking = false;
  #wishes: Array<() => Promise<void>> = [];
  #isOver = false;
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

  #take(message: FeedMessage): void {
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
    const from = Math.max(this.#run.about.began_s, place - WARM_UP);
    this.#isMute = true;
    const before = this.#replayed;
    this.#replayed = this.#start(from);
    void before.daemon.stop();
    this.#sweepTimes = [];
    await this.#replayed.player.advance(place, () => this.#isOver);
    this.#isMute = false;
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

  #tell(what: string): void {
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
        atS: now,
        text: '',
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
      run: { ...run, what: 'state' },
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
